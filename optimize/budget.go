package optimize

import (
	"context"

	"wyewright/optimize/price"
)

// Bought is what a sum of money buys.
type Bought struct {
	// Result is the plan with its states, nil where the money buys no plan that
	// holds the other rules. Its Status is Optimal where Share cannot be
	// bettered by more than BudgetStep, Feasible where a limit came first.
	*Result
	// Share is the least flow / required over tools and states that the plan
	// reaches, the other rules held in every state; Most bounds the share of
	// any plan for the money.
	Share, Most float64
}

// BudgetStep is how closely Budget finds the share.
const BudgetStep = 1e-3

// mostShare bounds the shares that are asked for: nobody wants ten times the
// air.
const mostShare = 8.0

// Budget finds the plan with the largest share of the required flows, the least
// over tools and states, that costs no more than a sum; the other rules are held
// throughout. The cost of reaching a share rises with the share, so that
// bisection over shares finds it: each step asks for a plan within the sum,
// which the search finds or proves not to exist. TimeLimit is for each step,
// MaxNodes for all of them.
func Budget(ctx context.Context, p *Problem, s *Settings, money price.Money) (*Bought, error) {
	x, err := newSearch(ctx, p, s)
	if err != nil {
		return nil, err
	}
	x.ceiling = weigh(money+1, 0)
	out := &Bought{Most: mostShare}
	var best *Plan
	proved := true
	// try asks for a share, and notes what comes of it.
	try := func(share float64) bool {
		f, ok := x.point(share)
		if ok {
			best, out.Share = f.Plan, max(f.Flow, share)
			return true
		}
		if x.stopped || ctx.Err() != nil {
			proved = false
		} else {
			out.Most = min(out.Most, share)
		}
		return false
	}
	// hi is a share that was not reached: bisection goes on below it.
	hi := 1.0
	if try(1) {
		for hi = max(1.1, out.Share+0.1); hi < mostShare && ctx.Err() == nil && try(hi); hi = out.Share * 1.25 {
		}
	}
	for hi-out.Share > BudgetStep && ctx.Err() == nil {
		mid := (out.Share + hi) / 2
		if best != nil {
			mid = max(mid, out.Share+BudgetStep/2)
		}
		if !try(mid) {
			hi = mid
		}
	}
	if best == nil {
		out.Share = 0
		return out, nil
	}
	r := &Result{Status: Feasible, Best: best, Bound: 0}
	if proved {
		r.Status = Optimal
	}
	x.set.Flow = min(1, out.Share)
	x.judge.setFlow(x.set.Flow)
	if err := x.finish(r); err != nil {
		return nil, err
	}
	out.Share = x.reached(best.Pick)
	r.Stats = x.stats
	out.Result = r
	return out, nil
}
