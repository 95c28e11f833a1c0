package cli

import (
	"context"
	"slices"

	"wyewright/cmd/internal/project"
	"wyewright/network"
	"wyewright/optimize"
)

// solveStates solves and judges states one by one. A state that names a
// collector of the file is solved with that one in place.
func solveStates(ctx context.Context, n *network.Network, states []network.State, limits network.Limits) ([]optimize.StateResult, error) {
	var out []optimize.StateResult
	for _, st := range states {
		m := n
		if i := slices.IndexFunc(n.Spec().Collectors, func(c network.Collector) bool { return c.ID == st.Collector }); i > 0 {
			m = n.WithCollector(i)
		}
		asked := st
		st.Collector = ""
		c, err := m.Case(st)
		if err != nil {
			return nil, err
		}
		sol, v, err := network.NewSolver(m, nil).Check(ctx, c, &limits)
		if err != nil {
			return nil, err
		}
		sol.State = asked
		out = append(out, optimize.StateResult{State: asked, Solution: sol, Verdict: v})
	}
	return out, nil
}

// asItStands solves every state of the file in which a tool runs.
func asItStands(ctx context.Context, p *project.Project) ([]optimize.StateResult, error) {
	return solveStates(ctx, p.Network, project.Bound(p.File.States), project.Limits(p.File))
}

// allMeet reports whether every state meets what was set.
func allMeet(all []optimize.StateResult) bool {
	return !slices.ContainsFunc(all, func(s optimize.StateResult) bool { return !s.Verdict.Meets() })
}
