package plots

import "math"

// placer finds room for labels. Boxes that are taken are never touched;
// lines are kept free where that is possible. The search is greedy and has a
// fixed order: the same calls give the same places.
type placer struct {
	area  rect      // every label stays within
	taken []rect    // marks, axes and labels that are placed
	lines []segment // curves and ducts: crossing one has a price
	faint []segment // thin lines beneath the others: the price is small
	leads []segment // leader lines that are placed: never touched
}

// spot is the place of a label.
type spot struct {
	box  rect
	lead *segment // leader line from the mark to the label, nil when adjacent
}

// Prices of a candidate position, in points of distance.
const (
	priceCross   = 45.0 // label over a line
	priceFaint   = 9.0  // label over a faint line
	priceLead    = 6.0  // label that needs a leader line
	priceLeadCut = 8.0  // leader line that crosses a line
	priceAlong   = 20.0 // leader line that hides in a line
	priceNear    = 5.0  // label close to a line: it might seem to belong there
	priceAnchor  = 0.5  // each step down in the order of marks
	nearGap      = 4.0  // what counts as close
	priceTurn    = 0.3  // each step down in the order of preferred directions
	labelGap     = 1.5  // clear space about a label
)

// directions lists where a label may stand about its mark, best first: in
// line on the right, above, below, on the left, then the steps between.
var directions = []xy{
	{1, 0}, {1, 1}, {1, -1}, {-1, 0}, {-1, 1}, {-1, -1}, {0, 1}, {0, -1},
	{1, 0.5}, {1, -0.5}, {-1, 0.5}, {-1, -0.5}, {0.5, 1}, {0.5, -1}, {-0.5, 1}, {-0.5, -1},
}

// beside lists where a label may stand about a place on a line, best first:
// the label is centred on the place where it can be, so that it is read with
// its own part of the line.
var beside = []xy{
	{0, 1}, {0, -1}, {1, 0}, {-1, 0}, {0.5, 1}, {-0.5, 1}, {0.5, -1}, {-0.5, -1},
	{1, 0.5}, {1, -0.5}, {-1, 0.5}, {-1, -0.5}, {1, 1}, {-1, 1}, {1, -1}, {-1, -1},
}

// rings lists the distances from the mark that are tried.
var rings = []float64{2.5, 9, 16, 24, 34, 46, 60, 78, 100, 130, 170}

// take marks a box as taken.
func (p *placer) take(r rect) { p.taken = append(p.taken, r) }

// avoid adds the parts of a line that labels should keep free.
func (p *placer) avoid(line []xy) { p.lines = append(p.lines, segments(line)...) }

// put finds the cheapest free place for a label of the given size about a
// mark of the given radius, and takes it. It reports false when there is none.
func (p *placer) put(mark xy, radius, w, h float64) (spot, bool) {
	return p.putAny([]xy{mark}, directions, radius, w, h)
}

// putAny is put for a label that may stand at any one of the marks, in any one
// of the directions, the best of them first.
func (p *placer) putAny(marks, turns []xy, radius, w, h float64) (spot, bool) {
	best, price := spot{}, math.Inf(1)
	for k, mark := range marks {
		s, cost := p.search(mark, turns, radius, w, h, price-float64(k)*priceAnchor)
		if cost += float64(k) * priceAnchor; cost < price {
			best, price = s, cost
		}
	}
	if math.IsInf(price, 1) {
		return spot{}, false
	}
	p.take(best.box)
	if best.lead != nil {
		p.leads = append(p.leads, *best.lead)
	}
	return best, true
}

// search finds the cheapest free place about one mark and its price; the
// price is infinite when none is below the limit.
func (p *placer) search(mark xy, turns []xy, radius, w, h, limit float64) (best spot, price float64) {
	price = math.Inf(1)
	for i, ring := range rings {
		for j, dir := range turns {
			floor := ring + float64(j)*priceTurn
			if floor >= math.Min(price, limit) {
				continue
			}
			s := candidate(mark, radius, ring, dir, w, h)
			if i > 0 {
				floor += priceLead
				s.lead = leadLine(mark, radius, s.box)
			}
			if !p.free(s, mark) {
				continue
			}
			if cost := floor + p.cost(s); cost < math.Min(price, limit) {
				best, price = s, cost
			}
		}
	}
	return best, price
}

// candidate returns the place in one direction at one distance.
func candidate(mark xy, radius, ring float64, dir xy, w, h float64) spot {
	l := math.Hypot(dir.X, dir.Y)
	c := xy{
		mark.X + dir.X/l*(radius+ring) + dir.X*w/2,
		mark.Y + dir.Y/l*(radius+ring) + dir.Y*h/2,
	}
	return spot{box: rect{c.X - w/2, c.Y - h/2, c.X + w/2, c.Y + h/2}}
}

// leadLine joins the rim of the mark with the nearest point of the label.
func leadLine(mark xy, radius float64, box rect) *segment {
	end := box.nearest(mark)
	d := dist(mark, end)
	if d <= radius {
		return nil
	}
	return &segment{mark.toward(end, radius/d), end}
}

// free reports whether the place touches nothing that is taken. The leader
// line may leave a box that holds its own mark.
func (p *placer) free(s spot, mark xy) bool {
	room := s.box.grow(labelGap)
	if !p.area.holds(s.box) {
		return false
	}
	for _, t := range p.taken {
		if room.hits(t) {
			return false
		}
		if s.lead != nil && !t.holds(around(mark, 0)) && s.lead.hitsRect(t) {
			return false
		}
	}
	for _, l := range p.leads {
		if l.hitsRect(room) || s.lead != nil && l.hitsSegment(*s.lead) {
			return false
		}
	}
	return true
}

// cost prices the lines that the label or its leader line would cross or
// come close to.
func (p *placer) cost(s spot) float64 {
	sum := 0.0
	for _, l := range p.faint {
		if l.hitsRect(s.box) {
			sum += priceFaint
		}
		sum += s.leadCost(l)
	}
	for _, l := range p.lines {
		switch {
		case l.hitsRect(s.box.grow(labelGap)):
			sum += priceCross
		case l.hitsRect(s.box.grow(nearGap)):
			sum += priceNear
		}
		sum += s.leadCost(l)
	}
	return sum
}

// leadCost prices a leader line that crosses a line or hides in it.
func (s spot) leadCost(l segment) float64 {
	sum := 0.0
	if s.lead == nil {
		return sum
	}
	if l.hitsSegment(*s.lead) {
		sum += priceLeadCut
	}
	if l.hitsRect(around(s.lead.a.toward(s.lead.b, 0.5), 1)) {
		sum += priceAlong
	}
	return sum
}
