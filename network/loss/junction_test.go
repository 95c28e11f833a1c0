package loss_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"wyewright/network/loss"
)

// junctions of all angles and areas.
func junction(rng *rand.Rand) *loss.Junction {
	ac := 0.01 + 0.04*rng.Float64()
	return loss.NewJunction(ac*(0.15+0.85*rng.Float64()), ac*(0.4+0.6*rng.Float64()), ac, 15+75*rng.Float64())
}

// TestJunctionContinuous: round the whole circle of directions neither leg's
// fall makes a step, and the slopes are those of finite differences.
func TestJunctionContinuous(t *testing.T) {
	for seed := range 200 {
		rng := rand.New(rand.NewPCG(uint64(seed), 9))
		j := junction(rng)
		for i, leg := range []func(m, b float64) (d, byM, byB float64){j.Main, j.Branch} {
			big := 0.0
			for k := range 720 {
				s, c := math.Sincos(float64(k) * math.Pi / 360)
				d, _, _ := leg(c, s)
				big = max(big, math.Abs(d))
			}
			// Every border of directions, from both sides.
			for _, at := range []float64{0, 90, 135, 180, 270, 315} {
				s0, c0 := math.Sincos((at - 1e-9) * math.Pi / 180)
				s1, c1 := math.Sincos((at + 1e-9) * math.Pi / 180)
				a, _, _ := leg(c0, s0)
				b, _, _ := leg(c1, s1)
				if math.Abs(a-b) > 1e-7*big {
					t.Fatalf("seed %d leg %d: a step from %g to %g at %g°", seed, i, a, b, at)
				}
			}
			for range 50 {
				s, c := math.Sincos(2 * math.Pi * rng.Float64())
				const h = 1e-6
				_, byM, byB := leg(c, s)
				up, _, _ := leg(c+h, s)
				down, _, _ := leg(c-h, s)
				if math.Abs((up-down)/(2*h)-byM) > 1e-4*big {
					t.Fatalf("seed %d leg %d at (%g, %g): slope by main %g, differences %g", seed, i, c, s, byM, (up-down)/(2*h))
				}
				up, _, _ = leg(c, s+h)
				down, _, _ = leg(c, s-h)
				if math.Abs((up-down)/(2*h)-byB) > 1e-4*big {
					t.Fatalf("seed %d leg %d at (%g, %g): slope by branch %g, differences %g", seed, i, c, s, byB, (up-down)/(2*h))
				}
			}
		}
	}
}

// TestJunctionConverges: as the wye is made for, it is the published wye.
func TestJunctionConverges(t *testing.T) {
	const ab, ac = 0.01, 0.02
	j, w := loss.NewJunction(ab, ac, ac, 45), loss.NewWye(ab, ac, ac, 45)
	for _, q := range []float64{0, 0.2, 0.5, 1} {
		kb, _ := w.Branch(q)
		ks, _ := w.Through(q)
		b, _, _ := j.Branch(1-q, q)
		m, _, _ := j.Main(1-q, q)
		if math.Abs(b-kb/(ac*ac)) > 1e-9 || math.Abs(m-ks/(ac*ac)) > 1e-9 {
			t.Errorf("q = %g: %g and %g, want %g and %g", q, m, b, ks/(ac*ac), kb/(ac*ac))
		}
	}
}

// TestJunctionByHand: out of a common duct of 1 m² straight into a main of the
// same size nothing is lost, and square into such a branch 1 + 1 velocity heads.
// Where a common duct of 1 m² parts into a main and a branch of 0.64 m² at 45°,
// all the air into the branch loses 1 + v² − 2v·cos 45° with v = 1/0.64, and a
// share x of it 1 + (vx)² − 2vx·cos 45° but for what the other leg adds, which is
// below 1.75·(1 − x)² (what a branch at rest sees of the narrow main). Hand-worked from the forms in the doc comment.
func TestJunctionByHand(t *testing.T) {
	j := loss.NewJunction(1, 1, 1, 90)
	m, _, _ := j.Main(-1, 0)
	if math.Abs(m) > 1e-12 {
		t.Errorf("straight through backward: %g", m)
	}
	b, _, _ := j.Branch(0, -1)
	if math.Abs(b+2) > 1e-12 {
		t.Errorf("from the common duct into the branch: %g, want -2", b)
	}
	j = loss.NewJunction(0.64, 0.64, 1, 45)
	for _, x := range []float64{1, 0.75, 0.5, 0.25} {
		v := x / 0.64
		want := 1 + v*v - 2*v*math.Sqrt2/2
		b, _, _ := j.Branch(-(1 - x), -x)
		if -b < want-1e-9 || -b > want+1.75*(1-x)*(1-x)+1e-9 {
			t.Errorf("share %g into the branch: %g, want %g and a little", x, -b, want)
		}
	}
}

// TestJunctionLosesPower: in every direction the junction takes power out of
// the air, but for the misfit of the published formulas (LeastWyePower) and
// what the adjusted ends leave.
func TestJunctionLosesPower(t *testing.T) {
	for seed := range 300 {
		rng := rand.New(rand.NewPCG(uint64(seed), 4))
		ac := 0.02
		am := ac
		ab := ac * (0.15 + 0.85*rng.Float64())
		j := loss.NewJunction(ab, am, ac, 15+75*rng.Float64())
		for k := range 360 {
			s, c := math.Sincos(float64(k) * math.Pi / 180)
			m, _, _ := j.Main(c, s)
			b, _, _ := j.Branch(c, s)
			if power := (m*c + b*s) * ac * ac; power < loss.LeastWyePower*8 {
				t.Fatalf("seed %d at %d°: power %g", seed, k, power)
			}
		}
	}
}
