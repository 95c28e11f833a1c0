package cli

import (
	"context"
	"fmt"

	"wyewright/optimize"
)

// cheapest finds the cheapest plan, over the ways of the ducts and the
// collectors where the file leaves them open.
func (a *app) cheapest(ctx context.Context, out *outcome, set *optimize.Settings) error {
	var err error
	if out.found == nil {
		if out.found, err = out.p.Problem(); err != nil {
			return fail(FileInvalid, err, problemHint(err))
		}
	}
	out.problem = out.found
	if !out.p.Open() {
		out.result, err = optimize.Solve(ctx, out.found, set)
		return err
	}
	ways, err := out.p.Ways(ctx)
	if err != nil {
		return fail(FileInvalid, err, problemHint(err))
	}
	best, err := optimize.SolveAmong(ctx, ways, set)
	if err != nil {
		return err
	}
	out.problem, out.result, out.tried, out.unbuildable = best.Variant.Problem, best.Result, best.Tried, ways.Dropped
	return nil
}

// waysLine says how the ways and the collector were chosen, "" where nothing
// was open.
func (o *outcome) waysLine() string {
	rest := "the trade-off and other questions keep to the ways and the collector of this plan"
	switch {
	case o.tried > 1 && o.result.Status == optimize.Optimal:
		return fmt.Sprintf("%d combinations of ways and collector were searched, all others cost more from the outset; %s", o.tried, rest)
	case o.tried > 1 && o.result.Status == optimize.Infeasible:
		return fmt.Sprintf("%d combinations of ways and collector were searched: there are no others", o.tried)
	case o.tried > 1 || o.tried == 1 && o.result.Stats.Stopped:
		return fmt.Sprintf("%s of ways and collector searched before the end, others not; %s", count(o.tried, "combination"), rest)
	case o.tried == 0 && o.p.Open():
		return "the ducts stay on their ways and the collector as it is: routes and collectors are not searched with a budget or a confidence"
	}
	return ""
}
