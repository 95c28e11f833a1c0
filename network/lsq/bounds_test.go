package lsq_test

import (
	"math"
	"testing"

	"wyewright/network/lsq"
)

// bowl is (x0−1)² + (10·(x1−2))² + (x0+x1−3)²; its minimum is 0 at (1, 2).
func bowl() *lsq.Problem {
	return &lsq.Problem{N: 2, M: 3, Residuals: func(x, r []float64) error {
		r[0], r[1], r[2] = x[0]-1, 10*(x[1]-2), x[0]+x[1]-3
		return nil
	}}
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s is %.12g, want %.12g", what, got, want)
	}
}

func solve(t *testing.T, p *lsq.Problem, x0 ...float64) *lsq.Result {
	t.Helper()
	res, err := lsq.Solve(t.Context(), p, x0, nil)
	if err != nil {
		t.Fatal(err)
	}
	return res
}

// The minima are *hand-worked*: with x1 = b the slope by x0 vanishes at
// x0 = (4 − b)/2; with x0 = a that by x1 at x1 = (203 − a)/101.
func TestBounds(t *testing.T) {
	inf := math.Inf(1)
	for _, c := range []struct {
		name           string
		lower, upper   []float64
		start          []float64
		x0, x1         float64
		at0, at1, rank int
	}{
		{"none", nil, nil, []float64{5, 5}, 1, 2, 0, 0, 2},
		{"upper", nil, []float64{inf, 1}, []float64{0, 0}, 1.5, 1, 0, 1, 1},
		{"lower", []float64{3, -inf}, nil, []float64{5, 5}, 3, 200. / 101, -1, 0, 1},
		{"both", []float64{3, 4}, []float64{9, 9}, []float64{5, 5}, 3, 4, -1, -1, 0},
		{"start outside", nil, []float64{inf, 1}, []float64{0, 7}, 1.5, 1, 0, 1, 1},
		{"comes free", []float64{0, 0}, []float64{9, 9}, []float64{0, 9}, 1, 2, 0, 0, 2},
		{"fixed", []float64{-inf, 1}, []float64{inf, 1}, []float64{0, 1}, 1.5, 1, 0, -1, 1},
		{"narrow", []float64{-inf, 1}, []float64{inf, 1 + 1e-9}, []float64{0, 1}, 1.5, 1, 0, 1, 1},
	} {
		p := bowl()
		p.Lower, p.Upper = c.lower, c.upper
		res := solve(t, p, c.start...)
		near(t, c.name+": x0", res.X[0], c.x0, 2e-9)
		near(t, c.name+": x1", res.X[1], c.x1, 2e-9)
		if res.Status != lsq.Converged || res.AtBound[0] != c.at0 || res.AtBound[1] != c.at1 || res.Rank != c.rank || res.Freedom != 3-c.rank {
			t.Errorf("%s: %v, at bounds %v, rank %d, freedom %d", c.name, res.Status, res.AtBound, res.Rank, res.Freedom)
		}
		if res.Covariance == nil || (res.Covariance.At(1, 1) == 0) != (c.at1 != 0) {
			t.Errorf("%s: covariance %v", c.name, res.Covariance)
		}
	}
}

// A parameter that starts at a bound which its gradient holds is let go when
// the others have moved: x0·x1 = 1 and x0 = 2 from (−1, 0) with x1 ≥ 0. The
// minimum is *hand-worked*: (2, ½).
func TestRelease(t *testing.T) {
	p := &lsq.Problem{N: 2, M: 2, Lower: []float64{-5, 0}, Residuals: func(x, r []float64) error {
		r[0], r[1] = x[0]*x[1]-1, x[0]-2
		return nil
	}}
	res := solve(t, p, -1, 0)
	near(t, "x0", res.X[0], 2, 1e-8)
	near(t, "x1", res.X[1], 0.5, 1e-8)
}

// The covariance of a straight line through x = 0, 1, 2, 3 is *hand-worked*:
// (JᵀJ)⁻¹ = [[0.7, −0.3], [−0.3, 0.2]], the correlation −0.3/√0.14; the
// residual variance of y = 1, 3, 2, 5 about 1.1 + 1.1·x is 2.7/2.
func TestLine(t *testing.T) {
	y := []float64{1, 3, 2, 5}
	p := &lsq.Problem{N: 2, M: 4, Residuals: func(x, r []float64) error {
		for i := range r {
			r[i] = x[0] + x[1]*float64(i) - y[i]
		}
		return nil
	}}
	res := solve(t, p, 0, 0)
	near(t, "intercept", res.X[0], 1.1, 1e-8)
	near(t, "slope", res.X[1], 1.1, 1e-8)
	near(t, "variance", res.Variance(), 1.35, 1e-8)
	near(t, "error of the intercept", res.StandardErrors(4)[0], math.Sqrt(2.8), 1e-7)
	near(t, "error of the slope", res.StandardErrors(4)[1], math.Sqrt(0.8), 1e-7)
	near(t, "correlation", res.Correlation().At(0, 1), -0.3/math.Sqrt(0.14), 1e-7)
	near(t, "diagonal", res.Correlation().At(0, 0), 1, 0)
}
