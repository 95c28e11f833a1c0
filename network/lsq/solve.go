package lsq

import (
	"context"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

const (
	// firstDamping is μ at the start, relative to D² (Madsen, Nielsen &
	// Tingleff 2004 advise 1e-6 for a good start and 1e-3 or 1 for another).
	firstDamping = 1e-3
	// leastDamping keeps μ from vanishing, so that it can grow again.
	leastDamping = 1e-20
	// standstill is the step relative to the typical size below which a
	// point does not move.
	standstill = 1e-15
	// resolution is the offset whose promise, a fall of the sum of squares
	// by offset² of itself, drowns in its rounding: a few times √2⁻⁵².
	resolution = 1e-7
)

// search is one fit under way.
type search struct {
	*model
	set     Settings
	x, r    []float64
	ssr     float64
	mu, nu  float64   // damping and its next growth
	scale   []float64 // D
	lin     *linear
	typ     []float64 // typical sizes at x
	atBound []int
	free    []int
	sp      *spectrum
	full    []float64 // undamped step
	offset  float64
}

// Solve fits the parameters from a start, which is moved into the bounds first.
// It allocates its own workspace and uses no random numbers: the same problem
// gives the same result. The sum of squares of the result is never above that
// of the start. Errors: ErrProblem, ErrStart (both without a result), ErrSlope
// and the error of the context, both with the best point so far but nothing
// about its surroundings.
func Solve(ctx context.Context, p *Problem, x0 []float64, s *Settings) (*Result, error) {
	set, err := s.filled()
	if err != nil {
		return nil, err
	}
	if err := p.check(x0); err != nil {
		return nil, err
	}
	x := slices.Clone(x0)
	for j, v := range x {
		x[j] = p.clamp(j, v)
	}
	w := &search{
		model: newModel(p, x, set.Difference), set: set, x: x, r: make([]float64, p.M),
		mu: firstDamping, nu: 2, scale: make([]float64, p.N), typ: make([]float64, p.N), atBound: make([]int, p.N),
	}
	if w.ssr, err = w.residuals(w.x, w.r); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrStart, err)
	}
	res := &Result{}
	res.Status, err = w.run(ctx, &res.Iterations)
	res.X, res.SSR, res.Evaluations = w.x, w.ssr, w.evaluations
	if err == nil {
		res.Offset, res.AtBound = w.offset, w.atBound
		res.Rank, res.Weak, res.Covariance = w.sp.rank, w.sp.weak(w.typ), w.sp.covariance(p.N)
		res.Freedom = p.M - res.Rank
	}
	return res, err
}

// run takes steps until the search ends at a point whose linear model is known.
func (w *search) run(ctx context.Context, iterations *int) (Status, error) {
	j := mat.NewDense(w.M, w.N, nil)
	for ; ; *iterations++ {
		if err := ctx.Err(); err != nil {
			return Interrupted, err
		}
		if err := w.jacobian(w.x, w.r, j); err != nil {
			return Interrupted, err
		}
		w.survey(j)
		if w.converged() {
			return Converged, nil
		}
		if *iterations >= w.set.MaxIterations {
			return IterationLimit, nil
		}
		moved, err := w.advance(ctx)
		switch {
		case err != nil:
			return Interrupted, err
		case !moved && w.offset <= resolution:
			return Converged, nil
		case !moved:
			return Stalled, nil
		}
	}
}

// survey learns the linear model at x and which parameters are free.
func (w *search) survey(j *mat.Dense) {
	w.lin = linearise(j, w.r)
	w.free = nil
	for k := range w.x {
		w.scale[k] = max(w.scale[k], w.lin.norm[k])
		w.typ[k] = w.typical(k, w.x)
		lo, hi := w.bounds(k)
		g := w.lin.gradient(k)
		w.atBound[k] = 0
		switch {
		case w.x[k] <= lo && g > 0, w.fixed(k, w.x):
			w.atBound[k] = -1
		case w.x[k] >= hi && g < 0:
			w.atBound[k] = 1
		default:
			w.free = append(w.free, k)
		}
	}
	w.sp = w.lin.decompose(w.free, w.typ, w.set.RankTol)
	var length float64
	w.full, length = w.sp.newton(w.lin)
	w.offset = 0
	if w.ssr > 0 {
		w.offset = length / math.Sqrt(w.ssr)
	}
}

// converged reports whether the offset is small; or else whether the undamped
// step is, by the parameters and by what it does to the residuals. The latter
// guards against a step that is small for a typical size far off.
func (w *search) converged() bool {
	top := 0.0
	for _, k := range w.free {
		top = max(top, w.lin.norm[k]*math.Abs(w.x[k]))
	}
	return w.offset <= w.set.Tol ||
		w.offset*math.Sqrt(w.ssr) <= w.set.Tol*top && w.within(w.full, w.set.Tol)
}

// within reports whether a step is small relative to the typical sizes.
func (w *search) within(d []float64, tol float64) bool {
	for k, v := range d {
		if math.Abs(v) > tol*w.typ[k] {
			return false
		}
	}
	return true
}

// advance raises the damping until a step lowers the sum of squares, and takes
// it. It reports whether there was one.
func (w *search) advance(ctx context.Context) (bool, error) {
	x, r := make([]float64, w.N), make([]float64, w.M)
	for {
		if err := ctx.Err(); err != nil {
			return false, err
		}
		d, ok := w.bounded()
		if ok {
			if w.within(d, standstill) {
				return false, nil
			}
			for k := range x {
				x[k] = w.clamp(k, w.x[k]+d[k])
			}
			expected := w.lin.predicted(d)
			ssr, err := w.residuals(x, r)
			if err == nil && ssr < w.ssr && expected > 0 {
				gain := (w.ssr - ssr) / expected
				w.mu = max(leastDamping, w.mu*max(1./3, 1-math.Pow(2*gain-1, 3)))
				w.nu = 2
				w.x, w.r, w.ssr = x, r, ssr
				return true, nil
			}
		}
		if w.mu *= w.nu; math.IsInf(w.mu, 0) {
			return false, nil
		}
		w.nu *= 2
	}
}

// bounded returns the damped step within the bounds: parameters that would
// cross theirs stop there, and the others are solved anew.
func (w *search) bounded() (d []float64, ok bool) {
	d = make([]float64, w.N)
	for list := w.free; len(list) > 0; {
		if !w.lin.damped(d, list, w.damping(), w.mu) {
			return nil, false
		}
		var inside []int
		for _, k := range list {
			to := w.x[k] + d[k]
			if end := w.clamp(k, to); end != to {
				d[k] = end - w.x[k]
				continue
			}
			inside = append(inside, k)
		}
		if len(inside) == len(list) {
			break
		}
		list = inside
	}
	return d, true
}

// damping is D, with ones for parameters that have never moved the residuals.
func (w *search) damping() []float64 {
	out := slices.Clone(w.scale)
	for k, v := range out {
		if v == 0 {
			out[k] = 1
		}
	}
	return out
}
