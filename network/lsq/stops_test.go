package lsq_test

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"

	"wyewright/network/lsq"
)

var errOutside = errors.New("outside the domain")

// root has residuals √x − 3 and √x − 5 that exist for x > 0 only; the minimum
// is *hand-worked*: x = 16, with the sum of squares 2.
func root(x, r []float64) error {
	if x[0] <= 0 {
		return errOutside
	}
	r[0], r[1] = math.Sqrt(x[0])-3, math.Sqrt(x[0])-5
	return nil
}

func TestErrorPoints(t *testing.T) {
	p := &lsq.Problem{N: 1, M: 2, Residuals: root}
	// From 400 the undamped step leads to 400 − 2·20·16 < 0; at 1e-9 the
	// differences with this scale would cross 0.
	for _, start := range []float64{400, 1e-9} {
		p.Scale = []float64{10}
		res := solve(t, p, start)
		near(t, "x", res.X[0], 16, 1e-5)
		near(t, "sum of squares", res.SSR, 2, 1e-12)
	}
	p.Residuals = func(x, r []float64) error { r[0], r[1] = math.Log(x[0])-1, 0; return nil } // NaN below 0
	res := solve(t, p, 60)
	near(t, "e", res.X[0], math.E, 1e-7)
}

func TestErrors(t *testing.T) {
	good := bowl()
	broken := errors.New("broken")
	for _, c := range []struct {
		name string
		edit func(p *lsq.Problem)
		x0   []float64
		set  *lsq.Settings
		want error
	}{
		{"no residuals", func(p *lsq.Problem) { p.Residuals = nil }, []float64{1, 1}, nil, lsq.ErrProblem},
		{"no size", func(p *lsq.Problem) { p.M = 0 }, []float64{1, 1}, nil, lsq.ErrProblem},
		{"short start", func(*lsq.Problem) {}, []float64{1}, nil, lsq.ErrProblem},
		{"start not a number", func(*lsq.Problem) {}, []float64{1, math.NaN()}, nil, lsq.ErrProblem},
		{"short bounds", func(p *lsq.Problem) { p.Lower = []float64{0} }, []float64{1, 1}, nil, lsq.ErrProblem},
		{"crossed bounds", func(p *lsq.Problem) { p.Lower, p.Upper = []float64{0, 3}, []float64{1, 2} }, []float64{1, 1}, nil, lsq.ErrProblem},
		{"scale of 0", func(p *lsq.Problem) { p.Scale = []float64{1, 0} }, []float64{1, 1}, nil, lsq.ErrProblem},
		{"wild tolerance", func(*lsq.Problem) {}, []float64{1, 1}, &lsq.Settings{Tol: -1}, lsq.ErrProblem},
		{"negative limit", func(*lsq.Problem) {}, []float64{1, 1}, &lsq.Settings{MaxIterations: -1}, lsq.ErrProblem},
		{"bad start", func(p *lsq.Problem) { p.Residuals = func(_, _ []float64) error { return broken } }, []float64{1, 1}, nil, lsq.ErrStart},
		{"infinite start", func(p *lsq.Problem) { p.Residuals = func(_, r []float64) error { r[0] = 1e200; return nil } }, []float64{1, 1}, nil, lsq.ErrStart},
		{"bad slopes", func(p *lsq.Problem) { p.Jacobian = func([]float64, *mat.Dense) error { return broken } }, []float64{1, 1}, nil, lsq.ErrSlope},
		{"slopes not finite", func(p *lsq.Problem) {
			p.Jacobian = func(_ []float64, j *mat.Dense) error { j.Set(0, 0, math.Inf(1)); return nil }
		}, []float64{1, 1}, nil, lsq.ErrSlope},
		{"lonely point", func(p *lsq.Problem) {
			whole := p.Residuals
			p.Residuals = func(x, r []float64) error {
				if x[0] != 1 {
					return broken
				}
				return whole(x, r)
			}
		}, []float64{1, 1}, nil, lsq.ErrSlope},
	} {
		p := *good
		c.edit(&p)
		res, err := lsq.Solve(t.Context(), &p, c.x0, c.set)
		if !errors.Is(err, c.want) || (res == nil) == (c.want == lsq.ErrSlope) {
			t.Errorf("%s: %v, %+v", c.name, err, res)
		}
		if res != nil && (res.Status != lsq.Interrupted || res.X[0] != 1) {
			t.Errorf("%s: %+v", c.name, res)
		}
	}
}

func TestCancel(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	p := &lsq.Problem{N: 2, M: 2}
	calls := 0
	p.Residuals = func(x, r []float64) error { // the valley of Rosenbrock
		if calls++; calls == 30 {
			cancel()
		}
		r[0], r[1] = 10*(x[1]-x[0]*x[0]), 1-x[0]
		return nil
	}
	start := []float64{-1.2, 1}
	res, err := lsq.Solve(ctx, p, start, nil)
	if !errors.Is(err, context.Canceled) || res.Status != lsq.Interrupted || calls > 40 {
		t.Fatal(err, res, calls)
	}
	if !(res.SSR < 24.2) || res.Covariance != nil { // 24.2 at the start, hand-worked
		t.Errorf("interrupted at %+v", res)
	}
	if !slices.Equal(start, []float64{-1.2, 1}) {
		t.Error("the start was written to")
	}
}

func TestLimits(t *testing.T) {
	p := &lsq.Problem{N: 2, M: 2, Residuals: func(x, r []float64) error {
		r[0], r[1] = 10*(x[1]-x[0]*x[0]), 1-x[0]
		return nil
	}}
	res, err := lsq.Solve(t.Context(), p, []float64{-1.2, 1}, &lsq.Settings{MaxIterations: 3})
	if err != nil || res.Status != lsq.IterationLimit || res.Iterations != 3 || res.Covariance == nil {
		t.Errorf("%v, %+v", err, res)
	}
	res = solve(t, p, -1.2, 1)
	if near(t, "x1", res.X[1], 1, 1e-8); res.Status != lsq.Converged {
		t.Errorf("%+v", res)
	}
	// Slopes of the wrong sign lead nowhere.
	p.Jacobian = func(x []float64, j *mat.Dense) error {
		j.SetRow(0, []float64{20 * x[0], -10})
		j.SetRow(1, []float64{1, 0})
		return nil
	}
	res = solve(t, p, -1.2, 1)
	if res.Status != lsq.Stalled || res.X[0] != -1.2 || res.Offset < 0.1 {
		t.Errorf("%+v", res)
	}
	for s, want := range map[lsq.Status]string{lsq.Converged: "converged", lsq.IterationLimit: "iteration limit", 9: "status 9"} {
		if s.String() != want {
			t.Errorf("%q, want %q", s.String(), want)
		}
	}
}
