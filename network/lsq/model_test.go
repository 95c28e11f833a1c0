package lsq

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// The differences of a parabola are exact but for rounding, in the middle, at
// both bounds and beside a point without a value. The slope of 3x² − x + 2 at
// 2 is *hand-worked*: 11.
func TestDifferences(t *testing.T) {
	inf := math.Inf(1)
	for _, c := range []struct {
		name        string
		lo, hi      float64
		from, to    float64 // where there is a value
		want, calls int
	}{
		{"central", -inf, inf, -inf, inf, 11, 2},
		{"lower bound", 2, inf, -inf, inf, 11, 2},
		{"upper bound", -inf, 2, -inf, inf, 11, 2},
		{"narrow", 2, 2 + 1e-6, -inf, inf, 11, 2},
		{"hole below", -inf, inf, 2, inf, 11, 3},
		{"hole above", -inf, inf, -inf, 2, 11, 5},
		{"fixed", 2, 2, -inf, inf, 0, 0},
	} {
		p := &Problem{N: 1, M: 1, Lower: []float64{c.lo}, Upper: []float64{c.hi}}
		p.Residuals = func(x, r []float64) error {
			if x[0] < c.from || x[0] > c.to {
				return errors.New("hole")
			}
			if x[0] < c.lo || x[0] > c.hi {
				t.Errorf("%s: asked at %g", c.name, x[0])
			}
			r[0] = 3*x[0]*x[0] - x[0] + 2
			return nil
		}
		m := newModel(p, []float64{2}, defaultDifference)
		j := mat.NewDense(1, 1, []float64{7})
		if err := m.jacobian([]float64{2}, []float64{12}, j); err != nil {
			t.Error(c.name, err)
		}
		if math.Abs(j.At(0, 0)-float64(c.want)) > 1e-7 || m.evaluations != c.calls {
			t.Errorf("%s: slope %.12g after %d calls, want %d after %d", c.name, j.At(0, 0), m.evaluations, c.want, c.calls)
		}
	}
}

// A step that is solved from the triangle is the least-squares solution of the
// whole system: *hand-worked* for J = [1 0; 1 1; 0 2; 0 0], r = (1, 2, 3, 4),
// D = 1, μ = 1: (JᵀJ + I)·d = −Jᵀr, [3 1; 1 6]·d = −(3, 8), d = −(10, 21)/17.
// The sum of squares falls by 2·(3·10 + 8·21)/17 − ‖J·d‖²; J·d =
// −(10, 31, 42, 0)/17.
func TestDamped(t *testing.T) {
	j := mat.NewDense(4, 2, []float64{1, 0, 1, 1, 0, 2, 0, 0})
	l := linearise(j, []float64{1, 2, 3, 4})
	d := []float64{0, 0}
	if !l.damped(d, []int{0, 1}, []float64{1, 1}, 1) {
		t.Fatal("no step")
	}
	for k, want := range []float64{-10. / 17, -21. / 17} {
		if math.Abs(d[k]-want) > 1e-14 {
			t.Errorf("step %d is %g, want %g", k, d[k], want)
		}
	}
	want := 2*(3*10+8*21)/17. - (100+961+1764)/289.
	if got := l.predicted(d); math.Abs(got-want) > 1e-13 {
		t.Errorf("predicted fall %g, want %g", got, want)
	}
	// With d1 held at −1: (2 + 1)·d0 = −(3 − 1).
	if d[1] = -1; !l.damped(d, []int{0}, []float64{1, 1}, 1) || math.Abs(d[0]+2./3) > 1e-14 || d[1] != -1 {
		t.Errorf("step beside a held one %v", d)
	}
	if g0, g1 := l.gradient(0), l.gradient(1); math.Abs(g0-3) > 1e-14 || math.Abs(g1-8) > 1e-14 {
		t.Errorf("gradient %g, %g, want 3, 8", g0, g1)
	}
}
