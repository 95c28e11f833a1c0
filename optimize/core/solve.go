package core

import (
	"context"
	"math"
)

// Status says why a search ended.
type Status int

// Statuses of a search.
const (
	NotSearched Status = iota
	// Optimal: no plan that meets everything is cheaper.
	Optimal
	// Infeasible: no plan meets everything.
	Infeasible
	// Feasible: stopped with a plan; Bound says how cheap any plan can be.
	Feasible
	// Undecided: stopped without a plan; Bound holds for every plan there may be.
	Undecided
)

var statusNames = [...]string{"not searched", "optimal", "infeasible", "feasible", "undecided"}

// String is the status in words.
func (s Status) String() string { return statusNames[s] }

// Settings limit a search. The zero value is the default.
type Settings struct {
	// Scale multiplies all required flows of tools; 0 means 1.
	Scale float64
	// MaxNodes ends the search after so many nodes; 0 means no limit. A search
	// ended by it is reproducible; one ended by its context is not.
	MaxNodes int
	// Start is a plan to begin with, nil for none. It need not meet anything.
	Start []int
	// Gap ends the search once (cost − bound) / cost is no more, with Feasible;
	// 0 goes on to the proof.
	Gap float64
	// Neighbourhood is how many runs are freed at a time, all others as in the
	// best plan, to find better ones before branch and bound begins; where that
	// finds none, more. 0 stands for 12
	// where there are more than 40 runs and none else, −1 for none.
	Neighbourhood int
}

// Result is what a search found.
type Result struct {
	Status Status
	Pick   []int // option per run, nil if none was found
	Cost   int64
	Bound  int64 // no plan that meets everything costs less
	Nodes  int
}

// Gap is (Cost − Bound) / Cost, 0 for a proof, +Inf without a plan.
func (r *Result) Gap() float64 {
	switch {
	case r.Status == Optimal, r.Status == Infeasible:
		return 0
	case r.Pick == nil:
		return math.Inf(1)
	case r.Cost == 0:
		return 0
	}
	return float64(r.Cost-r.Bound) / float64(r.Cost)
}

// Solve finds the cheapest plan. The error is for a wrong problem (it wraps
// ErrProblem); that there is no plan, or that ctx or a limit stopped the
// search, is a Status.
func Solve(ctx context.Context, p *Problem, set *Settings) (*Result, error) {
	if err := p.Validate(); err != nil {
		return nil, err
	}
	s := newSearch(ctx, p, set)
	s.run()
	return s.result(), nil
}
