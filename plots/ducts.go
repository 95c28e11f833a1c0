package plots

import (
	"math"
	"slices"
)

// Widths of duct lines in points: the least that shows, and that of the largest
// diameter. Between them the width is in proportion to the diameter.
const thinDuct, thickDuct = 1.0, 4.5

// diameters returns the smallest and the largest diameter.
func (d PlanData) diameters() (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, r := range d.Runs {
		lo, hi = math.Min(lo, r.Diameter), math.Max(hi, r.Diameter)
	}
	return lo, hi
}

// stroke is how a run is drawn.
func (d PlanData) stroke(r PlanRun) stroke {
	s := stroke{width: (thinDuct + thickDuct) / 2, color: slate}
	if lo, hi := d.diameters(); hi > lo {
		s.width = math.Max(thinDuct, thickDuct*r.Diameter/hi)
	}
	if r.Changed {
		s.color = navy
	}
	if r.Hose {
		s.dash = []float64{3 + s.width, 2 + s.width/2}
	}
	return s
}

// stroke is how a way is drawn.
func (w PlanWay) stroke() stroke {
	switch {
	case w.Old:
		return oldLine
	case w.Later:
		return nextLine
	}
	return wayLine
}

// joint draws the place where runs meet: light, to be seen on dark ducts.
func (p *pen) joint(at xy) {
	p.circle(&white, stroke{width: 0.8, color: ink}, at, jointMark)
}

// legend lists only what the picture has.
func (d PlanData) legend() []entry {
	var kept, changed, hose bool
	for _, r := range d.Runs {
		kept, changed, hose = kept || !r.Changed, changed || r.Changed, hose || r.Hose
	}
	word := "kept"
	if !changed { // the shop as it stands
		word = "duct"
	}
	var out []entry
	add := func(use bool, e entry) {
		if use {
			out = append(out, e)
		}
	}
	add(changed, lineEntry(stroke{width: 3.2, color: navy}, "changed"))
	add(kept, lineEntry(stroke{width: 3.2, color: slate}, word))
	add(hose, lineEntry(stroke{width: 2, color: slate, dash: []float64{5, 3}}, "hose"))
	later := slices.ContainsFunc(d.Ways, func(w PlanWay) bool { return w.Later })
	old := slices.ContainsFunc(d.Ways, func(w PlanWay) bool { return w.Old })
	add(slices.ContainsFunc(d.Ways, func(w PlanWay) bool { return !w.Old && !w.Later }), lineEntry(wayLine, "corridor"))
	add(old, lineEntry(oldLine, "left out"))
	add(later, lineEntry(nextLine, "comes later"))
	add(len(d.Joints) > 0, entry{6, func(p *pen, at xy) { p.joint(at) }, "junction"})
	add(len(d.Tools) > 0, markEntry(openSquare, ink, "tool"))
	add(true, markEntry(square, ink, "collector"))
	add(len(d.Bleeds) > 0, markEntry(triangle, rust, "bleed inlet"))
	return out
}
