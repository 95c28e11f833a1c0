package core

import "math"

// law is the loss R·q^n.
type law struct {
	n, inv float64
	square bool
}

func newLaw(n float64) law { return law{n: n, inv: 1 / n, square: n == 2} }

// pow is q^n.
func (l *law) pow(q float64) float64 {
	if l.square {
		return q * q
	}
	return math.Pow(q, l.n)
}

// root is x^(1/n).
func (l *law) root(x float64) float64 {
	if l.square {
		return math.Sqrt(x)
	}
	return math.Pow(x, l.inv)
}

// flow is the flow through a resistance at a pressure: (p/r)^(1/n), +Inf
// without resistance, 0 through an endless one.
func (l *law) flow(p, r float64) float64 {
	if r == 0 {
		if p == 0 {
			return 0
		}
		return math.Inf(1)
	}
	return l.root(p / r)
}

// conductance is r^(−1/n), flow per root of pressure.
func (l *law) conductance(r float64) float64 { return l.root(1 / r) }

// resistance is what has a conductance: g^(−n).
func (l *law) resistance(g float64) float64 { return 1 / l.pow(g) }

// operate solves r·q^n = P(q): in closed form for n = 2 (the root of
// (r + Curve)·q² + Slope·q = Head), else by Newton's method, which falls to
// the only root from above, as the difference is convex.
func (l *law) operate(f Fan, r float64) float64 {
	if math.IsInf(r, 1) || f.Head == 0 {
		return 0
	}
	if l.square {
		a := r + f.Curve
		return 2 * f.Head / (f.Slope + math.Sqrt(f.Slope*f.Slope+4*a*f.Head))
	}
	q := math.Inf(1)
	if r > 0 {
		q = l.root(f.Head / r)
	}
	if f.Slope > 0 || f.Curve > 0 {
		q = min(q, 2*f.Head/(f.Slope+math.Sqrt(f.Slope*f.Slope+4*f.Curve*f.Head)))
	}
	for range 60 {
		loss := r * l.pow(q)
		step := (loss - f.Pressure(q)) / (l.n*loss/q + f.fall(q))
		if !(math.Abs(step) > 1e-15*q) {
			break
		}
		q -= step
	}
	return q
}
