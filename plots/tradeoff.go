package plots

import (
	"cmp"
	"math"
	"slices"
)

// Proof says how far the search could vouch for a plan.
type Proof int

// The kinds of proof, each with its own mark.
const (
	Optimal Proof = iota // proven to be the cheapest for its flow
	Gap                  // a cheaper plan is not ruled out
	Limited              // the search stopped at a limit
	Misses               // the plan misses a rule: it only comes closest
)

// String returns the words of the legend.
func (s Proof) String() string {
	switch s {
	case Optimal:
		return "proven cheapest"
	case Gap:
		return "gap left"
	case Limited:
		return "stopped at a limit"
	case Misses:
		return "misses a rule"
	}
	return "unknown"
}

func (s Proof) shape() shape { return [...]shape{disc, diamond, openTriangle, ring}[s] }

// TradeOffData is the cost of plans against the air they bring.
type TradeOffData struct {
	Title    string       // "" prints "Cost against air"
	Currency string       // text of the cost unit, for example "EUR"
	Points   []TradePoint // at least one, in any order
	AsFound  *TradePoint  // the shop before any change, or nil; Proof is not used
	Holds    bool         // the shop as found keeps every other rule: it may be the best for the money
	Required float64      // flow that counts as enough, percent; 0 means 100

	// power is set where the points are of fan power in that unit, which is
	// better the less it is, and nothing is required.
	power string
}

// TradePoint is one plan.
type TradePoint struct {
	Label  string  // short name, "" for none
	Cost   float64 // in Currency, not below zero
	Flow   float64 // flow of the worst-served tool, percent of what it needs
	Proof  Proof
	Bound  float64 // proven lower bound of the cost; 0 or Cost draws none
	Chosen bool    // the recommended plan; at most one
}

// TradeOff draws cost (x) against the flow of the worst-served tool (y). The
// step line joins the plans that no other plan beats in both: what is bought
// by spending up to that much. A whisker reaches from a plan to the proven
// lower bound of its cost. It fails on empty or not finite data, a bound above
// the cost, an unknown proof, and more than one chosen plan.
func TradeOff(d TradeOffData) (*Figure, error) {
	if d.Title == "" {
		d.Title = "Cost against air"
	}
	if d.Required == 0 {
		d.Required = 100
	}
	if err := d.check("TradeOff"); err != nil {
		return nil, err
	}
	return d.figure("flow of the worst-served tool, % of what it needs"), nil
}

// figure draws the trade-off with the name of its vertical axis.
func (d TradeOffData) figure(axis string) *Figure {
	p := &pen{w: pageWidth, h: pageHeight}
	top := p.head(d.Title, d.legend())
	costs, flows := []float64{0}, []float64(nil)
	if d.power == "" {
		flows = append(flows, d.Required)
	}
	for _, pt := range d.all() {
		costs = append(costs, pt.Cost)
		flows = append(flows, pt.Flow)
	}
	// A little room right of and above the last point keeps labels inside.
	costs = append(costs, 1.06*slices.Max(costs))
	low, high := slices.Min(flows), slices.Max(flows)
	flows = append(flows, high+0.06*(high-low), math.Max(0, low-0.06*(high-low)))
	f := p.axes(rect{edge, edge, p.w - edge, top},
		over(named("cost", d.Currency), costs, true, 8),
		over(axis, flows, false, 7))
	d.draw(p, f)
	return p.figure(d.Title)
}

func (d TradeOffData) check(picture string) error {
	c := &check{picture: picture}
	gain := "Flow"
	if d.power != "" {
		gain = "Power"
	}
	c.some(len(d.Points), "Points")
	c.least(d.Required, "Required")
	chosen := 0
	for i, pt := range d.Points {
		c.least(pt.Cost, "Points[%d].Cost", i)
		c.least(pt.Flow, "Points[%d]."+gain, i)
		c.least(pt.Bound, "Points[%d].Bound", i)
		if pt.Bound > pt.Cost {
			c.add(ErrValue, "above the cost", "Points[%d].Bound", i)
		}
		if pt.Proof < Optimal || pt.Proof > Misses {
			c.add(ErrValue, "unknown", "Points[%d].Proof", i)
		}
		if pt.Chosen {
			if chosen++; chosen > 1 {
				c.add(ErrValue, "a second chosen plan", "Points[%d].Chosen", i)
			}
		}
	}
	if d.AsFound != nil {
		c.least(d.AsFound.Cost, "AsFound.Cost")
		c.least(d.AsFound.Flow, "AsFound.Flow")
	}
	return c.err()
}

// all returns the plans and the shop as found.
func (d TradeOffData) all() []TradePoint {
	pts := slices.Clone(d.Points)
	if d.AsFound != nil {
		pts = append(pts, *d.AsFound)
	}
	return pts
}

func (d TradeOffData) has(test func(TradePoint) bool) bool {
	return slices.ContainsFunc(d.Points, test)
}

func (d TradeOffData) legend() []entry {
	var out []entry
	for s := Optimal; s <= Misses; s++ {
		if d.has(func(t TradePoint) bool { return t.Proof == s }) {
			out = append(out, markEntry(s.shape(), navy, s.String()))
		}
	}
	if d.has(func(t TradePoint) bool { return t.Chosen }) {
		out = append(out, entry{14, func(p *pen, at xy) { p.chosenRing(at, 5) }, "chosen"})
	}
	if d.AsFound != nil {
		out = append(out, markEntry(cross, rust, "as found"))
	}
	if len(d.front()) > 1 {
		out = append(out, lineEntry(mainLine, "best for the money"))
	}
	if d.has(TradePoint.bounded) {
		out = append(out, entry{20, func(p *pen, at xy) { p.whisker(at.add(xy{-10, 0}), at.add(xy{10, 0})) }, "cost not ruled out"})
	}
	return out
}

func (t TradePoint) bounded() bool { return t.Bound > 0 && t.Bound < t.Cost }

// front returns the plans that no other plan beats in both cost and flow, by
// rising cost.
func (d TradeOffData) front() []TradePoint {
	pts := slices.Clone(d.Points)
	if d.AsFound != nil && d.Holds {
		pts = append(pts, *d.AsFound)
	}
	slices.SortStableFunc(pts, func(a, b TradePoint) int {
		return cmp.Or(cmp.Compare(a.Cost, b.Cost), d.worse(a, b))
	})
	var out []TradePoint
	for _, pt := range pts {
		if len(out) == 0 || d.worse(out[len(out)-1], pt) > 0 {
			out = append(out, pt)
		}
	}
	return out
}

// worse compares two plans by what the money buys: above 0 where b has more air,
// or needs less power.
func (d TradeOffData) worse(a, b TradePoint) int {
	if d.power != "" {
		return cmp.Compare(a.Flow, b.Flow)
	}
	return cmp.Compare(b.Flow, a.Flow)
}

// gives is what a plan gives for its cost, in words.
func (d TradeOffData) gives(pt TradePoint) string {
	if d.power != "" {
		return number(pt.Flow, 1) + " " + d.power
	}
	return number(pt.Flow, 0.1) + " %"
}

// chosenMark is the radius of the ring about the chosen plan.
const chosenMark = 6.5

func (p *pen) chosenRing(at xy, r float64) {
	p.circle(nil, stroke{width: 1.6, color: ink}, at, r)
}

// whisker draws a line with an end stroke at the bound, on white, so that it is
// seen where it lies on another line.
func (p *pen) whisker(bound, plan xy) {
	p.line(stroke{width: 3, color: white}, bound, plan)
	s := stroke{width: 1, color: ink}
	p.line(s, bound, plan)
	p.line(s, bound.add(xy{0, -4}), bound.add(xy{0, 4}))
}

func (d TradeOffData) draw(p *pen, f frame) {
	seek := placer{area: f.box.grow(-2)}
	need := f.y.at(d.Required)
	if d.power == "" {
		p.line(limitRow, xy{f.box.x0, need}, xy{f.box.x1, need})
		seek.avoid([]xy{{f.box.x0, need}, {f.box.x1, need}})
	}

	// A front of a single plan has no step to show.
	if front := d.front(); len(front) > 1 {
		step := []xy{f.at(front[0].Cost, front[0].Flow)}
		for _, pt := range front[1:] {
			to := f.at(pt.Cost, pt.Flow)
			step = append(step, xy{to.X, step[len(step)-1].Y}, to)
		}
		step = append(step, xy{f.box.x1, step[len(step)-1].Y})
		p.line(mainLine, step...)
		seek.avoid(step)
	}
	for _, pt := range d.all() {
		at := f.at(pt.Cost, pt.Flow)
		seek.take(around(at, 4.5))
		if pt.bounded() {
			b := f.at(pt.Bound, pt.Flow)
			p.whisker(b, at)
			seek.avoid([]xy{b, at})
		}
	}
	for _, pt := range d.Points {
		at := f.at(pt.Cost, pt.Flow)
		p.mark(pt.Proof.shape(), at, 3.6, navy)
		if pt.Chosen {
			p.chosenRing(at, chosenMark)
		}
	}
	if d.AsFound != nil {
		p.mark(cross, f.at(d.AsFound.Cost, d.AsFound.Flow), 4.5, rust)
	}
	if d.power == "" {
		p.requiredWord(f, &seek, need, brief(d.Required)+" % = required")
	}
	d.labels(p, f, &seek)
}

// requiredWord names the required line where nothing else stands: at its left
// end, else at its right, above the line, else below.
func (p *pen) requiredWord(f frame, seek *placer, y float64, text string) {
	face := typeface{size: sizeSmall, bold: true, color: rust}
	w, h := face.width(text), face.height()
	free := func(box rect) bool {
		return !slices.ContainsFunc(seek.taken, box.hits) &&
			!slices.ContainsFunc(seek.lines, func(l segment) bool { return l.hitsRect(box) })
	}
	for try := range 4 {
		right, below := float64(try/2), float64(try%2)
		at := xy{f.box.x0 + 4 + right*(f.box.x1-f.box.x0-8), y + 3 - 6*below}
		x := at.X - right*w
		if try == 3 || free(rect{x, at.Y - below*h, x + w, at.Y + (1-below)*h}) {
			seek.take(p.text(face, text, at, right, below))
			return
		}
	}
}

// labels sets the name of the chosen plan first, then the shop as found,
// then the others by cost.
func (d TradeOffData) labels(p *pen, f frame, seek *placer) {
	set := func(pt TradePoint, face typeface, radius float64, text string) {
		if text != "" {
			p.label(seek, face, f.at(pt.Cost, pt.Flow), radius, text)
		}
	}
	for _, pt := range d.Points {
		if pt.Chosen {
			text := number(pt.Cost, 1) + " " + d.Currency + ", " + d.gives(pt)
			if pt.Label != "" {
				text = pt.Label + ": " + text
			}
			set(pt, boldText, chosenMark, text)
		}
	}
	if d.AsFound != nil {
		text := d.AsFound.Label
		if text == "" {
			text = "as found"
		}
		set(*d.AsFound, smallBold, 4.5, text+", "+d.gives(*d.AsFound))
	}
	rest := slices.DeleteFunc(slices.Clone(d.Points), func(t TradePoint) bool { return t.Chosen })
	slices.SortStableFunc(rest, func(a, b TradePoint) int { return cmp.Compare(a.Cost, b.Cost) })
	for _, pt := range rest {
		set(pt, smallText, 4, pt.Label)
	}
}
