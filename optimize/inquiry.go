package optimize

import (
	"context"
	"slices"
	"time"

	"wyewright/optimize/price"
)

// inquiry asks for one redesign many times, each time with something else asked
// or allowed, and remembers the plans it meets: what met one question often
// meets the next.
type inquiry struct {
	ctx   context.Context
	p     *Problem
	set   Settings
	total time.Duration // for all questions together, 0 for none
	began time.Time
	warm  [][]int
	stats Stats
	// questions counts them.
	questions int
}

// newInquiry starts an inquiry. The TimeLimit of s is for all of it, MaxNodes
// for each question; its Doubt is not looked at: answers are for the shop as it
// is believed to be.
func newInquiry(ctx context.Context, p *Problem, s *Settings) *inquiry {
	q := &inquiry{ctx: ctx, p: p}
	if s != nil {
		q.set = *s
	}
	q.set.Flow, q.set.Progress, q.set.Doubt = 1, nil, nil
	q.total = q.set.TimeLimit
	if q.set.Clock != nil {
		q.began = q.set.Clock()
	}
	return q
}

// left is the time for one of n questions that are still to come; over says
// that there is none.
func (q *inquiry) left(n int) (limit time.Duration, over bool) {
	if q.ctx.Err() != nil {
		return 0, true
	}
	if q.set.Clock == nil || q.total == 0 {
		return 0, false
	}
	rest := q.total - q.set.Clock().Sub(q.began)
	return max(1, rest/time.Duration(n)), rest <= 0
}

// greed is the number of questions that the rest of the time is shared among
// where their number is not known.
const greed = 2

// some asks whether any plan meets what is asked: Feasible, Infeasible, or
// Undecided where a limit came first.
func (q *inquiry) some(a *asks) (Status, error) {
	limit, over := q.left(greed)
	if over {
		return Undecided, nil
	}
	p, err := q.p.ask(a)
	if err != nil {
		return Undecided, err
	}
	x, err := q.search(p, limit)
	if err != nil {
		return Undecided, err
	}
	defer q.count(x)
	for _, pick := range slices.Backward(q.warm) {
		if x.judge.meets(pick) {
			return Feasible, nil
		}
	}
	x.any = true
	if x.probe() && !x.stopped {
		x.heuristic()
		x.dive(0)
	}
	switch {
	case x.best != nil:
		q.warm = append(q.warm, x.best.Pick)
		return Feasible, nil
	case x.stopped:
		return Undecided, nil
	}
	return Infeasible, nil
}

// search starts a search for one question.
func (q *inquiry) search(p *Problem, limit time.Duration) (*search, error) {
	set := q.set
	set.TimeLimit = limit
	return newSearch(q.ctx, p, &set)
}

// count adds the work of a question.
func (q *inquiry) count(x *search) {
	q.questions++
	q.stats.Nodes += x.stats.Nodes
	q.stats.Judged += x.stats.Judged
	q.stats.Solves += x.stats.Solves
	q.stats.Stopped = q.stats.Stopped || x.stopped
}

// Answer is the cheapest plan under some other condition.
type Answer struct {
	// Plan is nil where none was found; then Status is Infeasible (none within
	// what was allowed, proved) or Undecided.
	Plan   *Plan
	Status Status
	Bound  price.Money
}

// cheapest finds the cheapest plan of a search, from plans that are known.
func (q *inquiry) cheapest(x *search, known ...[]int) Answer {
	defer q.count(x)
	x.warm = slices.Clone(known)
	f, ok := x.point(1)
	switch {
	case ok:
		q.warm = append(q.warm, f.Plan.Pick)
		return Answer{f.Plan, f.Status, f.Bound}
	case x.stopped || q.ctx.Err() != nil:
		return Answer{Status: Undecided}
	}
	return Answer{Status: Infeasible}
}
