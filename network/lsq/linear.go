package lsq

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// linear is the model linearised at a point: ‖r + J·d‖² = ‖c + R·d‖² + rest,
// with R and c from one QR of J with r as its last column.
type linear struct {
	n    int
	r    *mat.Dense // n by n, upper triangle
	c    []float64
	norm []float64 // of the columns
}

// linearise factors a Jacobian and the residuals at its point. Rows of zeros
// fill up a problem of few residuals.
func linearise(j *mat.Dense, res []float64) *linear {
	m, n := j.Dims()
	a := mat.NewDense(max(m, n+1), n+1, nil)
	a.Slice(0, m, 0, n).(*mat.Dense).Copy(j)
	for i, v := range res {
		a.Set(i, n, v)
	}
	var qr mat.QR
	qr.Factorize(a)
	var r mat.Dense
	qr.RTo(&r)
	l := &linear{n: n, r: mat.DenseCopyOf(r.Slice(0, n, 0, n)), c: make([]float64, n), norm: make([]float64, n)}
	for k := range n {
		l.c[k] = r.At(k, n)
		l.norm[k] = mat.Norm(l.r.ColView(k), 2)
	}
	return l
}

// gradient is half the slope of the sum of squares by a parameter.
func (l *linear) gradient(k int) float64 {
	g := 0.0
	for i := range k + 1 {
		g += l.r.At(i, k) * l.c[i]
	}
	return g
}

// predicted is the fall of the sum of squares for a step by the linear model:
// −(R·d)·(2c + R·d).
func (l *linear) predicted(d []float64) float64 {
	fall := 0.0
	for i := range l.n {
		rd := 0.0
		for k := i; k < l.n; k++ {
			rd += l.r.At(i, k) * d[k]
		}
		fall -= rd * (2*l.c[i] + rd)
	}
	return fall
}

// columns returns the columns of R that are listed, above as many rows of
// zeros as are asked for.
func (l *linear) columns(list []int, extra int) *mat.Dense {
	a := mat.NewDense(l.n+extra, len(list), nil)
	for c, k := range list {
		for i := range k + 1 {
			a.Set(i, c, l.r.At(i, k))
		}
	}
	return a
}

// damped fills the listed components of d with the minimum of
// ‖c + R·d‖² + μ·‖D·d‖² over them, the others staying as they are. It
// reports whether there is a finite one.
func (l *linear) damped(d []float64, list []int, scale []float64, mu float64) bool {
	k := len(list)
	a := l.columns(list, k)
	for c, j := range list {
		a.Set(l.n+c, c, math.Sqrt(mu)*scale[j])
		d[j] = 0
	}
	rhs := mat.NewVecDense(l.n+k, nil)
	for i := range l.n {
		v := l.c[i]
		for j := i; j < l.n; j++ {
			v += l.r.At(i, j) * d[j]
		}
		rhs.SetVec(i, -v)
	}
	var qr mat.QR
	qr.Factorize(a)
	out := mat.NewVecDense(k, nil)
	// A condition error is only a warning if the numbers are finite.
	if err := qr.SolveVecTo(out, false, rhs); err != nil && math.IsInf(qr.Cond(), 1) {
		return false
	}
	for c, j := range list {
		if d[j] = out.AtVec(c); math.IsNaN(d[j]) || math.IsInf(d[j], 0) {
			return false
		}
	}
	return true
}
