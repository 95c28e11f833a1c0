package fan

import "wyewright/network/units"

// AtSpeed is a curve at another speed of the same fan: Q ∝ N, p ∝ N², P ∝ N³
// (the fan laws of Scale). By is the new speed over the old, above 0; a curve
// of a type that this package does not know is carried over point by point as
// it is asked for.
func AtSpeed(c Curve, by float64) Curve {
	spin := func(pts []Point) []Point { return Scale(pts, 0, 0, 1, units.Speed(by)) }
	switch c := c.(type) {
	case Fixed:
		return Fixed{Flow: c.Flow * units.Flow(by)}
	case Quadratic:
		return Quadratic{Shutoff: c.Shutoff * units.Pressure(by*by), FreeAir: c.FreeAir * units.Flow(by)}
	case *Table:
		if t, err := NewTable(spin(c.Points())); err == nil {
			return t
		}
	case *Linear:
		if t, err := NewLinear(spin(c.Points())); err == nil {
			return t
		}
	}
	return &spun{c, by}
}

// spun is any curve at another speed.
type spun struct {
	Curve
	by float64
}

// Pressure implements Curve.
func (c *spun) Pressure(q float64) (p, dpdq float64) {
	p, dpdq = c.Curve.Pressure(q / c.by)
	return c.by * c.by * p, c.by * dpdq
}

// Range implements Curve.
func (c *spun) Range() (lo, hi float64) {
	lo, hi = c.Curve.Range()
	return lo * c.by, hi * c.by
}

// AtSpeed is a motor's power curve at another speed of the fan (P ∝ N³).
func (m Motor) AtSpeed(by float64) Motor {
	m.Points = Scale(m.Points, 0, 0, 1, units.Speed(by))
	return m
}
