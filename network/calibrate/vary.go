package calibrate

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"

	"wyewright/network"
)

// Fitted is the shop with the best estimates in force.
func (r *Report) Fitted() network.Spec { return apply(r.m.base, r.final.params, r.final.x, "") }

// Draw is a point drawn from the doubt of a fit.
type Draw struct {
	Params []Param
	X      []float64
}

// Variations are the shops of Draws.
func (r *Report) Variations(n int, seed uint64) ([]network.Spec, error) {
	draws, err := r.Draws(n, seed)
	if err != nil {
		return nil, err
	}
	out := make([]network.Spec, n)
	for k, d := range draws {
		out[k] = apply(r.m.base, d.Params, d.X, "")
	}
	return out, nil
}

// Draws are drawn from the doubt of the fit: normal about the best
// estimates with their covariance, held to the bounds. The same seed draws the
// same points. Parameters that the readings do not see are drawn from their
// priors, those without a prior stay. Where rivals explain the readings about as
// well as a finding, which of them is the true one is drawn too, by likelihood.
// Within an explanation it is the quadratic picture of the doubt.
func (r *Report) Draws(n int, seed uint64) ([]Draw, error) {
	rivals, err := r.swaps()
	if err != nil {
		return nil, err
	}
	rng := rand.New(rand.NewPCG(seed, 31))
	root := r.final.root()
	size := len(r.final.x)
	out := make([]Draw, n)
	z := make([]float64, size)
	for k := range out {
		for i := range z {
			z[i] = rng.NormFloat64()
		}
		x := make([]float64, size)
		ps, at := r.final.pick(rivals, rng)
		for i := range x {
			x[i] = at[i]
			for j := range root[i] {
				x[i] += root[i][j] * z[j]
			}
			p := &ps[i]
			x[i] = max(p.Lower, min(p.Upper, x[i]))
		}
		out[k] = Draw{ps, x}
	}
	return out, nil
}

// root is a lower triangle L with L·Lᵀ = covariance, rows and columns of held
// parameters 0; the priors' doubts on the diagonal where there is no covariance.
func (f *fitted) root() [][]float64 {
	size := len(f.x)
	out := make([][]float64, size)
	for i := range out {
		out[i] = make([]float64, size)
	}
	var free []int
	for i := range f.x {
		if f.cov != nil && f.cov.At(i, i) > 0 {
			free = append(free, i)
		}
	}
	if len(free) > 0 {
		part := mat.NewSymDense(len(free), nil)
		for a, i := range free {
			for b, j := range free {
				part.SetSym(a, b, f.cov.At(i, j))
			}
		}
		var chol mat.Cholesky
		if chol.Factorize(part) {
			var low mat.TriDense
			chol.LTo(&low)
			for a, i := range free {
				for b, j := range free[:a+1] {
					out[i][j] = low.At(a, b)
				}
			}
			return out
		}
	}
	for i := range f.x {
		out[i][i] = f.params[i].Doubt
		if f.cov != nil && f.cov.At(i, i) > 0 {
			out[i][i] = math.Sqrt(f.cov.At(i, i))
		}
	}
	return out
}
