package optimize

import (
	"cmp"
	"context"
	"slices"

	"wyewright/network"
)

// WayOut is one thing to give up so that everything else can be met.
type WayOut struct {
	// Less are the requirements of which less is asked: one; or, where less of
	// none of them alone is enough, the flows of one tool in every state, the
	// flows of a state, or these and its transport velocity, all by one share.
	// Where it is empty, Drop names a state to leave out.
	Less []Requirement
	Drop string
	// Share is the largest share of them that was found to leave a plan, 0 for a
	// state left out: of flows and velocities the share of what is asked, of
	// ceiling and motor the old limit over the new. Most is proved to be too
	// much (for a state left out it is 0 too). They are WayOutStep apart unless a
	// limit came first.
	Share, Most float64
	// Answer is the cheapest plan found that meets the rest and Share of Less.
	Answer
}

// WayOutStep is how closely WaysOut finds a share.
const WayOutStep = 1e-3

// WaysOut lists what can be given up so that the rest can be met, one thing at
// a time, from the least on; states left out come last. What does not belong to
// a conflict cannot help, so only what belongs to c is tried. The TimeLimit of s
// is for everything, MaxNodes for each search. What no limit allowed to be
// decided is left out, and done is false.
func WaysOut(ctx context.Context, p *Problem, s *Settings, c *Conflict) (ways []WayOut, done bool, err error) {
	q := newInquiry(ctx, p, s)
	done = true
	add := func(w WayOut) error {
		ok, sure, err := q.wayOut(&w)
		done = done && sure
		if ok {
			ways = append(ways, w)
		}
		return err
	}
	for i := range p.States {
		// Ceiling and motor bind every state. To do without the only state is no
		// way out.
		if len(p.States) == 1 || !slices.ContainsFunc(c.Requirements, func(r Requirement) bool { return r.state == i || r.state < 0 }) {
			continue
		}
		if err := add(WayOut{Drop: p.States[i].Name}); err != nil {
			return ways, done, err
		}
	}
	for _, r := range c.Requirements {
		if err := add(WayOut{Less: []Requirement{r}}); err != nil {
			return ways, done, err
		}
	}
	for _, list := range p.wide(c, ways) {
		if err := add(WayOut{Less: list}); err != nil {
			return ways, done, err
		}
	}
	rank := func(w WayOut) float64 {
		if w.Drop != "" {
			return -1
		}
		return w.Share
	}
	slices.SortStableFunc(ways, func(a, b WayOut) int { return cmp.Compare(rank(b), rank(a)) })
	return ways, done, nil
}

// wide lists what can be asked less of together, where less of one thing is no
// way out: the flow of a tool in all its states, the flows of a state.
func (p *Problem) wide(c *Conflict, ways []WayOut) [][]Requirement {
	var out [][]Requirement
	all := p.Requirements()
	add := func(belongs func(Requirement) bool) {
		list := slices.DeleteFunc(slices.Clone(all), func(r Requirement) bool { return !belongs(r) })
		single := slices.ContainsFunc(ways, func(w WayOut) bool { return len(w.Less) == 1 && belongs(w.Less[0]) })
		if !single && len(list) > 1 && slices.ContainsFunc(c.Requirements, belongs) {
			out = append(out, list)
		}
	}
	for k := range p.Base.Spec().Tools {
		add(func(r Requirement) bool { return r.Rule == FlowRule && r.tool == k })
	}
	for s := range p.States {
		add(func(r Requirement) bool { return r.Rule == FlowRule && r.state == s })
	}
	for s := range p.States {
		add(func(r Requirement) bool { return r.state == s })
	}
	return out
}

// wayOut fills a way out. ok says that it is one, sure that this was decided.
func (q *inquiry) wayOut(w *WayOut) (ok, sure bool, err error) {
	a := q.p.asking(q.p.Requirements())
	if w.Drop != "" {
		a.drop = slices.IndexFunc(q.p.States, func(s network.State) bool { return s.Name == w.Drop })
	}
	try := func(share float64) Status {
		a.set(share, w.Less...)
		st, e := q.some(a)
		err = cmp.Or(err, e)
		return st
	}
	if st := try(0); err != nil || st != Feasible {
		return false, st == Infeasible, err
	}
	if sure = true; w.Drop == "" {
		w.Most = 1
		for hi := 1.0; hi-w.Share > WayOutStep && err == nil; {
			mid := (w.Share + hi) / 2
			switch try(mid) {
			case Feasible:
				w.Share = mid
			case Infeasible:
				hi, w.Most = mid, mid
			default:
				hi, sure = mid, false
			}
		}
	}
	if err != nil {
		return false, false, err
	}
	a.set(w.Share, w.Less...)
	p, err := q.p.ask(a)
	if err != nil {
		return false, false, err
	}
	limit, over := q.left(greed)
	if over {
		limit = 1 // enough for the plans that are known
	}
	x, err := q.search(p, limit)
	if err != nil {
		return false, false, err
	}
	w.Answer = q.cheapest(x, q.meeting(x)...)
	return w.Plan != nil, sure, nil
}

// meeting are the plans known that meet the rules of a search.
func (q *inquiry) meeting(x *search) [][]int {
	return slices.DeleteFunc(slices.Clone(q.warm), func(pick []int) bool { return !x.judge.meets(pick) })
}
