package lsq

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// model evaluates a problem and counts the calls.
type model struct {
	*Problem
	floor       []float64 // least typical size per parameter
	step        float64   // of the differences, relative
	at          []float64 // point handed out
	r1, r2      []float64 // residuals of the differences
	evaluations int
}

func newModel(p *Problem, x0 []float64, step float64) *model {
	return &model{
		Problem: p, floor: p.floors(x0), step: step,
		at: make([]float64, p.N), r1: make([]float64, p.M), r2: make([]float64, p.M),
	}
}

// typical is the size of a parameter at which a change counts as large.
func (m *model) typical(j int, x []float64) float64 { return max(math.Abs(x[j]), m.floor[j]) }

// narrow is the distance of bounds, relative to the typical size, within which
// a parameter is fixed: no derivative can be told there.
const narrow = 1e-12

// fixed reports whether the bounds of a parameter leave no room.
func (m *model) fixed(j int, x []float64) bool {
	lo, hi := m.bounds(j)
	return hi-lo <= narrow*m.typical(j, x)
}

// residuals fills r at x and returns the sum of squares.
func (m *model) residuals(x, r []float64) (float64, error) {
	m.evaluations++
	copy(m.at, x)
	if err := m.Residuals(m.at, r); err != nil {
		return math.Inf(1), err
	}
	ssr := 0.0
	for _, v := range r {
		ssr += v * v
	}
	if math.IsNaN(ssr) || math.IsInf(ssr, 0) {
		return math.Inf(1), fmt.Errorf("lsq: sum of squares is %g", ssr)
	}
	return ssr, nil
}

// jacobian fills j at x, where the residuals are r.
func (m *model) jacobian(x, r []float64, j *mat.Dense) error {
	if m.Jacobian == nil {
		return m.differences(x, r, j)
	}
	copy(m.at, x)
	j.Zero()
	if err := m.Jacobian(m.at, j); err != nil {
		return fmt.Errorf("%w: %w", ErrSlope, err)
	}
	for i := range m.M {
		for k := range m.N {
			if v := j.At(i, k); math.IsNaN(v) || math.IsInf(v, 0) {
				return fmt.Errorf("%w: ∂r%d/∂x%d is %g", ErrSlope, i, k, v)
			}
		}
	}
	return nil
}

// stencils lists pairs of points, in steps from x, with the weights of
// (r0, r1, r2) in h·∂r/∂x. All are exact for parabolas.
var stencils = []struct{ a, b, w0, w1, w2 float64 }{
	{-1, 1, 0, -0.5, 0.5},
	{1, 2, -1.5, 2, -0.5},
	{-1, -2, 1.5, -2, 0.5},
}

// differences fills j column by column with the first stencil whose points are
// within the bounds and can be evaluated. A fixed parameter has a zero column.
func (m *model) differences(x, r []float64, j *mat.Dense) error {
	x2 := append([]float64(nil), x...)
	for k := range x {
		lo, hi := m.bounds(k)
		h := min(m.step*m.typical(k, x), (hi-lo)/2)
		h = x[k] + h - x[k] // a step that the machine number can hold
		done := m.fixed(k, x)
		if done {
			j.SetCol(k, make([]float64, m.M))
		}
		for _, s := range stencils {
			a, b := x[k]+s.a*h, x[k]+s.b*h
			if done || min(a, b) < lo || max(a, b) > hi || a == b {
				continue
			}
			x2[k] = a
			if _, err := m.residuals(x2, m.r1); err != nil {
				continue
			}
			x2[k] = b
			if _, err := m.residuals(x2, m.r2); err != nil {
				continue
			}
			for i := range r {
				j.Set(i, k, (s.w0*r[i]+s.w1*m.r1[i]+s.w2*m.r2[i])/h)
			}
			done = true
		}
		if x2[k] = x[k]; !done {
			return fmt.Errorf("%w: parameter %d at %g", ErrSlope, k, x[k])
		}
	}
	return nil
}
