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

// Up to this many states are named at their points; more are numbered, with
// the key at the right.
const mostNamed = 8

// FanChart draws pressure (y) against flow (x): the fan, the duct in each
// state, and the points where they meet. It fails on empty or not finite
// data, a curve that does not rise in flow, and a state without a name.
func FanChart(d FanData) (*Figure, error) {
	d.defaults()
	if err := d.check(); err != nil {
		return nil, err
	}
	p := &pen{w: pageWidth, h: pageHeight}
	top := p.head(d.Title, d.legend())
	outer := rect{edge, edge, p.w - edge, top}
	numbered := len(d.Points) > mostNamed
	if numbered {
		outer.x1 -= d.keyWidth() + 6
		need := 13*float64(len(d.Points)+1) + edge + 34
		if grow := need - top; grow > 0 { // a long key makes the page taller
			p.h += grow
			p.ops = nil
			outer.y1 = p.head(d.Title, d.legend())
		}
	}
	flows, pressures := []float64{0}, []float64{0}
	for _, v := range slices.Concat(d.Fan, d.Clean, d.working()) {
		flows, pressures = append(flows, v.X), append(pressures, v.Y)
	}
	pressures = append(pressures, 1.05*slices.Max(pressures))
	f := p.axes(outer, over(named("flow", d.FlowUnit), flows, true, 8),
		over(named("pressure at the duct", d.PressureUnit), pressures, true, 8))
	d.draw(p, f, numbered)
	if numbered {
		d.key(p, outer.x1+8, outer.y1)
	}
	return p.figure(d.Title), nil
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
	for i, pt := range d.Points {
		text, face := pt.State, smallText
		if numbered {
			text, face = strconv.Itoa(i+1), smallBold
		}
		p.label(&seek, face, f.at(pt.Flow, pt.Pressure), 3, text)
	}
}

// Widths of the columns of the key: number, flow, pressure.
const keyNumber, keyValue, keyNameMost = 16.0, 36.0, 110.0

func (d FanData) keyName() float64 {
	wide := smallText.width("state")
	for _, pt := range d.Points {
		wide = math.Max(wide, smallText.width(pt.State))
	}
	return math.Min(wide, keyNameMost)
}

func (d FanData) keyWidth() float64 { return keyNumber + d.keyName() + 2*keyValue }

// key prints the numbered states with their flow and pressure.
func (d FanData) key(p *pen, x, top float64) {
	name := d.keyName()
	flowEnd, pressureEnd := x+keyNumber+name+keyValue, x+keyNumber+name+2*keyValue
	row := func(y float64, n, state, flow, pressure string, face typeface) {
		p.text(smallBold, n, xy{x + keyNumber - 5, y}, 1, 0.5)
		p.text(face, face.fit(state, name), xy{x + keyNumber, y}, 0, 0.5)
		p.text(face, face.fit(flow, keyValue-4), xy{flowEnd, y}, 1, 0.5)
		p.text(face, face.fit(pressure, keyValue-4), xy{pressureEnd, y}, 1, 0.5)
	}
	var most XY
	for _, v := range d.working() {
		most = XY{math.Max(most.X, v.X), math.Max(most.Y, v.Y)}
	}
	y := top - 6
	row(y, "", "state", d.FlowUnit, d.PressureUnit, quietText)
	p.line(hairline, xy{x, y - 7}, xy{pressureEnd, y - 7})
	for i, pt := range d.Points {
		y -= 13
		row(y-1, strconv.Itoa(i+1), pt.State, number(pt.Flow, grain(most.X)), number(pt.Pressure, grain(most.Y)), smallText)
	}
}
