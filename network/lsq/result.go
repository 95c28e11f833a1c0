package lsq

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Result is the best point of a fit and what the data say about it.
type Result struct {
	X      []float64
	SSR    float64 // Σ r_i² at X
	Status Status
	// Offset is the relative offset at X: the length of the residual vector
	// within the tangent space of the free parameters over its whole length.
	// Below 0.001 it does not matter beside the standard errors (Bates &
	// Watts 1981); it means nothing where the residuals vanish.
	Offset float64
	// Iterations counts the steps taken, a Jacobian each and one more;
	// Evaluations counts calls of Residuals, those for differences among
	// them.
	Iterations, Evaluations int
	// AtBound is −1 or +1 where a parameter is held at its lower or upper
	// bound by a gradient that pushes outward (−1 where it is fixed),
	// else 0: free.
	AtBound []int
	// Rank counts the directions of the free parameters that the data see.
	Rank int
	// Weak lists the directions that they do not see, as changes of X: the
	// parameter that moves most, relative to its typical size, moves by that
	// size.
	Weak [][]float64
	// Covariance is (JᵀJ)⁻¹ at X of the free parameters, that is their
	// covariance for residuals of variance 1. Rows of held parameters are
	// zero. It is nil where Rank is below the number of free parameters.
	Covariance *mat.SymDense
	// Freedom is the number of residuals less Rank.
	Freedom int
}

// Variance estimates the variance of the residuals, SSR/Freedom; NaN where no
// residual is left over.
func (r *Result) Variance() float64 {
	if r.Freedom <= 0 {
		return math.NaN()
	}
	return r.SSR / float64(r.Freedom)
}

// StandardErrors returns the standard error of each parameter for residuals of
// variance sigma2, zero for held ones; nil where the covariance is singular.
// They are those of the linearised model.
func (r *Result) StandardErrors(sigma2 float64) []float64 {
	if r.Covariance == nil {
		return nil
	}
	out := make([]float64, len(r.X))
	for j := range out {
		out[j] = math.Sqrt(sigma2 * r.Covariance.At(j, j))
	}
	return out
}

// Correlation returns the correlation of the parameters, with ones on the
// diagonal and zeros beside it for held ones; nil where the covariance is
// singular.
func (r *Result) Correlation() *mat.SymDense {
	if r.Covariance == nil {
		return nil
	}
	se := r.StandardErrors(1)
	out := mat.NewSymDense(len(se), nil)
	for i, a := range se {
		out.SetSym(i, i, 1)
		for j, b := range se[:i] {
			if a > 0 && b > 0 {
				out.SetSym(i, j, r.Covariance.At(i, j)/a/b)
			}
		}
	}
	return out
}
