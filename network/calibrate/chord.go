package calibrate

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"wyewright/network/lsq"
)

// chord fits near a fit that is there already: the derivatives of the
// predictions by that fit's parameters are computed once and kept. It finds in
// some ten solves what a full fit finds in hundreds, up to what the kept
// derivatives are off.
type chord struct {
	m   *model
	at  *fitted
	jac *mat.Dense // readings by parameters
}

// tangents computes the derivatives of a fit's predictions.
func (m *model) tangents(f *fitted) (*chord, error) {
	jac := mat.NewDense(len(m.readings), len(f.params), nil)
	pred := make([]float64, len(m.readings))
	for j := range f.params {
		h := step(&f.params[j], f.x[j])
		x := append([]float64(nil), f.x...)
		x[j] += h
		if err := m.predict(f.params, x, pred); err != nil {
			return nil, err
		}
		for i := range pred {
			jac.Set(i, j, (pred[i]-f.pred[i])/h)
		}
	}
	return &chord{m: m, at: f, jac: jac}, nil
}

// step is that of a difference, away from the nearer bound.
func step(p *Param, x float64) float64 {
	h := difference * max(p.Scale, math.Abs(x))
	if x+h > p.Upper {
		return -h
	}
	return h
}

// chordTol and chordSteps end a fit with kept derivatives.
const (
	chordTol   = 2e-3
	chordSteps = 15
)

// fit fits the parameters of the chord's fit, those from its number on being
// new, from x0. One parameter may be held: fixed is its index, or −1.
func (c *chord) fit(ps []Param, x0 []float64, skip []bool, fixed int) (*lsq.Result, error) {
	m, old := c.m, len(c.at.params)
	p := m.problem(ps, skip)
	if fixed >= 0 {
		p.Lower[fixed], p.Upper[fixed] = x0[fixed], x0[fixed]
	}
	pred, other := make([]float64, len(m.readings)), make([]float64, len(m.readings))
	p.Jacobian = func(x []float64, j *mat.Dense) error {
		if err := m.predict(ps, x, pred); err != nil {
			return err
		}
		slope := make([]float64, len(pred))
		for i := range pred {
			if skip == nil || !skip[i] {
				slope[i] = m.readings[i].slope(pred[i])
			}
		}
		for k := range ps {
			if ps[k].Doubt > 0 {
				j.Set(len(pred)+k, k, 1/ps[k].Doubt)
			}
			if k < old {
				for i := range pred {
					j.Set(i, k, slope[i]*c.jac.At(i, k))
				}
				continue
			}
			h := step(&ps[k], x[k])
			y := append([]float64(nil), x...)
			y[k] += h
			if err := m.predict(ps, y, other); err != nil {
				return err
			}
			for i := range pred {
				j.Set(i, k, slope[i]*(other[i]-pred[i])/h)
			}
		}
		return nil
	}
	return lsq.Solve(m.ctx, p, x0, &lsq.Settings{Tol: chordTol, MaxIterations: chordSteps})
}
