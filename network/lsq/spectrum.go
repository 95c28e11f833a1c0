package lsq

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// spectrum is the singular value decomposition of the listed columns of a
// linear model, brought to equal norm: R·E⁻¹ = U·S·Vᵀ.
type spectrum struct {
	list  []int
	equal []float64 // E per listed column
	s     []float64
	u, v  mat.Dense
	rank  int
}

// decompose judges the rank of the listed columns. A column whose typical
// change moves the residuals less than tol of the strongest counts as unseen
// and keeps its small norm, so that noise is not blown up to a signal.
func (l *linear) decompose(list []int, typical []float64, tol float64) *spectrum {
	sp := &spectrum{list: list, equal: make([]float64, len(list))}
	top := 0.0
	for _, j := range list {
		top = max(top, l.norm[j]*typical[j])
	}
	if top == 0 {
		return sp
	}
	a := l.columns(list, 0)
	for c, j := range list {
		if sp.equal[c] = l.norm[j]; l.norm[j]*typical[j] <= tol*top {
			sp.equal[c] = top / typical[j]
		}
		for i := range l.n {
			a.Set(i, c, a.At(i, c)/sp.equal[c])
		}
	}
	var svd mat.SVD
	if !svd.Factorize(a, mat.SVDThin) {
		return sp
	}
	sp.s = svd.Values(nil)
	svd.UTo(&sp.u)
	svd.VTo(&sp.v)
	for _, s := range sp.s {
		if s > tol*sp.s[0] {
			sp.rank++
		}
	}
	return sp
}

// newton returns the undamped step in the directions that the data see, and
// the length of the part of c in them.
func (sp *spectrum) newton(l *linear) (d []float64, length float64) {
	d = make([]float64, l.n)
	for k := range sp.rank {
		uc := 0.0
		for i, c := range l.c {
			uc += sp.u.At(i, k) * c
		}
		length = math.Hypot(length, uc)
		for c, j := range sp.list {
			d[j] -= sp.v.At(c, k) * uc / sp.s[k] / sp.equal[c]
		}
	}
	return d, length
}

// covariance is (JᵀJ)⁻¹ = E⁻¹·V·S⁻²·Vᵀ·E⁻¹ of the listed columns, with zeros for
// the others; nil where they are not all seen.
func (sp *spectrum) covariance(n int) *mat.SymDense {
	if sp.rank < len(sp.list) {
		return nil
	}
	out := mat.NewSymDense(n, nil)
	for a, i := range sp.list {
		for b, j := range sp.list[:a+1] {
			sum := 0.0
			for k, s := range sp.s {
				sum += sp.v.At(a, k) / s * sp.v.At(b, k) / s
			}
			out.SetSym(i, j, sum/sp.equal[a]/sp.equal[b])
		}
	}
	return out
}

// weak lists the directions that the data do not see as changes of the
// parameters, the one that moves most by its typical size and upward.
func (sp *spectrum) weak(typical []float64) [][]float64 {
	var out [][]float64
	for k := sp.rank; k < len(sp.list); k++ {
		w, top := make([]float64, len(typical)), 0.0
		for c, j := range sp.list {
			switch {
			case sp.s != nil:
				w[j] = sp.v.At(c, k) / sp.equal[c]
			case c == k: // nothing moves the residuals
				w[j] = typical[j]
			}
			if share := w[j] / typical[j]; math.Abs(share) > math.Abs(top)*(1+1e-9) {
				top = share
			}
		}
		for j := range w {
			w[j] = w[j]/top + 0 // no −0
		}
		out = append(out, w)
	}
	return out
}
