package network

import (
	"errors"
	"fmt"
)

// ErrInvalid marks a Spec that does not describe a network.
var ErrInvalid = errors.New("network: invalid spec")

// ErrNotConverged marks a solve whose answer must not be used.
var ErrNotConverged = errors.New("network: not converged")

// SpecError is one fault of a Spec. Path names the part, for example
// "runs/main 2/pieces/0".
type SpecError struct {
	Path, Msg, Hint string
}

// Error implements error.
func (e *SpecError) Error() string { return fmt.Sprintf("network: %s: %s", e.Path, e.Msg) }

// Unwrap makes errors.Is(err, ErrInvalid) true.
func (e *SpecError) Unwrap() error { return ErrInvalid }

// ConvergenceError says how far a solve got.
type ConvergenceError struct {
	State      string
	Status     Status
	Iterations int
	// Pressure and Mass are the largest residuals, Pa and m³/s; Worst names
	// the run that has the largest one.
	Pressure, Mass float64
	Worst          string
}

// Error implements error.
func (e *ConvergenceError) Error() string {
	return fmt.Sprintf("network: state %q %s after %d iterations: %.3g Pa left, worst at %s",
		e.State, e.Status, e.Iterations, e.Pressure, e.Worst)
}

// Unwrap makes errors.Is(err, ErrNotConverged) true.
func (e *ConvergenceError) Unwrap() error { return ErrNotConverged }

// faults collects SpecErrors.
type faults []error

func (f *faults) add(path, msg, hint string) {
	*f = append(*f, &SpecError{Path: path, Msg: msg, Hint: hint})
}
