package lsq

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Errors of Solve.
var (
	// ErrProblem marks a problem that is not well posed: sizes that do not
	// fit, crossed bounds, a scale that is not positive.
	ErrProblem = errors.New("lsq: bad problem")
	// ErrStart marks a first point that cannot be evaluated.
	ErrStart = errors.New("lsq: start cannot be evaluated")
	// ErrSlope marks a point that can be evaluated but whose derivatives
	// cannot. The result is the best point so far.
	ErrSlope = errors.New("lsq: derivatives cannot be evaluated")
)

// Problem is: minimise Σ r_i(x)² with Lower ≤ x ≤ Upper. The unit of each
// parameter is the caller's own.
type Problem struct {
	// Residuals fills r (length M) at x (length N) and keeps neither. An
	// error, or a value that is not finite, marks a point that cannot be
	// evaluated: the step is shortened.
	Residuals func(x, r []float64) error
	// Jacobian fills j (M by N, zeroed) with ∂r_i/∂x_k. Nil means differences of
	// second order: central, one-sided at a bound or beside a point that
	// cannot be evaluated.
	Jacobian func(x []float64, j *mat.Dense) error
	// N and M count parameters and residuals. M may be the smaller.
	N, M int
	// Lower and Upper bound the parameters; nil means no bounds, ±Inf none
	// for that parameter. Bounds within 1e-12 of its typical size of each
	// other hold a parameter fixed.
	Lower, Upper []float64
	// Scale is the typical size of each parameter, 1e-100 to 1e100. A change
	// of that size, or of the present size |x| if larger, counts as large.
	// Nil means a thousandth of |x0| (of 1 where x0 is 0).
	Scale []float64
}

// smallShare of the start is the least typical size where no Scale is given.
const smallShare = 1e-3

// leastScale keeps quotients of scales within the range of numbers.
const leastScale = 1e-100

// check returns what is wrong with the problem for a start.
func (p *Problem) check(x0 []float64) error {
	bad := func(format string, args ...any) error {
		return fmt.Errorf("%w: %s", ErrProblem, fmt.Sprintf(format, args...))
	}
	switch {
	case p.Residuals == nil:
		return bad("no residuals")
	case p.N < 1 || p.M < 1:
		return bad("%d parameters and %d residuals", p.N, p.M)
	case len(x0) != p.N:
		return bad("start of %d values for %d parameters", len(x0), p.N)
	}
	for _, v := range []struct {
		name   string
		values []float64
	}{{"lower bounds", p.Lower}, {"upper bounds", p.Upper}, {"scale", p.Scale}} {
		if v.values != nil && len(v.values) != p.N {
			return bad("%s of %d values for %d parameters", v.name, len(v.values), p.N)
		}
	}
	for j, v := range x0 {
		lo, hi := p.bounds(j)
		switch {
		case math.IsNaN(v) || math.IsInf(v, 0):
			return bad("start %d is %g", j, v)
		case !(lo <= hi) || math.IsInf(lo, 1) || math.IsInf(hi, -1):
			return bad("bounds %g and %g of parameter %d", lo, hi, j)
		case p.Scale != nil && !(p.Scale[j] >= leastScale && p.Scale[j] <= 1/leastScale):
			return bad("scale %g of parameter %d", p.Scale[j], j)
		}
	}
	return nil
}

// bounds returns the bounds of a parameter.
func (p *Problem) bounds(j int) (lo, hi float64) {
	lo, hi = math.Inf(-1), math.Inf(1)
	if p.Lower != nil {
		lo = p.Lower[j]
	}
	if p.Upper != nil {
		hi = p.Upper[j]
	}
	return lo, hi
}

// clamp moves a value of a parameter into its bounds.
func (p *Problem) clamp(j int, v float64) float64 {
	lo, hi := p.bounds(j)
	return max(lo, min(hi, v))
}

// floors returns the least typical size of each parameter.
func (p *Problem) floors(x0 []float64) []float64 {
	out := make([]float64, p.N)
	for j, v := range x0 {
		switch {
		case p.Scale != nil:
			out[j] = p.Scale[j]
		case math.Abs(v) >= leastScale:
			out[j] = smallShare * math.Abs(v)
		default:
			out[j] = smallShare
		}
	}
	return out
}
