package optimize

import (
	"context"
	"math"
	"slices"

	"wyewright/network"
)

// Solve searches a problem. The error is for a problem that is wrong; that no
// plan exists, or that the search was stopped, is a Status.
func Solve(ctx context.Context, p *Problem, s *Settings) (*Result, error) {
	x, err := newCharged(ctx, p, s)
	if err != nil {
		return nil, err
	}
	return x.run()
}

// run searches from the domains as they are and says what was found.
func (x *search) run() (*Result, error) { return x.result(x.seek()) }

// seek is the search itself. It reports whether probing left
// any plan.
func (x *search) seek() (feasible bool) {
	feasible = x.probe()
	if feasible {
		x.rootBound = plus(x.costs.bound(x.dom), x.due()).money()
		x.tell()
		for _, pick := range x.warm {
			x.offer(pick)
		}
		if !x.bare && x.ceiling >= never { // under a ceiling a plan is at hand
			x.heuristic()
		}
		if x.tighten() {
			x.neighbourhoods()
			x.dive(0)
		}
	}
	return feasible
}

// tighten makes the most of the best plan before branching: what costs too much
// with the rules priced in goes, then what cannot be met without it, and the
// rules are drawn up again for what is left.
func (x *search) tighten() bool {
	if !x.priceRules() || x.best != nil && !(x.probe() && x.priceRules()) {
		return false
	}
	if b := plus(x.costs.bound(x.dom), x.due()); b < x.limit {
		x.rootBound = max(x.rootBound, b.money())
	}
	return true
}

// result says what a search found.
func (x *search) result(feasible bool) (*Result, error) {
	r := &Result{Stats: x.stats, Best: x.best}
	switch {
	case x.best != nil && !x.stopped:
		r.Status, r.Bound = Optimal, x.best.Total()
	case x.best != nil:
		r.Status, r.Bound = Feasible, min(x.best.Total(), x.open.money())
		r.Gap = gap(int64(x.best.Total()), int64(r.Bound))
		if r.Gap == 0 && x.open >= x.limit {
			r.Status = Optimal
		}
	case x.stopped:
		r.Status = Undecided
		if x.open < never {
			r.Bound = x.open.money()
		}
	default:
		r.Status = Infeasible
	}
	if r.Best == nil {
		x.nearMiss(r, feasible)
	}
	if err := x.finish(r); err != nil {
		return nil, err
	}
	r.Stats = x.stats
	return r, nil
}

// nearMiss finds the plan that comes closest when none meets every state.
func (x *search) nearMiss(r *Result, feasible bool) {
	stopped := x.stopped
	if !feasible || x.closest == nil {
		// The domains may be empty: start from all of them.
		x.reset()
		x.install()
		x.heuristic()
	}
	if x.closest == nil { // stopped at once: the shop as found is a plan too
		x.closest = x.p.first()
	}
	x.stopped = stopped
	cost, changes, _ := x.p.Cost(x.closest)
	r.Best = &Plan{Pick: x.closest, Cost: cost, Energy: x.bill(x.closest).money(), Changed: changes}
}

// finish solves every state of the best plan and describes it.
func (x *search) finish(r *Result) error {
	if r.Best == nil {
		return nil
	}
	r.Network = x.p.Network(r.Best.Pick)
	states, err := x.states(r.Best.Pick, r.Network)
	if err != nil {
		return err
	}
	r.States = states
	if x.thrift != nil {
		r.Energy = x.thrift.use(r.Best.Pick)
	}
	if r.Status == Infeasible || r.Status == Undecided {
		r.Short = x.shortfall(r)
	}
	return nil
}

// states judges a plan with the full verdict in its best opening of each
// state.
func (x *search) states(pick []int, n *network.Network) ([]StateResult, error) {
	solver := network.NewSolver(n, nil)
	ctx := context.WithoutCancel(x.ctx)
	var out []StateResult
	for s := range x.p.States {
		o, _ := x.judge.best(s, pick)
		sr, err := x.judge.result(ctx, solver, s, o, pick)
		if err != nil {
			return nil, err
		}
		out = append(out, sr)
	}
	return out, nil
}

// result judges a plan, whose network is in the solver, with the full verdict in
// one opening of a state.
func (j *judge) result(ctx context.Context, solver *network.Solver, state, open int, pick []int) (StateResult, error) {
	op := &j.openings[state][open]
	sr := StateResult{State: j.p.States[state], Scores: j.scores(state, open, pick)}
	sr.State.Open = slices.Clone(sr.State.Open)
	for _, k := range op.companions {
		sr.Companions = append(sr.Companions, j.p.Companion[k].Name)
		sr.State.Open = append(sr.State.Open, j.p.Companion[k].Name)
	}
	sol, v, err := solver.Check(ctx, op.c, j.p.limits(state))
	if err != nil {
		return sr, err
	}
	sol.State = sr.State
	sr.Solution, sr.Verdict = sol, v
	return sr, nil
}

// shortfall names the worst miss of the closest plan, and how far any plan
// can get.
func (x *search) shortfall(r *Result) *Shortfall {
	short := &Shortfall{Ratio: math.Inf(1)}
	spec := x.p.Base.Spec()
	note := func(m Shortfall) {
		if m.Ratio < short.Ratio {
			*short = m
		}
	}
	for i := range r.States {
		for _, m := range margins(spec, r.States[i].Verdict, r.States[i].State.Name, x.set.flow()) {
			note(m)
		}
	}
	if r.Status == Infeasible {
		short.Limit = x.reach()
	}
	return short
}

func (s *Settings) flow() float64 {
	if s.Flow == 0 {
		return 1
	}
	return s.Flow
}

// reach bounds the share of the required flows that any plan can reach in
// every state with the transport rules held: the largest share that probing
// does not exclude, to one part in a thousand. 0 means that the transport
// rules alone already exclude every plan.
func (x *search) reach() float64 {
	lo, hi := 0.0, x.set.flow()
	saved := x.set
	defer func() { x.set = saved }()
	x.set.MaxNodes, x.set.TimeLimit = 0, 0
	for hi-lo > 1e-3 {
		mid := (lo + hi) / 2
		x.reset()
		x.install()
		x.set.Flow = mid
		x.judge.setFlow(mid)
		if x.probeOnce() {
			lo = mid
		} else {
			hi = mid
		}
	}
	x.judge.setFlow(saved.flow())
	if lo == 0 {
		return 0
	}
	return hi / saved.flow()
}
