package lsq_test

import (
	"math"
	"testing"

	"wyewright/network/lsq"
)

// sum has the parameters x0 + x1, which only count together, x2, and x3, which
// counts for nothing. The directions unseen are *hand-worked*.
func sum() *lsq.Problem {
	return &lsq.Problem{N: 4, M: 6, Residuals: func(x, r []float64) error {
		for i := range r {
			at := float64(i) / 5
			r[i] = (x[0]+x[1])*at*at + math.Exp(x[2]*at) - 3*at - 1 - 0.1*math.Sin(7*at)
		}
		return nil
	}}
}

func TestWeakPair(t *testing.T) {
	p := sum()
	p.Scale = []float64{1, 2, 1, 1}
	p.Lower, p.Upper = []float64{-9, -9, -9, 5}, []float64{9, 9, 9, 5}
	res := solve(t, p, 0.5, 0.5, 0.5, 5)
	if res.Status != lsq.Converged || res.Rank != 2 || len(res.Weak) != 1 {
		t.Fatalf("%v, rank %d, weak %v", res.Status, res.Rank, res.Weak)
	}
	// x0 moves by its typical size of 1, which is more than x1 does by its 2.
	want := []float64{1, -1, 0, 0}
	for j, w := range res.Weak[0] {
		near(t, "weak direction", w, want[j], 1e-6)
	}
	if res.Covariance != nil || res.StandardErrors(1) != nil || res.Correlation() != nil {
		t.Error("a singular fit has a covariance")
	}
}

func TestUnseen(t *testing.T) {
	res := solve(t, sum(), 0.5, 0.5, 0.5, 5)
	if res.Status != lsq.Converged || res.Rank != 2 || len(res.Weak) != 2 {
		t.Fatalf("%v, rank %d, weak %v", res.Status, res.Rank, res.Weak)
	}
	near(t, "x3", res.X[3], 5, 0)
	for _, w := range res.Weak {
		near(t, "sum of the pair in a weak direction", w[0]+w[1], 0, 1e-6)
		near(t, "x2 in a weak direction", w[2], 0, 1e-6)
	}
	a, b := res.Weak[0], res.Weak[1]
	if math.Abs(a[0]*b[3]-a[3]*b[0]) < 0.1 {
		t.Errorf("weak directions %v and %v are one", a, b)
	}
	one := &lsq.Problem{N: 1, M: 2, Residuals: func(_, r []float64) error { r[0], r[1] = 1, 2; return nil }}
	res = solve(t, one, 4)
	if res.Rank != 0 || len(res.Weak) != 1 || res.Weak[0][0] != 4 || res.X[0] != 4 || res.Freedom != 2 {
		t.Errorf("nothing seen: %+v", res)
	}
}

// More parameters than residuals: any point on x0 + 2·x1 = 3 solves it.
func TestFewResiduals(t *testing.T) {
	p := &lsq.Problem{N: 2, M: 1, Residuals: func(x, r []float64) error { r[0] = x[0] + 2*x[1] - 3; return nil }}
	res := solve(t, p, 5, 5)
	near(t, "x0 + 2·x1", res.X[0]+2*res.X[1], 3, 1e-9)
	if res.Rank != 1 || len(res.Weak) != 1 || !math.IsNaN(res.Variance()) {
		t.Errorf("rank %d, weak %v, variance %g", res.Rank, res.Weak, res.Variance())
	}
}
