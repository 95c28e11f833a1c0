package loss

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Hand-worked: q³ − 1.2q² + 0.36q turns at 0.2 (value 0.032) and 0.6 (value 0).
func TestPolyBoundsByHand(t *testing.T) {
	cubic := poly{0, 0.36, -1.2, 1}
	cases := []struct {
		p              poly
		q0, q1, lo, hi float64
	}{
		{cubic, 0.1, 0.5, 0.005, 0.032}, // one turn, a maximum
		{cubic, 0.3, 0.7, 0, 0.027},     // one turn, a minimum
		{cubic, 0.1, 0.7, 0, 0.032},     // both turns
		{cubic, 0.3, 0.5, 0.005, 0.027}, // none
		{poly{1, -1, 1, 0}, 0, 1, 0.75, 1},
		{poly{1, 2, 0, 0}, 0, 1, 1, 3},
		{poly{5, 0, 0, 0}, 0, 1, 5, 5},
		{poly{0, -0.75, 0, 1}, 0, 1, -0.25, 0.25}, // no quadratic term: turns at 0.5
	}
	for _, c := range cases {
		lo, hi := c.p.bounds(c.q0, c.q1)
		if math.Abs(lo-c.lo) > 1e-15 || math.Abs(hi-c.hi) > 1e-15 {
			t.Errorf("%v on [%g, %g]: [%v, %v], want [%v, %v]", c.p, c.q0, c.q1, lo, hi, c.lo, c.hi)
		}
	}
}

// Cubics with turning points anywhere, against dense sampling: the curvature
// bounds how far a sample can miss an extreme.
func TestPolyBoundsSampled(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	const n = 1000
	for range 2000 {
		p := poly{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
		a, b := rng.Float64(), rng.Float64()
		a, b = min(a, b), max(a, b)
		lo, hi := p.enclose(a, b)
		least, most := math.Inf(1), math.Inf(-1)
		for i := 0; i <= n; i++ {
			y, _ := p.at(a + (b-a)*float64(i)/n)
			least, most = min(least, y), max(most, y)
		}
		miss := (2*math.Abs(p[2])+6*math.Abs(p[3]))/(8*n*n) + 1e-12
		if least < lo || most > hi || least-lo > miss || hi-most > miss {
			t.Fatalf("%v on [%g, %g]: range [%v, %v], sampled [%v, %v]", p, a, b, lo, hi, least, most)
		}
	}
}
