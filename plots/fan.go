package plots

import (
	"math"
	"slices"
	"strconv"
)

// FanData is the curve of a fan and where the shop works on it.
type FanData struct {
	Title        string // "" prints "Fan and duct"
	FlowUnit     string // for example "m3/h"
	PressureUnit string // for example "Pa"
	// Fan is the pressure that the collector offers to the duct, by rising
	// flow, two points at least: straight lines join them.
	Fan      []XY
	FanLabel string // "" prints "fan"
	// Clean is a second curve, for example with the filter clean; nil for none.
	Clean      []XY
	CleanLabel string // "" prints "fan, filter clean"
	Points     []OperatingPoint
}

// OperatingPoint is one state of the shop at work.
type OperatingPoint struct {
	State    string // name, must not be empty
	Flow     float64
	Pressure float64
	// System is the pressure that the duct needs in this state, by rising
	// flow; nil draws the square law through the operating point.
	System []XY
}

// Up to this many states are named at their points. More, or points that
// cover each other, are numbered, with the key at the right.
const mostNamed = 8

// FanChart draws pressure (y) against flow (x): the fan, the duct in each
// state, and the points where they meet. More than eight states, or points that
// cover each other, are numbered and listed at the right; the points of one
// spot share a label such as "2, 5–7". It fails on empty or not finite data, a
// curve that does not rise in flow, and a state without a name.
func FanChart(d FanData) (*Figure, error) {
	d.defaults()
	if err := d.check(); err != nil {
		return nil, err
	}
	numbered := len(d.Points) > mostNamed
	p, f := d.sheet(numbered)
	if groups := d.groups(f); !numbered && len(groups) < len(d.Points) {
		numbered = true
		p, f = d.sheet(numbered)
	}
	d.draw(p, f, numbered)
	if numbered {
		d.key(p, f.box.x1+keyGap, f.box.y1+12)
	}
	return p.figure(d.Title), nil
}

// sheet sets head and axes, with room for the key at the right when the
// states are numbered.
func (d FanData) sheet(numbered bool) (*pen, frame) {
	p := &pen{w: pageWidth, h: pageHeight}
	right := p.w - edge
	if numbered {
		right -= d.keyWidth() + keyGap - 10
		// A long key makes the page taller.
		trial := pen{w: p.w}
		head := edge - trial.head(d.Title, d.legend())
		p.h = math.Max(p.h, head+keyRow*float64(len(d.Points)+1)+2*edge)
	}
	flows, pressures := []float64{0}, []float64{0}
	for _, v := range slices.Concat(d.Fan, d.Clean, d.working()) {
		flows, pressures = append(flows, v.X), append(pressures, v.Y)
	}
	pressures = append(pressures, 1.05*slices.Max(pressures))
	outer := rect{edge, edge, right, p.head(d.Title, d.legend())}
	return p, p.axes(outer, over(named("flow", d.FlowUnit), flows, true, 8),
		over(named("pressure at the duct", d.PressureUnit), pressures, true, 8))
}

func (d *FanData) defaults() {
	for _, t := range []struct {
		text *string
		is   string
	}{{&d.Title, "Fan and duct"}, {&d.FanLabel, "fan"}, {&d.CleanLabel, "fan, filter clean"}} {
		if *t.text == "" {
			*t.text = t.is
		}
	}
}

func (d FanData) check() error {
	c := &check{picture: "FanChart"}
	c.curve(d.Fan, "Fan", false)
	c.curve(d.Clean, "Clean", true)
	for i, pt := range d.Points {
		if pt.State == "" {
			c.add(ErrEmpty, "no name", "Points[%d].State", i)
		}
		c.least(pt.Flow, "Points[%d].Flow", i)
		c.least(pt.Pressure, "Points[%d].Pressure", i)
		c.curve(pt.System, "Points["+strconv.Itoa(i)+"].System", true)
	}
	return c.err()
}

// curve checks a line of at least two points with rising x; an optional line
// may be nil.
func (c *check) curve(line []XY, field string, optional bool) {
	if optional && line == nil {
		return
	}
	if len(line) < 2 {
		c.add(ErrEmpty, "a curve needs two points", "%s", field)
	}
	for i, v := range line {
		c.finite(v.X, "%s[%d].X", field, i)
		c.finite(v.Y, "%s[%d].Y", field, i)
		if i > 0 && !(v.X > line[i-1].X) {
			c.add(ErrValue, "does not rise", "%s[%d].X", field, i)
		}
	}
}

func (d FanData) working() []XY {
	out := make([]XY, len(d.Points))
	for i, pt := range d.Points {
		out[i] = XY{pt.Flow, pt.Pressure}
	}
	return out
}

var (
	cleanLine  = stroke{width: 1.3, color: navy, dash: []float64{6, 3}}
	systemLine = stroke{width: 0.7, color: slate}
)

func (d FanData) legend() []entry {
	out := []entry{lineEntry(mainLine, d.FanLabel)}
	if d.Clean != nil {
		out = append(out, lineEntry(cleanLine, d.CleanLabel))
	}
	if len(d.Points) > 0 {
		out = append(out, lineEntry(systemLine, "duct in one state"),
			markEntry(disc, ink, "operating point"))
	}
	return out
}

// system returns the curve of the duct: as given, or the square law
// p = P (q/Q)² through the operating point, a little beyond it.
func (pt OperatingPoint) system() []XY {
	if pt.System != nil {
		return pt.System
	}
	const steps, beyond = 24, 1.12
	var out []XY
	for i := range steps + 1 {
		x := beyond * float64(i) / steps
		out = append(out, XY{x * pt.Flow, pt.Pressure * x * x})
	}
	return out
}

func (d FanData) draw(p *pen, f frame, numbered bool) {
	seek := placer{area: f.box.grow(-2)}
	for _, pt := range d.Points {
		if pt.Flow > 0 {
			seek.faint = append(seek.faint, p.curve(f, systemLine, pt.system())...)
		}
	}
	if d.Clean != nil {
		seek.lines = append(seek.lines, p.curve(f, cleanLine, d.Clean)...)
	}
	seek.lines = append(seek.lines, p.curve(f, mainLine, d.Fan)...)
	for _, pt := range d.Points {
		at := f.at(pt.Flow, pt.Pressure)
		p.mark(disc, at, 3, ink)
		seek.take(around(at, 3))
	}
	for _, group := range d.groups(f) {
		first := d.Points[group[0]]
		text, face := first.State, smallText
		if numbered {
			text, face = numbers(group), smallBold
		}
		p.label(&seek, face, f.at(first.Flow, first.Pressure), 3, text)
	}
}
