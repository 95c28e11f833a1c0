package lsq_test

import (
	"errors"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"wyewright/network/lsq"
)

// drawProblem is a random curved model within random bounds, some of its
// points without a value.
func drawProblem(t *rapid.T) (*lsq.Problem, []float64) {
	n, m := rapid.IntRange(1, 4).Draw(t, "n"), rapid.IntRange(1, 8).Draw(t, "m")
	value := rapid.Float64Range(-3, 3)
	list := func(k int, name string) []float64 { return rapid.SliceOfN(value, k, k).Draw(t, name) }
	a, b, y, x0 := list(n*m, "a"), list(n*m, "b"), list(m, "y"), list(n, "x0")
	hole := rapid.Float64Range(0, 12).Draw(t, "hole")
	p := &lsq.Problem{N: n, M: m}
	if rapid.Bool().Draw(t, "bounded") {
		p.Lower, p.Upper = list(n, "lower"), list(n, "upper")
		for j := range n {
			p.Lower[j], p.Upper[j] = min(p.Lower[j], p.Upper[j]), max(p.Lower[j], p.Upper[j])
		}
	}
	p.Residuals = func(x, r []float64) error {
		norm := 0.0
		for i := range r {
			r[i] = -y[i]
			for j, v := range x {
				r[i] += a[i*n+j]*v + math.Sin(b[i*n+j]*v) + 0.1*v*v*v
				norm = max(norm, math.Abs(v))
			}
		}
		if math.Abs(norm-hole) < 0.05 {
			return errors.New("hole")
		}
		return nil
	}
	return p, x0
}

// A fit never ends above its start nor outside its bounds, tells the sum of
// squares that its point has, and is the same when it is done again.
func TestNeverWorse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, x0 := drawProblem(t)
		set := &lsq.Settings{MaxIterations: 60}
		res, err := lsq.Solve(t.Context(), p, x0, set)
		if errors.Is(err, lsq.ErrStart) {
			t.Skip("starts in a hole")
		}
		if err != nil && !errors.Is(err, lsq.ErrSlope) {
			t.Fatal(err)
		}
		for j := range x0 {
			if p.Lower == nil {
				break
			}
			x0[j] = max(p.Lower[j], min(p.Upper[j], x0[j]))
			if res.X[j] < p.Lower[j] || res.X[j] > p.Upper[j] {
				t.Errorf("x%d = %g outside %g to %g", j, res.X[j], p.Lower[j], p.Upper[j])
			}
		}
		if was := squares(t, p, x0); res.SSR > was {
			t.Errorf("sum of squares rose from %g to %g", was, res.SSR)
		}
		if now := squares(t, p, res.X); now != res.SSR {
			t.Errorf("sum of squares %g told as %g", now, res.SSR)
		}
		again, _ := lsq.Solve(t.Context(), p, x0, set)
		same := cmp.Comparer(func(a, b *mat.SymDense) bool { return (a == nil) == (b == nil) && (a == nil || mat.Equal(a, b)) })
		if d := cmp.Diff(res, again, same); d != "" {
			t.Error("another result the second time:", d)
		}
	})
}

func squares(t *rapid.T, p *lsq.Problem, x []float64) float64 {
	r := make([]float64, p.M)
	if err := p.Residuals(x, r); err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for _, v := range r {
		sum += v * v
	}
	return sum
}
