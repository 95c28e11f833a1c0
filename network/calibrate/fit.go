package calibrate

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"wyewright/network/lsq"
)

// Estimate is a fitted parameter.
type Estimate struct {
	Param
	Value float64
	// Sigma is the standard error, +Inf where the readings do not see it.
	Sigma float64
	// AtBound is −1 or 1 where the value stands at its lower or upper bound.
	AtBound int
}

// nearOffset is the relative offset (Bates & Watts 1981) up to which a fit that
// can go no further counts as settled: the solver's own tolerance makes the
// differences a little rough.
const nearOffset = 0.05

// difference is the step of the derivatives as a share of a parameter's size:
// about the cube root of the network solver's relative tolerance.
const difference = 1e-3

// fitted is one fit.
type fitted struct {
	params  []Param
	x       []float64
	chi2    float64 // readings and priors
	settled bool
	cov     *mat.SymDense // of the free parameters' x; nil where there is none
	bound   []int
	pred    []float64
	miss    []float64 // per reading
}

// fit fits parameters to the readings that are not skipped, from the priors and
// from each start of the last parameter.
func (m *model) fit(ps []Param, from []float64, starts []float64, skip []bool) (*fitted, error) {
	var best *fitted
	if len(starts) == 0 {
		starts = []float64{math.NaN()}
	}
	for _, start := range starts {
		x0 := make([]float64, len(ps))
		for i := range ps {
			x0[i] = ps[i].Prior
			if i < len(from) {
				x0[i] = from[i]
			}
		}
		if !math.IsNaN(start) {
			x0[len(ps)-1] = start
		}
		f, err := m.fitFrom(ps, x0, skip)
		if err != nil {
			return nil, err
		}
		if best == nil || f.chi2 < best.chi2 {
			best = f
		}
	}
	return best, nil
}

func (m *model) fitFrom(ps []Param, x0 []float64, skip []bool) (*fitted, error) {
	n, rows := len(ps), len(m.readings)+len(ps)
	p := &lsq.Problem{N: n, M: rows, Lower: make([]float64, n), Upper: make([]float64, n), Scale: make([]float64, n),
		Residuals: func(x, out []float64) error { return m.residuals(ps, x, skip, out) }}
	for i := range ps {
		p.Lower[i], p.Upper[i], p.Scale[i] = ps[i].Lower, ps[i].Upper, ps[i].Scale
	}
	r, err := lsq.Solve(m.ctx, p, x0, &lsq.Settings{Difference: difference})
	if err != nil {
		return nil, err
	}
	f := &fitted{params: ps, x: r.X, chi2: r.SSR, settled: r.Status == lsq.Converged || r.Offset < nearOffset, bound: r.AtBound, cov: r.Covariance,
		pred: make([]float64, len(m.readings)), miss: make([]float64, len(m.readings))}
	if err := m.predict(ps, r.X, f.pred); err != nil {
		return nil, err
	}
	for i := range m.readings {
		f.miss[i] = m.readings[i].miss(f.pred[i])
	}
	return f, nil
}

// estimates are the fitted parameters with their doubts.
func (f *fitted) estimates() []Estimate {
	out := make([]Estimate, len(f.params))
	for i := range out {
		sigma := math.Inf(1)
		if f.cov != nil {
			if v := f.cov.At(i, i); v > 0 {
				sigma = math.Sqrt(v)
			}
		}
		out[i] = Estimate{Param: f.params[i], Value: f.x[i], Sigma: sigma, AtBound: f.bound[i]}
	}
	return out
}
