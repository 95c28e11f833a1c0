package plots

import (
	"math"
	"strconv"
)

// PlanData is the shop as drawn: ducts, tools and collector in space.
type PlanData struct {
	Title string // "" prints "Plan of the shop"
	Unit  string // of the coordinates, for example "m"
	Runs  []PlanRun
	Tools []PlanMark
	// Collector is drawn as a box.
	Collector PlanMark
	Bleeds    []PlanMark
	Joints    [][3]float64
}

// PlanRun is one duct.
type PlanRun struct {
	Name string       // must not be empty
	Path [][3]float64 // at least two places: x, y in plan, z up
	// Diameter, in any one unit, sets the width of the line.
	Diameter float64
	Hose     bool
	Changed  bool
	// Label stands beside the run, for example "125 → 160 mm"; "" for none.
	Label string
}

// PlanMark is a named place.
type PlanMark struct {
	Name string
	At   [3]float64
}

// PlanView draws the shop from above: changed ducts thick and dark, kept ones
// thin and grey, hose dashed. It fails on empty or not finite data.
func PlanView(d PlanData) (*Figure, error) {
	if d.Title == "" {
		d.Title = "Plan of the shop"
	}
	return d.view(func(p [3]float64) xy { return xy{p[0], p[1]} })
}

// Isometric draws the shop in isometric view: x to the right below, y to the
// right above, z up, all to one scale.
func Isometric(d PlanData) (*Figure, error) {
	if d.Title == "" {
		d.Title = "The shop in isometric view"
	}
	c, s := math.Cos(math.Pi/6), math.Sin(math.Pi/6)
	return d.view(func(p [3]float64) xy { return xy{(p[0] + p[1]) * c, (p[1]-p[0])*s + p[2]} })
}

func (d PlanData) check() error {
	var c check
	if len(d.Runs) == 0 {
		c.add(ErrEmpty, "nothing to draw", "Runs")
	}
	place := func(p [3]float64, field string, i int) {
		for _, v := range p {
			c.finite(v, "%s[%d]", field, i)
		}
	}
	for i, r := range d.Runs {
		if len(r.Path) < 2 {
			c.add(ErrEmpty, "a run needs two places", "Runs[%d].Path", i)
		}
		c.finite(r.Diameter, "Runs[%d].Diameter", i)
		for _, p := range r.Path {
			place(p, "Runs", i)
		}
	}
	for i, m := range d.Tools {
		place(m.At, "Tools", i)
	}
	for i, m := range d.Bleeds {
		place(m.At, "Bleeds", i)
	}
	for i, p := range d.Joints {
		place(p, "Joints", i)
	}
	place(d.Collector.At, "Collector", 0)
	return c.err()
}

// Widths of duct lines in points, for the smallest and the largest diameter.
const thinDuct, thickDuct = 1.2, 4.5

func (d PlanData) width(r *PlanRun) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, x := range d.Runs {
		lo, hi = math.Min(lo, x.Diameter), math.Max(hi, x.Diameter)
	}
	if hi <= lo {
		return (thinDuct + thickDuct) / 2
	}
	return thinDuct + (thickDuct-thinDuct)*(r.Diameter-lo)/(hi-lo)
}

func (d PlanData) stroke(r *PlanRun) stroke {
	s := stroke{width: d.width(r), color: slate}
	if r.Changed {
		s.color = navy
	}
	if r.Hose {
		s.dash = []float64{3 + s.width, 2 + s.width/2}
	}
	return s
}

// legend lists only what the picture has.
func (d PlanData) legend() []entry {
	var kept, changed, hose bool
	for _, r := range d.Runs {
		kept, changed, hose = kept || !r.Changed, changed || r.Changed, hose || r.Hose
	}
	var out []entry
	add := func(use bool, e entry) {
		if use {
			out = append(out, e)
		}
	}
	add(changed, lineEntry(stroke{width: 3.2, color: navy}, "changed"))
	add(kept, lineEntry(stroke{width: 3.2, color: slate}, "kept"))
	add(hose, lineEntry(stroke{width: 2, color: slate, dash: []float64{5, 3}}, "hose"))
	add(len(d.Tools) > 0, markEntry(openSquare, ink, "tool"))
	add(true, markEntry(square, ink, "collector"))
	add(len(d.Bleeds) > 0, markEntry(triangle, rust, "bleed inlet"))
	return out
}

// view draws the shop through a projection.
func (d PlanData) view(project func([3]float64) xy) (*Figure, error) {
	if err := d.check(); err != nil {
		return nil, err
	}
	lo, hi := xy{math.Inf(1), math.Inf(1)}, xy{math.Inf(-1), math.Inf(-1)}
	see := func(p [3]float64) {
		q := project(p)
		lo.X, lo.Y = math.Min(lo.X, q.X), math.Min(lo.Y, q.Y)
		hi.X, hi.Y = math.Max(hi.X, q.X), math.Max(hi.Y, q.Y)
	}
	for _, r := range d.Runs {
		for _, p := range r.Path {
			see(p)
		}
	}
	for _, m := range append(append([]PlanMark{d.Collector}, d.Tools...), d.Bleeds...) {
		see(m.At)
	}
	const rim, foot = 46.0, 26.0 // room for labels about the shop and for the bar
	wide, tall := math.Max(hi.X-lo.X, 1e-9), math.Max(hi.Y-lo.Y, 1e-9)
	scale := (pageWidth - 2*(edge+rim)) / wide
	scale = math.Min(scale, 1.3*pageHeight/tall)
	p := &pen{w: pageWidth, h: pageHeight}
	head := 22 + 12*float64(legendRows(d.legend(), pageWidth-2*edge))
	p.h = 2*edge + head + foot + 2*rim*0.8 + tall*scale
	top := p.head(d.Title, d.legend())
	box := rect{edge, edge + foot, p.w - edge, top}
	off := xy{box.centre().X - scale*(lo.X+hi.X)/2, box.centre().Y - scale*(lo.Y+hi.Y)/2}
	to := func(q [3]float64) xy { v := project(q); return xy{off.X + scale*v.X, off.Y + scale*v.Y} }
	d.draw(p, &placer{area: box}, to)
	d.bar(p, scale)
	return p.figure(d.Title), nil
}

// draw sets ducts, marks and labels.
func (d PlanData) draw(p *pen, seek *placer, to func([3]float64) xy) {
	line := func(r *PlanRun) []xy {
		out := make([]xy, len(r.Path))
		for i, q := range r.Path {
			out[i] = to(q)
		}
		return out
	}
	for _, changed := range []bool{false, true} { // changed ducts lie on top
		for i := range d.Runs {
			if r := &d.Runs[i]; r.Changed == changed {
				p.line(d.stroke(r), line(r)...)
				seek.avoid(line(r))
			}
		}
	}
	for _, j := range d.Joints {
		p.circle(&ink, stroke{}, to(j), 1.6)
		seek.take(around(to(j), 2))
	}
	mark := func(s shape, m PlanMark, r float64) {
		c := ink
		if s == triangle {
			c = rust
		}
		p.mark(s, to(m.At), r, c)
		seek.take(around(to(m.At), r))
	}
	mark(square, d.Collector, 6)
	for _, t := range d.Tools {
		mark(openSquare, t, 4)
	}
	for _, b := range d.Bleeds {
		mark(triangle, b, 4.5)
	}
	p.label(seek, boldText, to(d.Collector.At), 6, d.Collector.Name)
	for _, t := range d.Tools {
		p.label(seek, smallText, to(t.At), 4, t.Name)
	}
	for _, b := range d.Bleeds {
		p.label(seek, smallText, to(b.At), 4.5, b.Name)
	}
	for i := range d.Runs {
		if r := &d.Runs[i]; r.Label != "" {
			p.label(seek, smallBold, middle(line(r)), d.width(r)/2+1, r.Label)
		}
	}
}

// middle is the place half way along the longest leg of a line.
func middle(line []xy) xy {
	best, at := -1.0, line[0]
	for i := 1; i < len(line); i++ {
		if l := dist(line[i-1], line[i]); l > best {
			best, at = l, line[i-1].toward(line[i], 0.5)
		}
	}
	return at
}

// bar draws the scale bar at the foot.
func (d PlanData) bar(p *pen, scale float64) {
	length := niceStep(120/scale, 1)
	x0, y := edge+6, edge+12.0
	x1 := x0 + length*scale
	p.line(axisLine, xy{x0, y}, xy{x1, y})
	p.line(axisLine, xy{x0, y - 3}, xy{x0, y + 3})
	p.line(axisLine, xy{x1, y - 3}, xy{x1, y + 3})
	p.text(smallText, strconv.FormatFloat(length, 'g', 4, 64)+" "+d.Unit, xy{x1 + 5, y}, 0, 0.5)
}
