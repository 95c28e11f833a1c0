package shopfile

import (
	"slices"
	"strings"

	"wyewright/network"
	"wyewright/network/units"
)

// Fitted is what readings said of the shop beyond what the rest of the file
// says: factors on it, by name. A name that is missing means 1.
type Fitted struct {
	// Friction is by family of hose, Roughness by family of rigid duct; both
	// hold for new duct of the family too.
	Friction, Roughness map[string]float64
	// Entry is by tool: on the entry loss of all its ports.
	Entry map[string]float64
	// Leaks is by leak: on its area.
	Leaks map[string]float64
	// ShutGates is on the free area of every shut gate; 0 means 1.
	ShutGates float64
	// FanSpeed and Filter are by collector.
	FanSpeed, Filter map[string]float64
}

// fittedKeys are the keys of the section.
var fittedKeys = []string{"friction", "roughness", "entry", "leaks", "shut gates", "fan speed", "filter"}

// maxFitted bounds a factor: what is farther off is another thing than the file
// says.
const maxFitted = 20

// fitted reads the section of that name. It is read before the parts it works
// on; duct of the catalogue takes it in as it is made.
func (d *decoder) fitted(n *node) {
	f := d.fields(n, fittedKeys...)
	if f == nil {
		return
	}
	out := &d.file.Fitted
	hoses, rigid := d.kinds()
	var tools, collectors, leaks []string
	for _, l := range d.file.Spec.Leaks {
		leaks = append(leaks, l.ID)
	}
	for _, t := range d.file.Spec.Tools {
		tools = append(tools, t.ID)
	}
	for _, c := range d.file.Spec.Collectors {
		collectors = append(collectors, c.ID)
	}
	out.Friction = d.factors(f.at("friction"), hoses)
	out.Roughness = d.factors(f.at("roughness"), rigid)
	out.Entry = d.factors(f.at("entry"), tools)
	out.Leaks = d.factors(f.at("leaks"), leaks)
	out.FanSpeed = d.factors(f.at("fan speed"), collectors)
	out.Filter = d.factors(f.at("filter"), collectors)
	if v, ok := d.factor(f.at("shut gates")); ok {
		out.ShutGates = max(leastShut, v)
	}
	for _, name := range collectors {
		if by(out.FanSpeed, name) == 0 {
			d.fault(f.at("fan speed"), "", "the fan of %q would stand still", name)
		}
	}
	if len(d.faults) == 0 {
		out.apply(&d.file.Spec) // the decoder's own
	}
}

// kinds are the families of hose and of rigid duct that the catalogue knows.
func (d *decoder) kinds() (hoses, rigid []string) {
	for _, name := range d.catalog.Names() {
		if fam, ok := d.catalog.Family(name); ok && fam.Make.Hose() {
			hoses = append(hoses, name)
		} else {
			rigid = append(rigid, name)
		}
	}
	return hoses, rigid
}

// factors reads factors by name.
func (d *decoder) factors(n *node, known []string) map[string]float64 {
	f := d.fields(n, known...)
	if f == nil {
		return nil
	}
	out := map[string]float64{}
	for _, name := range known {
		if v, ok := d.factor(f.at(name)); ok {
			out[name] = v
		}
	}
	return out
}

func (d *decoder) factor(n *node) (float64, bool) {
	v, ok := d.number(n, 0)
	if ok && v > maxFitted {
		d.fault(n, "a factor on what the file says; 1 leaves it as it is", "%s %q: above %d", n.label, n.text, maxFitted)
		return 0, false
	}
	return v, ok
}

// by is a factor by name, 1 where there is none.
func by(m map[string]float64, name string) float64 {
	if v, ok := m[name]; ok {
		return v
	}
	return 1
}

// shut is the factor on shut gates.
func (t *Fitted) shut() float64 {
	if t.ShutGates == 0 {
		return 1
	}
	return t.ShutGates
}

// make changes a piece of duct.
func (t *Fitted) make(m *network.Make) {
	if m.Hose() {
		m.Multiple = max(leastMultiple, m.Multiple*by(t.Friction, m.Family))
	} else {
		m.Roughness *= units.Length(by(t.Roughness, m.Family))
	}
}

// leastMultiple keeps hose a hose.
const leastMultiple = 1.001

// leastShut tells gates that shut tight from a factor that is missing.
const leastShut = 0.001

// Apply returns a shop with what was fitted in force; the one given stays.
func (t *Fitted) Apply(s network.Spec) network.Spec {
	s = cloneSpec(s)
	t.apply(&s)
	return s
}

// apply brings a shop as its file describes it to what was fitted.
func (t *Fitted) apply(s *network.Spec) {
	for i := range s.Runs {
		r := &s.Runs[i]
		for k := range r.Pieces {
			t.make(&r.Pieces[k].Make)
		}
		t.gate(&r.Gate)
	}
	for i := range s.Tools {
		for k := range s.Tools[i].Ports {
			p := &s.Tools[i].Ports[k]
			p.Entry *= by(t.Entry, s.Tools[i].ID)
			t.gate(&p.Gate)
		}
	}
	for i := range s.Leaks {
		s.Leaks[i].Area *= units.Area(by(t.Leaks, s.Leaks[i].ID))
	}
	for i := range s.Collectors {
		c := &s.Collectors[i]
		if v, ok := t.FanSpeed[c.ID]; ok {
			c.Spin(v)
		}
		c.Filter.Clean *= by(t.Filter, c.ID)
		c.Filter.Loaded *= by(t.Filter, c.ID)
	}
}

func (t *Fitted) gate(g **network.Gate) {
	if *g != nil {
		own := **g
		own.Leak *= units.Area(t.shut())
		*g = &own
	}
}

// Times is this and then another fit on top of it.
func (t *Fitted) Times(o *Fitted) Fitted {
	both := func(a, b map[string]float64) map[string]float64 {
		out := map[string]float64{}
		for name := range a {
			out[name] = a[name] * by(b, name)
		}
		for name := range b {
			out[name] = by(a, name) * b[name]
		}
		return out
	}
	return Fitted{Friction: both(t.Friction, o.Friction), Roughness: both(t.Roughness, o.Roughness), Entry: both(t.Entry, o.Entry), Leaks: both(t.Leaks, o.Leaks),
		ShutGates: t.shut() * o.shut(), FanSpeed: both(t.FanSpeed, o.FanSpeed), Filter: both(t.Filter, o.Filter)}
}

// Words lists the factors, "friction of hose × 0.969"; none for a shop that was
// not fitted.
func (t *Fitted) Words() []string {
	var out []string
	key := ""
	for _, line := range t.lines() {
		name, value, _ := strings.Cut(strings.TrimSpace(line), ": ")
		switch indent := len(line) - len(strings.TrimLeft(line, " ")); {
		case indent == 2 && value == "":
			key = strings.TrimSuffix(name, ":") + " of "
		case indent == 2:
			out = append(out, "leakage of "+name+" × "+value)
		case indent == 4:
			out = append(out, key+strings.Trim(name, `"`)+" × "+value)
		}
	}
	return out
}

// lines is the section as text.
func (t *Fitted) lines() []string {
	out := []string{"fitted:"}
	add := func(key string, m map[string]float64) {
		if len(m) == 0 {
			return
		}
		names := make([]string, 0, len(m))
		for name := range m {
			names = append(names, name)
		}
		slices.Sort(names)
		out = append(out, "  "+key+":")
		for _, name := range names {
			out = append(out, "    "+quoted(name)+": "+decimal(m[name]))
		}
	}
	add("friction", t.Friction)
	add("roughness", t.Roughness)
	add("entry", t.Entry)
	add("leaks", t.Leaks)
	if t.ShutGates != 0 && t.ShutGates != 1 {
		out = append(out, "  shut gates: "+decimal(t.ShutGates))
	}
	add("fan speed", t.FanSpeed)
	add("filter", t.Filter)
	if len(out) == 1 {
		return nil
	}
	return out
}
