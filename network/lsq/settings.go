package lsq

import "fmt"

// Settings of a fit; nil and zero fields mean the defaults.
type Settings struct {
	// Tol ends the search when the relative offset, or else every
	// component of the undamped step relative to the typical size of its
	// parameter, is not above it (default 1e-8).
	Tol float64
	// RankTol is the singular value, relative to the largest, below which
	// the data do not see a direction (default 1e-8). Columns of the
	// Jacobian are brought to equal norm first.
	RankTol float64
	// Difference is the step of the differences relative to the typical
	// size of a parameter (default 6.1e-6, the cube root of the machine
	// precision). Residuals that are themselves solved to a relative
	// error e want about the cube root of e.
	Difference float64
	// MaxIterations limits the steps taken (default 500).
	MaxIterations int
}

const (
	defaultTol        = 1e-8
	defaultRankTol    = 1e-8
	defaultDifference = 6.055454452393343e-06 // ∛2⁻⁵²
	defaultIterations = 500
)

// filled returns the settings with the defaults in place.
func (s *Settings) filled() (Settings, error) {
	var out Settings
	if s != nil {
		out = *s
	}
	for _, f := range []struct {
		v   *float64
		def float64
	}{{&out.Tol, defaultTol}, {&out.RankTol, defaultRankTol}, {&out.Difference, defaultDifference}} {
		if *f.v == 0 {
			*f.v = f.def
		}
		if !(*f.v > 0 && *f.v < 1) {
			return out, fmt.Errorf("%w: setting %g is not between 0 and 1", ErrProblem, *f.v)
		}
	}
	if out.MaxIterations == 0 {
		out.MaxIterations = defaultIterations
	}
	if out.MaxIterations < 0 {
		return out, fmt.Errorf("%w: %d iterations", ErrProblem, out.MaxIterations)
	}
	return out, nil
}

// Status says why a fit stopped.
type Status int

const (
	// Interrupted fits ended by the context or an error.
	Interrupted Status = iota
	// Converged fits meet Settings.Tol at a local minimum, or come so near
	// that the fall still promised drowns in the rounding of the sum.
	// Look at Rank too: a valley that runs to infinity ends flat.
	Converged
	// Stalled fits found no step that lowers the sum of squares although
	// Tol is not met: the derivatives are too noisy for more, or the points
	// around cannot be evaluated. Result.Offset says how far it came.
	Stalled
	// IterationLimit fits took Settings.MaxIterations steps.
	IterationLimit
)

var statusNames = [...]string{"interrupted", "converged", "stalled", "iteration limit"}

// String names the status.
func (s Status) String() string {
	if s < 0 || int(s) >= len(statusNames) {
		return fmt.Sprintf("status %d", int(s))
	}
	return statusNames[s]
}
