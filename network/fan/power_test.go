package fan

import (
	"math/rand/v2"
	"testing"

	"wyewright/network/units"
)

// randomPoints are points of a fan that falls, or humps first.
func randomPoints(rng *rand.Rand, power bool) []Point {
	var out []Point
	p := 2000.0
	for k := range 5 + rng.IntN(3) {
		pt := Point{Flow: units.Flow(0.2 * float64(k)), Pressure: units.Pressure(p)}
		if power && rng.IntN(4) > 0 {
			pt.Power = units.Power(300 + 900*rng.Float64())
		}
		out = append(out, pt)
		if p -= 500 * rng.Float64(); k == 0 && rng.IntN(3) == 0 {
			p += 600
		}
	}
	out[len(out)-1].Pressure = out[len(out)-2].Pressure - 400
	return out
}

// TestLeastDrawnIsLeast: no flow of an interval draws less than the bound, and
// the bound of a narrow one is close to the power.
func TestLeastDrawnIsLeast(t *testing.T) {
	loose := 0
	for seed := range 400 {
		rng := rand.New(rand.NewPCG(uint64(seed), 11))
		pts := randomPoints(rng, seed%2 == 0)
		var c Curve = Quadratic{Shutoff: 2000, FreeAir: 1.2}
		switch seed % 3 {
		case 0:
			c, _ = NewTable(pts)
		case 1:
			c, _ = NewLinear(pts)
		}
		var m *Motor
		if rng.IntN(4) > 0 {
			m = &Motor{Points: pts, Efficiency: units.Ratio(rng.Float64() * float64(rng.IntN(2)))}
		}
		lo := units.Flow(1.3 * rng.Float64())
		hi := lo + units.Flow(0.3*rng.Float64())
		least := LeastDrawn(m, c, lo, hi)
		for k := range 1000 {
			q := lo + (hi-lo)*units.Flow(k)/999
			if p, _ := Drawn(m, c, q); p < least*(1-1e-12) {
				t.Fatalf("seed %d: %g W at %g, the bound from %g to %g is %g", seed, p, q, lo, hi, least)
			}
		}
		p, _ := Drawn(m, c, lo)
		if LeastDrawn(m, c, lo, lo) != p {
			t.Fatalf("seed %d: the bound of one flow is not its power", seed)
		}
		if near := LeastDrawn(m, c, lo, lo+1e-6); near < p*0.999 {
			loose++ // the interval may hold the step where the power points begin
		}
	}
	if loose > 4 {
		t.Errorf("%d bounds of narrow intervals are loose", loose)
	}
	if LeastDrawn(nil, &spun{Quadratic{2000, 1}, 1}, 0.2, 0.3) != 0 {
		t.Error("a curve of an unknown kind was trusted")
	}
}

// TestDrawn: hand-worked.
func TestDrawn(t *testing.T) {
	c := Quadratic{Shutoff: 2000, FreeAir: 1}
	near := func(got units.Power, est bool, want units.Power, marked bool) {
		t.Helper()
		if d := got - want; d > 1e-9 || d < -1e-9 || est != marked {
			t.Errorf("%g W, estimated %v; want %g, %v", got, est, want, marked)
		}
	}
	p, est := Drawn(nil, c, 0.5)
	near(p, est, 0.5*1500/0.5, true)
	p, est = Drawn(&Motor{Efficiency: 0.6}, c, 0.5)
	near(p, est, 0.5*1500/0.6, false)
	p, est = Drawn(&Motor{Points: []Point{{Flow: 0.4, Power: 900}, {Flow: 0.6, Power: 1100}}}, c, 0.5)
	near(p, est, 1000, false)
	p, est = Drawn(&Motor{}, c, 1.5)
	near(p, est, 0, true)
}
