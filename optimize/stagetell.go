package optimize

import (
	"context"
	"errors"
	"math"
	"slices"

	"wyewright/network"
	"wyewright/optimize/price"
)

// describe says all about a row of stages.
func (g *stager) describe(row *label) (*Staged, error) {
	var labels []*label
	for l := row; l.from != nil; l = l.from {
		labels = append(labels, l)
	}
	slices.Reverse(labels)
	out := &Staged{Before: g.before, Start: does(g.before), Parts: len(g.units), Slower: g.slower, Worth: row.sum}
	last := &label{now: g.worth()}
	net, states := g.found.Base, g.before
	add := func(l *label, budget price.Money, rest bool) error {
		st, err := g.stage(last, l)
		st.Budget, st.Rest = budget, rest
		if err == nil {
			st.Slowed = slowed(net, states, &st)
			net, states = st.Network, st.States
		}
		out.Stages = append(out.Stages, st)
		last = l
		return err
	}
	for k, l := range labels {
		budget := price.Money(0)
		if len(g.o.Budgets) > 0 {
			budget = g.o.Budgets[k]
		}
		if err := add(l, budget, false); err != nil {
			return nil, err
		}
	}
	whole := slices.IndexFunc(g.family, func(s *partial) bool { return s.set == g.whole() })
	if last.member != whole {
		end, ok := g.extend(&rule{stages: 1}, 0, last, whole)
		if !ok { // it meets everything, so that nothing can stand against it
			return nil, errors.New("optimize: the plan cannot be its own last stage")
		}
		if err := add(end, 0, true); err != nil {
			return nil, err
		}
	}
	out.Extra = out.Stages[len(out.Stages)-1].Spent - g.plan.Cost
	return out, nil
}

// stage describes what leads from one shop to the next.
func (g *stager) stage(from, to *label) (Stage, error) {
	a, b := g.family[from.member], g.family[to.member]
	st := Stage{Cost: to.spent - from.spent, Spent: to.spent, Problem: g.p, Taken: b.built && !a.built}
	if st.Taken {
		st.Changes = g.p.Taken.changes()
	}
	for _, i := range g.fresh(a.set, b.set) {
		st.Changes = append(st.Changes, g.p.note(i, g.plan.Pick[i]))
	}
	st.Lines, st.Thrown = g.lines(a, b)
	st.Result = &Result{Status: Feasible, Best: &Plan{Pick: b.pick, Cost: to.spent}}
	for i := range b.pick {
		st.Best.Changed += g.p.Choices[i].changes(b.pick[i])
	}
	if b.set == 0 {
		st.Problem, st.Best.Pick, st.Best.Changed = g.found, make([]int, len(g.found.Choices)), 0
		st.Network, st.States = g.found.Base, g.before
	} else {
		st.Best.Changed += g.p.Taken.count()
		if err := g.solve(&st, to.open); err != nil {
			return st, err
		}
	}
	st.Does = does(st.States)
	if st.Empty() {
		st.Needs = g.needs(to)
	}
	return st, nil
}

// solve fills in network and states of a stage with what is opened in each.
func (g *stager) solve(st *Stage, open []int) error {
	st.Network = g.p.Network(st.Best.Pick)
	solver := network.NewSolver(st.Network, nil)
	for s := range g.p.States {
		sr, err := g.judge.result(context.WithoutCancel(g.ctx), solver, s, open[s], st.Best.Pick)
		if err != nil {
			return err
		}
		st.States = append(st.States, sr)
	}
	return nil
}

// needs is the least cost of a next stage that would count more than the shop as
// it is.
func (g *stager) needs(l *label) price.Money {
	least := price.Money(0)
	from := g.family[l.member]
	for m, to := range g.family {
		if to.set == from.set || to.set&from.set != from.set {
			continue
		}
		cost, sold := g.cost(from, to)
		if !sold || least > 0 && cost >= least {
			continue
		}
		if c := g.card(m, l.met); c.met >= 0 && c.worth > l.now {
			least = cost
		}
	}
	return least
}

// does sums up how states do.
func does(states []StateResult) Does {
	d := Does{States: len(states), Least: math.Inf(1)}
	for i := range states {
		v := states[i].Verdict
		if holdsOthers(v) {
			d.Held++
		}
		for _, t := range v.Tools {
			d.Asked++
			if network.Meets(t.Ratio) {
				d.Met++
			}
			d.Mean += max(0, min(1, t.Ratio))
			d.Least = min(d.Least, t.Ratio)
		}
	}
	d.Mean /= float64(max(1, d.Asked))
	return d
}

// slowed lists the runs that held their transport velocity in a state before a
// stage and do not after it.
func slowed(was *network.Network, before []StateResult, st *Stage) []Slowed {
	var out []Slowed
	for s := range before {
		held := map[string]float64{}
		for _, d := range before[s].Verdict.Dust {
			if network.Meets(d.Ratio) {
				held[was.Spec().Runs[d.Run].ID] = d.Ratio
			}
		}
		for _, d := range st.States[s].Verdict.Dust {
			id := st.Network.Spec().Runs[d.Run].ID
			if _, ok := held[id]; ok && !network.Meets(d.Ratio) {
				out = append(out, Slowed{State: before[s].State.Name, Run: id, Ratio: d.Ratio})
			}
		}
	}
	return out
}
