package optimize

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"time"

	"wyewright/network"
	"wyewright/optimize/price"
)

// Variant is one way to make the shop over as a whole: its ducts on some tree
// of ways, one collector. Its problem settles everything else.
type Variant struct {
	// Label says it in words, "" for the shop as it is.
	Label   string
	Problem *Problem
	// Floor is a lower bound on the cost of any plan of it.
	Floor price.Money
}

// Variants yields variants in order of what is known of their cost beforehand.
type Variants interface {
	// Next is the next one, nil where there is none left.
	Next(ctx context.Context) (*Variant, error)
	// Floor is the least that any plan of one still to come can cost.
	Floor(ctx context.Context) price.Money
}

// Among is the cheapest plan over all variants.
type Among struct {
	*Result
	// Variant is that of the plan, Problem its problem.
	Variant *Variant
	// Tried counts the variants that were searched.
	Tried int
}

// SolveAmong searches variants one after the other, each for a plan lighter
// than the best so far, until none to come can have one. Its status and bound
// hold over all variants. A TimeLimit is for all of them together: each may
// take half of what is left.
func SolveAmong(ctx context.Context, vs Variants, s *Settings) (*Among, error) {
	a := &among{ctx: ctx, open: never, limit: never}
	if s != nil {
		a.set = *s
	}
	if a.set.Clock != nil {
		a.start = a.set.Clock()
	}
	for {
		floor := vs.Floor(ctx)
		if weigh(floor, 0) >= a.limit {
			break
		}
		a.floor = floor
		set, over := a.left()
		if over || ctx.Err() != nil {
			if a.tried > 0 {
				a.open = min(a.open, weigh(floor, 0))
				a.stopped = true
				break
			}
			set.TimeLimit = 1
		}
		v, err := vs.Next(context.WithoutCancel(ctx))
		if err != nil {
			return nil, err
		}
		if v == nil {
			break
		}
		a.try(v, &set)
	}
	return a.answer()
}

// errNoVariant is for a shop of which no variant can be built.
var errNoVariant = errors.New("optimize: no way of the ducts can be built: nothing that is sold and priced fits")

// among is a search over variants.
type among struct {
	ctx   context.Context
	set   Settings
	start time.Time
	limit weight // plans must be lighter than this
	// winner is the search with the best plan; closest, while there is none,
	// the one with the plan that misses least.
	winner, closest *search
	of, near        *Variant
	open            weight // least bound of what was left unexplored
	floor           price.Money
	refused         error // by a variant whose problem is wrong
	tried           int
	stopped         bool
	stats           Stats
}

// left are the settings of one search, with half of the time that is left; over
// says that there is none.
func (a *among) left() (set Settings, over bool) {
	set = a.set
	if set.Clock != nil && set.TimeLimit > 0 {
		rest := set.TimeLimit - set.Clock().Sub(a.start)
		set.TimeLimit, over = max(1, rest/2), rest <= 0
	}
	return set, over
}

// try searches one variant. One whose problem is wrong is passed over.
func (a *among) try(v *Variant, set *Settings) {
	a.tried++
	if weigh(v.Floor, 0) >= a.limit || a.limit < never && v.Problem.least() >= a.limit {
		return
	}
	set.Known = a.known(v.Problem)
	if a.set.Progress != nil {
		set.Progress = func(w Progress) { a.tell(w) }
	}
	x, err := newCharged(a.ctx, v.Problem, set)
	if err != nil { // such as a state that the other collector does not fit
		a.refused = fmt.Errorf("%s: %w", v.Label, err)
		return
	}
	x.ceiling, x.limit = a.limit, a.limit
	feasible := x.seek()
	a.stats.add(&x.stats)
	if x.stopped {
		a.stopped, a.open = true, min(a.open, max(x.open, weigh(v.Floor, 0)))
	}
	switch {
	case x.best != nil:
		a.winner, a.of, a.limit = x, v, x.limit
	case a.winner == nil && (a.closest == nil || feasible && x.closest != nil && (a.closest.closest == nil || x.closestMiss < a.closest.closestMiss)):
		a.closest, a.near = x, v
	}
}

// tell passes a word of one search on as one of all.
func (a *among) tell(w Progress) {
	w.Bound = min(w.Bound, a.floor)
	if a.open < never {
		w.Bound = min(w.Bound, a.open.money())
	}
	if a.winner != nil && (!w.HasBest || a.winner.best.Total() < w.Best) {
		w.HasBest, w.Best = true, a.winner.best.Total()
	}
	w.Nodes, w.Judged = w.Nodes+a.stats.Nodes, w.Judged+a.stats.Judged
	a.set.Progress(w)
}

// least is the least weight of all plans, whatever they do to the air.
func (p *Problem) least() weight {
	dom := make([]uint64, len(p.Choices))
	for i := range dom {
		dom[i] = math.MaxUint64 >> (network.MaxAlternatives - len(p.Choices[i].Alternatives))
	}
	return newCosts(p).bound(dom)
}

// add sums up work.
func (s *Stats) add(o *Stats) {
	s.Nodes += o.Nodes
	s.Judged += o.Judged
	s.Solves += o.Solves
	s.Stopped = s.Stopped || o.Stopped
}

// known brings the best plan so far to another variant: the same alternative,
// by its label, of the same choice.
func (a *among) known(p *Problem) [][]int {
	if a.winner == nil {
		return nil
	}
	from := a.winner.p
	pick := make([]int, len(p.Choices))
	for i := range p.Choices {
		c := &p.Choices[i]
		k := slices.IndexFunc(from.Choices, func(o Choice) bool { return o.Kind == c.Kind && o.ID == c.ID })
		if k < 0 {
			continue
		}
		label := from.Choices[k].Alternatives[a.winner.best.Pick[k]].Label
		pick[i] = max(0, slices.IndexFunc(c.Alternatives, func(o Alternative) bool { return o.Label == label }))
	}
	return [][]int{pick}
}

// answer puts the result together.
func (a *among) answer() (*Among, error) {
	x, v := a.winner, a.of
	if x == nil {
		x, v = a.closest, a.near
	}
	if x == nil {
		return nil, cmp.Or(a.refused, errNoVariant)
	}
	x.stopped, x.open = a.stopped, a.open
	r, err := x.result(true)
	if err != nil {
		return nil, err
	}
	r.Stats = a.stats
	if r.Short != nil && a.tried > 1 {
		r.Short.Limit = 1 // that of one variant says nothing of the others
	}
	return &Among{Result: r, Variant: v, Tried: a.tried}, nil
}
