package plots

import (
	"math"
	"strings"
)

// Measures of the pictures of the shop, in points.
const (
	shopFoot     = 34.0             // room of the scale bar and the axes
	shopTallest  = 1.3 * pageHeight // of the drawing itself
	barLeast     = 60.0             // shortest scale bar
	axisArrow    = 15.0
	toolMark     = 4.0
	bleedMark    = 4.5
	collectorBox = 6.0
	jointMark    = 1.9
)

// shopRims are the margins at the sides and above the drawing that are tried
// until every label finds room.
var shopRims = []xy{{46, 46}, {46, 80}, {70, 70}, {70, 120}, {100, 100}, {100, 160}}

// shop is the drawing of the data in one view.
type shop struct {
	PlanData
	*pen
	view    view
	seek    *placer
	scale   float64 // points for one unit
	offset  xy
	missing []string // labels without room
}

// look checks the data and draws it.
func (d PlanData) look(v view) (*Figure, error) {
	if d.Title == "" {
		d.Title = v.title
	}
	if err := d.check(v.picture); err != nil {
		return nil, err
	}
	draw := func(s *shop) {
		s.ducts()
		s.marks()
		s.labels()
		s.sizes()
	}
	s := d.roomy(v, d.legend(), draw)
	if len(s.missing) > 0 || len(s.seek.leads) > mostLeads { // letters for the sizes leave room
		keyed, key := d.lettered()
		if k := keyed.roomy(v, append(d.legend(), key...), draw); len(key) > 0 && k.clearer(s) {
			s = k
		}
	}
	return s.figure(d.Title), nil
}

// mostLeads is how many labels may stand away from their places before letters
// are tried.
const mostLeads = 4

// clearer reports whether fewer labels are left out, or fewer stand away from
// their places, than in another drawing.
func (s *shop) clearer(o *shop) bool {
	if len(s.missing) != len(o.missing) {
		return len(s.missing) < len(o.missing)
	}
	return len(s.seek.leads) < len(o.seek.leads)
}

// roomy draws the shop with a key, on a page with the narrowest rims on which
// every label finds room, else on that with the fewest labels left out; a line
// at the foot says which.
func (d PlanData) roomy(v view, key []entry, draw func(*shop)) *shop {
	var best *shop
	for _, rim := range shopRims {
		s := d.sheet(v, key, rim)
		draw(s)
		if best == nil || len(s.missing) < len(best.missing) {
			best = s
		}
		if len(best.missing) == 0 {
			break
		}
	}
	best.foot()
	return best
}

// sheet sizes the page about the shop and sets its head.
func (d PlanData) sheet(v view, key []entry, rim xy) *shop {
	s := &shop{PlanData: d, view: v, pen: &pen{w: pageWidth}}
	lo, hi := xy{math.Inf(1), math.Inf(1)}, xy{math.Inf(-1), math.Inf(-1)}
	for _, at := range d.places() {
		q := v.project(at)
		lo = xy{math.Min(lo.X, q.X), math.Min(lo.Y, q.Y)}
		hi = xy{math.Max(hi.X, q.X), math.Max(hi.Y, q.Y)}
	}
	wide, tall := hi.X-lo.X, hi.Y-lo.Y
	if wide == 0 && tall == 0 { // a single riser seen from above
		wide = 1
	}
	s.scale = math.Min((pageWidth-2*(edge+rim.X))/wide, shopTallest/tall)
	head := 26 + 12*float64(legendRows(key, pageWidth-2*edge))
	s.h = 2*edge + head + shopFoot + 1.6*rim.Y + tall*s.scale
	s.seek = &placer{area: rect{edge, edge + shopFoot, s.w - edge, s.head(d.Title, key)}}
	middle := s.seek.area.centre()
	s.offset = xy{middle.X - s.scale*(lo.X+hi.X)/2, middle.Y - s.scale*(lo.Y+hi.Y)/2}
	return s
}

// to returns the place on the page.
func (s *shop) to(at [3]float64) xy { return s.offset.add(s.view.project(at).times(s.scale)) }

func (s *shop) line(path [][3]float64) []xy {
	out := make([]xy, len(path))
	for i, at := range path {
		out[i] = s.to(at)
	}
	return out
}

// ducts draws the ways without duct, the kept runs, then the changed ones on top.
func (s *shop) ducts() {
	for _, w := range s.Ways {
		s.pen.line(w.stroke(), s.line(w.Path)...)
		s.seek.faint = append(s.seek.faint, segments(s.line(w.Path))...)
	}
	for _, changed := range []bool{false, true} {
		for _, r := range s.Runs {
			if r.Changed == changed {
				s.pen.line(s.stroke(r), s.line(r.Path)...)
				s.seek.avoid(s.line(r.Path))
			}
		}
	}
	s.depth()
}

// marks draws what stands on the ducts, joints undermost.
func (s *shop) marks() {
	for _, j := range s.Joints {
		s.joint(s.to(j))
		s.seek.take(around(s.to(j), jointMark))
	}
	s.each(func(form shape, m PlanMark, r float64, _ typeface) {
		c := ink
		if form == triangle {
			c = rust
		}
		s.mark(form, s.to(m.At), r, c)
		s.seek.take(around(s.to(m.At), r))
	})
}

// each visits the named places with their marks, in the order of their labels.
func (s *shop) each(visit func(form shape, m PlanMark, r float64, face typeface)) {
	visit(square, s.Collector, collectorBox, boldText)
	for _, c := range s.Others {
		visit(square, c, collectorBox, boldText)
	}
	for _, t := range s.Tools {
		visit(openSquare, t, toolMark, smallText)
	}
	for _, b := range s.Bleeds {
		visit(triangle, b, bleedMark, smallText)
	}
}

// labels names the places and sets the sizes along the runs.
func (s *shop) labels() {
	s.each(func(_ shape, m PlanMark, r float64, face typeface) {
		if !s.label(s.seek, face, s.to(m.At), r, m.Name) {
			s.missing = append(s.missing, m.Name)
		}
	})
	for _, r := range s.Runs {
		if r.Label != "" && !s.labelLine(s.seek, smallBold, anchors(s.line(r.Path)), s.stroke(r).width/2+1, r.Label) {
			s.missing = append(s.missing, r.Name+" "+r.Label)
		}
	}
	for _, w := range s.Ways {
		if !s.labelLine(s.seek, quietText, anchors(s.line(w.Path)), w.stroke().width, w.Name) {
			s.missing = append(s.missing, w.Name)
		}
	}
}

// anchors lists places on a line where its label may stand: along the longest
// leg, the middle first, then the middles of the other legs.
func anchors(line []xy) []xy {
	longest, legs := longestLeg(line), segments(line)
	var out []xy
	for _, share := range []float64{0.5, 0.4, 0.6, 0.3, 0.7} {
		out = append(out, longest.a.toward(longest.b, share))
	}
	for _, leg := range legs {
		if leg != longest {
			out = append(out, leg.a.toward(leg.b, 0.5))
		}
	}
	return out
}

// longestLeg is the longest straight part of a line, the first of equals.
func longestLeg(line []xy) segment {
	longest := segment{line[0], line[0]}
	for _, leg := range segments(line) {
		if dist(leg.a, leg.b) > dist(longest.a, longest.b) {
			longest = leg
		}
	}
	return longest
}

// foot draws the scale bar, the directions and what the width of a line says.
func (s *shop) foot() {
	length := niceStep(barLeast/s.scale, 1)
	x0, x1, y := edge+6, edge+6+length*s.scale, edge+14
	for _, x := range []float64{x0, x1} {
		s.pen.line(axisLine, xy{x, y - 3}, xy{x, y + 3})
	}
	s.pen.line(axisLine, xy{x0, y}, xy{x1, y})
	s.text(smallText, number(length, length)+" "+s.Unit, xy{x1 + 5, y}, 0, 0.5)
	if lo, hi := s.diameters(); hi > lo {
		s.text(quietText, "lines as wide as the ducts, in proportion", xy{s.w / 2, y}, 0.35, 0.5)
	}
	var notes []string
	if len(s.Undrawn) > 0 {
		notes = append(notes, "without coordinates, so not drawn: "+strings.Join(s.Undrawn, ", "))
	}
	if len(s.missing) > 0 {
		notes = append(notes, "no room to name: "+strings.Join(s.missing, ", "))
	}
	s.text(quietText, quietText.fit(strings.Join(notes, "; "), s.w-2*edge-6-3.2*axisArrow), xy{edge + 6, edge + shopFoot - 3}, 0, 1)
	root := xy{s.w - edge - 2.4*axisArrow, y}
	for i, name := range s.view.axes {
		var unit [3]float64
		unit[i] = axisArrow
		tip := root.add(s.view.project(unit))
		s.pen.line(axisLine, root, tip)
		s.text(smallText, name, root.toward(tip, 1.4), 0.5, 0.5)
	}
}
