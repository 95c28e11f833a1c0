package shopfile

import (
	"slices"
	"strings"

	"wyewright/network"
	"wyewright/network/units"
)

// Place says what kind of place a reading was taken at.
type Place uint8

// Kinds of place.
const (
	AtRun       Place = iota // in a run
	AtPort                   // in the port of a tool
	AtPoint                  // at a joint
	AtCollector              // at the inlet of the collector
)

// Quantity says what was read.
type Quantity uint8

// Quantities.
const (
	Velocity Quantity = iota // m/s, as the method gives it
	Flow                     // m³/s
	Suction                  // static pressure below the room, Pa, positive
	Current                  // of the collector's motor, A: only its changes say something
)

// Bound says how a reading binds the true value.
type Bound uint8

// Bounds.
const (
	Exact   Bound = iota
	AtLeast       // the meter was over its range: ">30 m/s"
	AtMost        // the meter was under its range: "<2 m/s"
)

// Method says how air speed was read.
type Method uint8

// Methods.
const (
	NoMethod Method = iota // not an air speed, or not said
	Centre                 // one point on the centre line
	Traverse               // points across the section: the mean
	Mouth                  // at the mouth of a hose pulled off the machine
)

// methodWords are the methods as files spell them, in the order of Method.
var methodWords = []string{"", "centre", "traverse", "hose mouth"}

// String returns the word a file uses for the method.
func (m Method) String() string { return methodWords[m] }

// Reading is one measured value with what was running when it was taken.
type Reading struct {
	// State is the operating state: one of the file's, or "none" (all gates
	// shut), or tools joined by plus signs. Its Collector is the one in place.
	State network.State
	// Place and Name say where: a run, a tool (Port is the index of its port),
	// a point or the collector.
	Place    Place
	Name     string
	Port     int
	Quantity Quantity
	// Value is in SI: m/s, m³/s, Pa of suction, or A. Of a traverse it is the
	// mean of Points, m/s; of a velocity pressure the speed that it stands for
	// in the air of the shop.
	Value  float64
	Points []float64
	// Distance from the upstream end of the run, where Along says it is known.
	Distance units.Length
	Along    bool
	// Date of the reading, 2026-03-14; empty where the file does not say.
	Date       string
	Bound      Bound
	Method     Method
	Instrument string
	Note       string
	// Text is the value as it was written; File and Line say where.
	Text string
	File string
	Line int
}

// readingKeys are the columns of a readings file and the keys of an inline
// reading.
var readingKeys = []string{"state", "place", "quantity", "value", "method", "instrument", "collector", "distance", "date", "note"}

// quantityWords are the quantities as files spell them.
var quantityWords = []string{"velocity", "flow", "suction", "static pressure", "velocity pressure", "current"}

// readings reads the section of the shop file: a path or a list.
func (d *decoder) readings(n *node) {
	switch {
	case n == nil:
	case n.kind == scalar:
		d.file.ReadingsPath, _ = d.text(n)
	default:
		for _, item := range d.items(n) {
			if f := d.fields(item, readingKeys...); f != nil {
				d.reading(f)
			}
		}
	}
}

// reading checks one reading and keeps it.
func (d *decoder) reading(f *fields) {
	before := len(d.faults)
	r := Reading{File: d.name, Line: f.n.line}
	if n := f.need("state", "none, a state of the file, or the tools that are open, joined by +"); n != nil {
		r.State = d.readingState(n)
	}
	if n := f.need("place", "a run, a tool, a point, or the collector"); n != nil {
		d.readingPlace(n, &r)
	}
	if w, ok := d.word(f.at("method"), methodWords[1:]...); ok {
		r.Method = Method(slices.Index(methodWords, w))
	}
	if w, ok := d.word(f.need("quantity", strings.Join(quantityWords, ", ")), quantityWords...); ok {
		r.Quantity = quantityOf(w)
		if n := f.need("value", `with its unit: "12.4 m/s", or ">30 m/s" over the range of the meter`); n != nil {
			d.readingValue(n, w, &r)
		}
		if len(d.faults) == before {
			d.readable(f, w, &r)
		}
	}
	d.when(f, &r)
	if n := f.at("collector"); n != nil && d.knownCollector(n) {
		r.State.Collector = n.text
	}
	d.atCollector(f, &r)
	d.powered(f, &r)
	d.notYet(f, &r)
	if s, ok := d.text(f.at("instrument")); ok {
		r.Instrument = s
	}
	if s, ok := d.text(f.at("note")); ok {
		r.Note = s
	}
	if len(d.faults) == before {
		d.file.Readings = append(d.file.Readings, r)
	}
}

// notYet reports a reading of a tool that comes later.
func (d *decoder) notYet(f *fields, r *Reading) {
	for _, l := range d.file.Later {
		if r.Name == l.Tool || slices.Contains(r.State.Running, l.Tool) || slices.Contains(l.Runs, r.Name) {
			d.fault(f.n, "take the reading out, or the mark later from the tool", "%q comes later: it cannot have been read", l.Tool)
		}
	}
}

// atCollector checks the collector that a reading is at by its name, and puts it
// in place where another would be at its point.
func (d *decoder) atCollector(f *fields, r *Reading) {
	if r.Place != AtCollector || r.Name == isCollector || r.Name == "" {
		return
	}
	if in := f.at("collector"); in != nil && in.text != r.Name {
		d.fault(in, "leave the collector out, or name the same one", "a reading at %q with collector %q in place", r.Name, in.text)
	}
	if slices.Contains(r.State.Off, r.Name) {
		d.fault(f.at("place"), "name the collector that runs", "%q stands still in state %q", r.Name, r.State.Name)
	}
	all := d.file.Spec.Collectors
	own := slices.IndexFunc(all, func(c network.Collector) bool { return c.ID == r.Name })
	in := slices.IndexFunc(all, func(c network.Collector) bool { return own >= 0 && c.At == all[own].At })
	for i, c := range all {
		if own >= 0 && c.ID == r.State.Collector && c.At == all[own].At {
			in = i
		}
	}
	if in != own {
		r.State.Collector = r.Name
	}
}

// readingState finds the state a reading was taken in.
func (d *decoder) readingState(n *node) network.State {
	name, ok := d.text(n)
	if !ok {
		return network.State{}
	}
	for _, s := range d.file.States {
		if s.Name == name {
			return s
		}
	}
	if name == "none" {
		return network.State{Name: name}
	}
	s := network.State{Name: name}
	var known []string
	for _, st := range d.file.States {
		known = append(known, st.Name)
	}
	for part := range strings.SplitSeq(name, "+") {
		part = strings.TrimSpace(part)
		switch def := d.named[part]; def.what {
		case isTool:
			s.Running = append(s.Running, part)
		case isBleed:
			s.Open = append(s.Open, part)
		default:
			known = append(known, d.known(isTool, isBleed)...)
			slices.Sort(known)
			d.fault(n, didYouMean(part, slices.Compact(known)), "state %q: there is no state or tool named %q", name, part)
			return s
		}
	}
	return s
}

// readingPlace finds the place of a reading. A tool of several ports is named
// with the point of one: "saw at PT".
func (d *decoder) readingPlace(n *node, r *Reading) {
	name, ok := d.text(n)
	if !ok {
		return
	}
	r.Name = name
	if name == isCollector {
		r.Place = AtCollector
		return
	}
	tool, point, split := name, "", false
	if d.named[name].what == "" {
		tool, point, split = strings.Cut(name, " at ")
	}
	switch d.named[tool].what {
	case isRun:
		r.Place = AtRun
	case isPoint:
		r.Place = AtPoint
		d.ducted(n, tool)
	case isCollector:
		r.Place = AtCollector
	case isTool:
		d.readingPort(n, tool, point, split, r)
		return
	default:
		d.refer(n, name, isRun, isTool, isPoint, isCollector)
		return
	}
	if split {
		d.refer(n, name, isRun, isTool, isPoint, isCollector)
	}
}

// readingPort finds the port of a tool.
func (d *decoder) readingPort(n *node, tool, point string, split bool, r *Reading) {
	r.Place, r.Name = AtPort, tool
	for _, t := range d.file.Spec.Tools {
		if t.ID != tool {
			continue
		}
		var points []string
		for i, p := range t.Ports {
			points = append(points, p.At)
			if split && p.At == point {
				r.Port = i
				return
			}
		}
		switch {
		case split:
			d.fault(n, "its ports are at: "+list(points, 12), "tool %q has no port at %q", tool, point)
		case len(points) > 1:
			d.fault(n, "say which: "+tool+" at "+points[0], "tool %q has %d ports", tool, len(points))
		}
		return
	}
}
