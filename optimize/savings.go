package optimize

import (
	"cmp"
	"context"
	"slices"

	"wyewright/network"
	"wyewright/optimize/price"
)

// Saving is what one tool or one state costs: how much cheaper a plan may be
// without it.
type Saving struct {
	// Tool or State names what is left out; both are set where the state is the
	// only one of the tool, and of the tool alone.
	Tool, State string
	// Saves is what the plan without it costs less than the one with it; where
	// Status is not Optimal it may be more, up to that plan's cost less Bound.
	Saves price.Money
	// Answer is the cheapest plan without it.
	Answer
}

// Savings leaves out every tool and every state in turn and finds the cheapest
// plan for the rest; from is a plan that meets everything. A tool left out owes
// no flow and carries no dust, and its gate stays as each state has it, so that
// leaving out never costs more. The list is sorted from the largest saving on.
// The TimeLimit of s is shared by all, MaxNodes is for each search. Nothing can
// be left out where only one state or tool is asked for.
func Savings(ctx context.Context, p *Problem, s *Settings, from *Plan) ([]Saving, error) {
	q := newInquiry(ctx, p, s)
	list := p.parts()
	var out []Saving
	for i := range list {
		v := list[i]
		rest := p.leaving(&v)
		if len(rest.States) == 0 {
			continue
		}
		limit, over := q.left(len(list) - i)
		if over {
			limit = 1 // the plan that is known stands
		}
		x, err := q.search(rest, limit)
		if err != nil {
			return nil, err
		}
		if v.Answer = q.cheapest(x, append(q.meeting(x), from.Pick)...); v.Plan == nil { // interrupted
			v.Answer = Answer{Plan: from, Status: Feasible}
		}
		v.Saves = from.Cost - v.Plan.Cost
		out = append(out, v)
	}
	slices.SortStableFunc(out, func(a, b Saving) int { return cmp.Compare(b.Saves, a.Saves) })
	return out, nil
}

// parts lists the tools and states that can be left out.
func (p *Problem) parts() []Saving {
	var out []Saving
	for _, t := range p.Base.Spec().Tools {
		var where []network.State
		for _, st := range p.States {
			if slices.Contains(st.Running, t.ID) {
				where = append(where, st)
			}
		}
		switch {
		case len(where) == 1 && len(where[0].Running) == 1:
			out = append(out, Saving{Tool: t.ID, State: where[0].Name})
		case len(where) > 0:
			out = append(out, Saving{Tool: t.ID})
		}
	}
	for i := range p.States {
		if name := p.States[i].Name; !slices.ContainsFunc(out, func(v Saving) bool { return v.State == name }) {
			out = append(out, Saving{State: name})
		}
	}
	return out
}

// leaving is a problem without a tool or a state.
func (p *Problem) leaving(v *Saving) *Problem {
	q := *p
	q.States = nil
	for _, st := range p.States {
		if v.State != "" && st.Name == v.State {
			continue
		}
		if slices.Contains(st.Running, v.Tool) {
			st.Running = slices.DeleteFunc(slices.Clone(st.Running), func(id string) bool { return id == v.Tool })
			st.Open = append(slices.Clone(st.Open), v.Tool)
		}
		if len(st.Running) > 0 {
			q.States = append(q.States, st)
		}
	}
	return &q
}
