package layout

import (
	"context"
	"math"

	"wyewright/optimize/core"
)

// Settings limit a search. The zero value is the default: no limits.
type Settings struct {
	// MaxNodes ends the search after so many nodes (runs of the program).
	MaxNodes int
	// MaxLabels ends the search after so many labels.
	MaxLabels int
}

// Result is what a search found.
type Result struct {
	Status core.Status
	// Tree holds the picks in order of their edges, nil if none was found; with
	// Status Optimal it may be empty.
	Tree []Pick
	Cost int64
	// Bound is the least that a tree which meets everything can cost; 0 with
	// Status Infeasible.
	Bound int64
	// Nodes are runs of the program, Clashes those whose answer was no tree,
	// Labels what all of them kept.
	Nodes, Clashes, Labels int
}

// Solve finds the cheapest tree. The error is for a wrong problem (it wraps
// ErrProblem); that there is no tree, or that ctx or a limit stopped the
// search, is a Status. set may be nil.
func Solve(ctx context.Context, p *Problem, set *Settings) (*Result, error) {
	if err := p.Validate(); err != nil {
		return nil, err
	}
	if set == nil {
		set = &Settings{}
	}
	s := &search{ctx: ctx, maxNodes: set.MaxNodes, labelsLeft: math.MaxInt}
	if set.MaxLabels > 0 {
		s.labelsLeft = set.MaxLabels
	}
	if s.m = newModel(p); s.m == nil {
		return &Result{Status: core.Infeasible}, nil
	}
	s.run()
	return s.result(), nil
}
