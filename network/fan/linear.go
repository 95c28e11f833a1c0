package fan

// Linear is a fan curve of straight lines between its points. Outside of them
// the first and the last line go on. Its derivative jumps at the points, where it
// is that of the line on the right (at the last point, on the left): prefer
// Table, unless a published case asks for straight lines.
type Linear struct {
	samples
}

// NewLinear makes a piecewise linear curve of at least two points, in any order.
// A negative or repeated flow, a value that is not finite, or a pressure that
// does not fall at the last point is an error that wraps ErrPoints.
func NewLinear(pts []Point) (*Linear, error) {
	s, err := newSamples(pts)
	if err != nil {
		return nil, err
	}
	return &Linear{s}, nil
}

// Pressure implements Curve.
func (c *Linear) Pressure(q float64) (p, dpdq float64) {
	i := c.segment(q)
	m := c.secant(i)
	return c.p[i] + m*(q-c.q[i]), m
}
