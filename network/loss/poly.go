package loss

import "math"

// A poly is a cubic c0 + c1·q + c2·q² + c3·q³ on 0 ≤ q ≤ 1.
type poly [4]float64

// at returns the value and the derivative at q.
func (p *poly) at(q float64) (y, dy float64) {
	y = p[0] + q*(p[1]+q*(p[2]+q*p[3]))
	dy = p[1] + q*(2*p[2]+q*(3*p[3]))
	return y, dy
}

// timesLinear returns the product of a quadratic and m0 + m1·q.
func (p poly) timesLinear(m0, m1 float64) poly {
	return poly{m0 * p[0], m0*p[1] + m1*p[0], m0*p[2] + m1*p[1], m1 * p[2]}
}

// bounds returns the least and the greatest value on [q0, q1] within [0, 1]:
// the ends and the stationary points inside.
func (p *poly) bounds(q0, q1 float64) (lo, hi float64) {
	y0, _ := p.at(q0)
	y1, _ := p.at(q1)
	lo, hi = min(y0, y1), max(y0, y1)
	r0, r1 := p.stationary()
	// A root that does not exist is not a number and fails both comparisons.
	for _, r := range [2]float64{r0, r1} {
		if r > q0 && r < q1 {
			y, _ := p.at(r)
			lo, hi = min(lo, y), max(hi, y)
		}
	}
	return lo, hi
}

// stationary returns the roots of c1 + 2c2·q + 3c3·q², in the form that does
// not cancel; a missing root is not a number or infinite.
func (p *poly) stationary() (r0, r1 float64) {
	h := -p[2]
	d := math.Sqrt(h*h - 3*p[3]*p[1])
	t := h + math.Copysign(d, h)
	return p[1] / t, t / (3 * p[3])
}

// slack bounds the rounding error of one evaluation on [0, 1]: Horner's rule
// on a cubic errs by less than 6·2⁻⁵³·Σ|c|, here taken tenfold so that it
// also covers the stationary points.
func (p *poly) slack() float64 {
	return 0x1p-47 * (math.Abs(p[0]) + math.Abs(p[1]) + math.Abs(p[2]) + math.Abs(p[3]))
}

// enclose returns bounds widened by slack.
func (p *poly) enclose(q0, q1 float64) (lo, hi float64) {
	lo, hi = p.bounds(q0, q1)
	e := p.slack()
	return lo - e, hi + e
}
