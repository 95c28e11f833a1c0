package fan

import (
	"slices"

	"wyewright/network/units"
)

// DefaultEfficiency is what a fan with its drive is taken to make of shaft
// power where nothing is known of its motor: small radial fans for dusty air
// reach about 45 to 60 % (common practice).
const DefaultEfficiency units.Ratio = 0.5

// Drawn is the shaft power at the flow q of a curve: what the motor's data say
// (Motor.Load), else Q·Δp / DefaultEfficiency, and estimated says so; m may be
// nil. Without flow or pressure an estimate is 0. A Fixed curve has no pressure
// of its own, so that its estimate is 0 too.
func Drawn(m *Motor, c Curve, q units.Flow) (p units.Power, estimated bool) {
	dp, _ := c.Pressure(float64(q))
	if m != nil {
		if load, ok := m.Load(q, units.Pressure(dp)); ok {
			return load, false
		}
	}
	return units.Power(max(0, float64(q)) * max(0, dp) / float64(DefaultEfficiency)), true
}

// leastParts is the number of parts into which LeastDrawn divides the flows.
const leastParts = 8

// LeastDrawn is a lower bound on Drawn over the flows lo to hi, both 0 or more:
// no flow between them draws less. It tightens as the two come together. Between
// two of its points a Table or Linear curve does not turn, and a Quadratic never
// does, so that Q·Δp over a part is at least its least flow times the least
// pressure at its ends; of any other curve nothing is known but 0.
func LeastDrawn(m *Motor, c Curve, lo, hi units.Flow) units.Power {
	if !(lo < hi) {
		p, _ := Drawn(m, c, lo)
		return p
	}
	var room [64]units.Flow
	at := append(room[:0], lo, hi)
	for k := range leastParts - 1 {
		at = append(at, lo+(hi-lo)*units.Flow(k+1)/leastParts)
	}
	turns := true
	switch c := c.(type) {
	case Quadratic:
		turns = false
	case *Table:
		turns, at = false, c.between(at, lo, hi)
	case *Linear:
		turns, at = false, c.between(at, lo, hi)
	}
	if m != nil {
		at = pointsBetween(at, m.Points, lo, hi)
	}
	slices.Sort(at)
	least, _ := Drawn(m, c, lo)
	for i := 1; i < len(at); i++ {
		if at[i-1] < at[i] {
			p, _ := Drawn(m, c, at[i])
			least = min(least, p, leastOfPart(m, c, at[i-1], at[i], turns))
		}
	}
	return least
}

// leastOfPart bounds the power over a part of the flows without a point inside,
// its ends left to the caller where power is interpolated: a straight line is
// least at an end.
func leastOfPart(m *Motor, c Curve, a, b units.Flow, turns bool) units.Power {
	eta := DefaultEfficiency
	if m != nil {
		if p, ok := m.interpolate((a + b) / 2); ok {
			x, _ := m.interpolate(a)
			y, _ := m.interpolate(b)
			return min(p, x, y)
		}
		if m.Efficiency > 0 && m.Efficiency <= 1 {
			eta = m.Efficiency
		}
	}
	if turns {
		return 0
	}
	x, _ := c.Pressure(float64(a))
	y, _ := c.Pressure(float64(b))
	return units.Power(float64(a) * max(0, min(x, y)) / float64(eta))
}

// between appends the flows of a curve's points that lie between two flows.
func (s *samples) between(at []units.Flow, lo, hi units.Flow) []units.Flow {
	for _, q := range s.q {
		if f := units.Flow(q); lo < f && f < hi {
			at = append(at, f)
		}
	}
	return at
}

// pointsBetween appends the flows of points that lie between two flows.
func pointsBetween(at []units.Flow, points []Point, lo, hi units.Flow) []units.Flow {
	for _, p := range points {
		if lo < p.Flow && p.Flow < hi {
			at = append(at, p.Flow)
		}
	}
	return at
}
