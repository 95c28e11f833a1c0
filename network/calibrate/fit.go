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
	// Sigma is the standard error of the quadratic picture, +Inf where the
	// readings do not see it.
	Sigma float64
	// Low and High hold it with 90 %: the profile likelihood, which follows
	// the model where it bends. They are the parameter's bounds where no value
	// can be ruled out.
	Low, High float64
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
	skip    []bool
	chi2    float64 // readings and priors
	settled bool
	cov     *mat.SymDense // of the free parameters' x; nil where there is none
	bound   []int
	pred    []float64
	miss    []float64 // per reading
}

// problem is the least-squares problem of parameters.
func (m *model) problem(ps []Param, skip []bool) *lsq.Problem {
	n := len(ps)
	p := &lsq.Problem{N: n, M: len(m.readings) + n, Lower: make([]float64, n), Upper: make([]float64, n), Scale: make([]float64, n),
		Residuals: func(x, out []float64) error { return m.predictions(ps, x, skip, out) }}
	for i := range ps {
		p.Lower[i], p.Upper[i], p.Scale[i] = ps[i].Lower, ps[i].Upper, ps[i].Scale
	}
	return p
}

// priors are the values expected before any reading.
func priors(ps []Param) []float64 {
	out := make([]float64, len(ps))
	for i := range ps {
		out[i] = ps[i].Prior
	}
	return out
}

// rounds bounds how often a fit takes new derivatives; still is the fall of the
// sum of squares below which it stands still.
const (
	rounds = 12
	still  = 1e-3
)

// fit fits parameters from a start to the readings that are not skipped: by
// rounds of a fit with kept derivatives, taken anew where the last one ended,
// until the sum falls no more.
func (m *model) fit(ps []Param, x0 []float64, skip []bool) (*fitted, error) {
	f := &fitted{params: ps, x: x0, skip: skip, chi2: math.Inf(1)}
	for range rounds {
		if err := m.show(f); err != nil {
			return nil, err
		}
		c, err := m.tangents(f)
		if err != nil {
			return nil, err
		}
		r, err := c.fit(ps, f.x, skip, -1)
		if err != nil {
			return nil, err
		}
		fell := f.chi2 - r.SSR
		f.x, f.chi2, f.cov, f.bound = r.X, r.SSR, r.Covariance, r.AtBound
		f.settled = fell < still && (r.Status == lsq.Converged || r.Offset < nearOffset)
		if fell < still {
			break
		}
	}
	return f, m.show(f)
}

// show fills what a fit predicts.
func (m *model) show(f *fitted) error {
	f.pred, f.miss = make([]float64, len(m.readings)), make([]float64, len(m.readings))
	if err := m.predict(f.params, f.x, f.pred); err != nil {
		return err
	}
	for i := range m.readings {
		f.miss[i] = m.readings[i].miss(f.pred[i])
	}
	return nil
}

// estimates are the fitted parameters with their doubts.
func (f *fitted) estimates() []Estimate {
	out := make([]Estimate, len(f.params))
	for i := range out {
		out[i] = f.estimate(i)
	}
	return out
}

// estimate is one of them, its range that of the quadratic picture.
func (f *fitted) estimate(i int) Estimate {
	p := f.params[i]
	e := Estimate{Param: p, Value: f.x[i], Sigma: math.Inf(1), AtBound: f.bound[i]}
	if f.cov != nil {
		if v := f.cov.At(i, i); v > 0 {
			e.Sigma = math.Sqrt(v)
		}
	}
	e.Low, e.High = max(p.Lower, e.Value-ninety*e.Sigma), min(p.Upper, e.Value+ninety*e.Sigma)
	return e
}
