package core

import "context"

// FrontPoint is a plan that no other beats in both cost and Ratio, the least
// flow / required over tools and states.
type FrontPoint struct {
	Pick  []int
	Cost  int64
	Ratio float64
	// Bound is Cost where the point is proved, else the least that a plan with
	// more than the last point's Ratio can cost.
	Bound int64
}

// frontStep is by how much the next point of a front must be better.
const frontStep = 1e-5

// Front walks the trade-off between cost and flow: the cheapest plan at the
// scale from, then again and again the cheapest that gives more than the last,
// until there is none or the scale is above to. settings.MaxNodes is for each
// point; Scale is not used. stopped tells that a limit or ctx left a point
// unproved or ended it early. Every search starts from the last plan, with its
// multipliers and its cost as a bound, which more flow cannot undercut; of plans
// of one cost the last, which gives most, stays.
func Front(ctx context.Context, p *Problem, set *Settings, from, to float64) (front []FrontPoint, stopped bool, err error) {
	if err := p.Validate(); err != nil {
		return nil, false, err
	}
	var each Settings
	if set != nil {
		each = *set
	}
	var multiplier []float64
	floor := 0.0
	for scale := from; scale <= to; {
		each.Scale = scale
		s := newSearch(ctx, p, &each)
		s.warm, s.floor, s.follows = multiplier, floor, len(front) > 0
		s.run()
		r := s.result()
		if r.Pick == nil {
			return front, stopped || r.Status != Infeasible, nil
		}
		stopped = stopped || r.Status != Optimal
		ratio, _ := s.e.Ratio(r.Pick)
		if n := len(front); n > 0 && front[n-1].Cost == r.Cost {
			front = front[:n-1]
		}
		front = append(front, FrontPoint{Pick: r.Pick, Cost: r.Cost, Ratio: ratio, Bound: r.Bound})
		multiplier, floor, each.Start = s.kept, float64(r.Bound), r.Pick
		scale = max(ratio, scale) * (1 + frontStep)
	}
	return front, stopped, nil
}
