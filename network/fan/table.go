package fan

import "math"

// Table is a smooth fan curve through its points: a piecewise cubic with a
// continuous derivative that keeps the shape of the points. Where they fall it
// falls, where they rise it rises, and it never leaves the range of pressure of
// two neighbours.
//
// Below the first point (and so below zero flow) it continues linearly with the
// slope at the first point, and past the last point with the slope there, which
// is never shallower than the last segment: the extrapolation rather promises
// too little air than too much.
//
// Sources: Fritsch & Carlson 1980, SIAM J. Numer. Anal. 17:238 (condition for
// monotone cubics: slopes within three times the neighbouring secants);
// Fritsch & Butland 1984, SIAM J. Sci. Stat. Comput. 5:300 (slopes inside).
type Table struct {
	samples
	slope []float64 // dp/dq at the points
}

// NewTable makes a smooth curve of at least two points, in any order. A negative
// or repeated flow, a value that is not finite, or a pressure that does not fall
// at the last point is an error that wraps ErrPoints.
func NewTable(pts []Point) (*Table, error) {
	s, err := newSamples(pts)
	if err != nil {
		return nil, err
	}
	return &Table{samples: s, slope: slopes(&s)}, nil
}

// Pressure implements Curve. With t from 0 to 1 along a segment of width h it is
// Hermite's cubic
//
//	p = p0 + h·t·[m0 + t·(3d − 2·m0 − m1 + t·(m0 + m1 − 2d))]
//
// where m0 and m1 are the slopes at the ends and d is the secant.
func (c *Table) Pressure(q float64) (p, dpdq float64) {
	last := len(c.q) - 1
	switch {
	case q <= c.q[0]:
		// Air driven back through a fan meets no less than its pressure there,
		// also where the curve rises from its first point.
		slope := min(c.slope[0], 0)
		return c.p[0] + slope*(q-c.q[0]), slope
	case q >= c.q[last]:
		return c.p[last] + c.slope[last]*(q-c.q[last]), c.slope[last]
	}
	i := c.segment(q)
	h, d := c.q[i+1]-c.q[i], c.secant(i)
	m0, m1 := c.slope[i], c.slope[i+1]
	t := (q - c.q[i]) / h
	a, b := 3*d-2*m0-m1, m0+m1-2*d
	return c.p[i] + h*t*(m0+t*(a+t*b)), m0 + t*(2*a+3*t*b)
}

// slopes returns dp/dq at the points of a curve.
func slopes(s *samples) []float64 {
	n := len(s.q)
	m := make([]float64, n)
	if n == 2 {
		m[0] = s.secant(0)
		m[1] = m[0]
		return m
	}
	for i := 1; i < n-1; i++ {
		m[i] = inner(s.q[i]-s.q[i-1], s.q[i+1]-s.q[i], s.secant(i-1), s.secant(i))
	}
	m[0] = edge(s.q[1]-s.q[0], s.q[2]-s.q[1], s.secant(0), s.secant(1))
	m[n-1] = edge(s.q[n-1]-s.q[n-2], s.q[n-2]-s.q[n-3], s.secant(n-2), s.secant(n-3))
	// The extrapolation must fall, and at least as fast as the last segment.
	m[n-1] = math.Min(m[n-1], s.secant(n-2))
	return m
}

// inner returns the slope at a point between two segments of widths h0 and h1
// with secants d0 and d1: a weighted harmonic mean, or zero at a turn (Fritsch &
// Butland 1984).
func inner(h0, h1, d0, d1 float64) float64 {
	if d0*d1 <= 0 {
		return 0
	}
	w0, w1 := 2*h1+h0, h1+2*h0
	return (w0 + w1) / (w0/d0 + w1/d1)
}

// edge returns the slope at the outer end of a segment of width h and secant d,
// whose neighbour has width h1 and secant d1: that of the parabola through the
// three points, held between zero and three times the secant (Fritsch & Carlson
// 1980).
func edge(h, h1, d, d1 float64) float64 {
	m := ((2*h+h1)*d - h*d1) / (h + h1)
	if m*d <= 0 {
		return 0
	}
	if math.Abs(m) > 3*math.Abs(d) {
		return 3 * d
	}
	return m
}
