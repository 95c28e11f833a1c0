package optimize

import (
	"context"
	"math"
	"time"

	"wyewright/optimize/price"
)

// FrontPoint is one plan of the trade-off between cost and air.
type FrontPoint struct {
	// Target is the share of the required flows that was asked for, Flow what
	// the plan reaches in its worst state.
	Target, Flow float64
	Plan         *Plan
	Status       Status
	Bound        price.Money
}

// frontStep is the least rise of the target from one point to the next.
const frontStep = 0.01

// Front walks along the trade-off of cost against the least flow / required
// over tools and states, transport velocity held throughout (ε-constraint
// method: Haimes, Lasdon & Wismer 1971, IEEE Trans. SMC 1:296): each point is
// the cheapest plan that reaches more than the one before. from is a plan to
// know already, usually that of Solve; the walk goes from half the air up to
// that plan, then on to the most air that can be had. It ends after the given
// number of points or at the TimeLimit of s, which is for all points together,
// at most half of it for those up to the plan: each may take its share, and says
// so where that was too short for a proof.
// each is called with every point as it is found.
func Front(ctx context.Context, p *Problem, s *Settings, from *Plan, points int, each func(FrontPoint)) ([]FrontPoint, error) {
	x, err := newSearch(ctx, p, s)
	if err != nil {
		return nil, err
	}
	w := &walk{search: x, total: x.set.TimeLimit, began: x.start, points: points, each: each}
	x.set.TimeLimit = w.total * 3 / time.Duration(max(points, 3))
	known := 1.0
	if from != nil {
		x.warm = append(x.warm, from.Pick)
		known = max(1, x.reached(from.Pick))
	}
	w.climb(0.5, 2*frontStep, points*2/3, w.total/2, func(f FrontPoint) bool { return f.Flow < known-1e-9 })
	w.climb(known+frontStep, frontStep, points, w.total, func(FrontPoint) bool { return true })
	return w.out, nil
}

// walk is a walk along the front.
type walk struct {
	*search
	total  time.Duration
	began  time.Time
	points int
	each   func(FrontPoint)
	out    []FrontPoint
}

// climb adds points from a target upward until there are enough, time is up,
// none can be found, or the next is no longer wanted.
func (w *walk) climb(target, step float64, most int, time time.Duration, wanted func(FrontPoint) bool) {
	for len(w.out) < most {
		if w.set.Clock != nil && w.total > 0 && w.set.Clock().Sub(w.began) > time {
			return
		}
		f, ok := w.point(target)
		if !ok || !wanted(f) {
			return
		}
		w.out = append(w.out, f)
		if w.each != nil {
			w.each(f)
		}
		target = max(f.Flow+1e-5, target+step)
	}
}

// point solves for one target, with what the search remembers.
func (x *search) point(target float64) (FrontPoint, bool) {
	if x.ctx.Err() != nil {
		return FrontPoint{}, false
	}
	if x.set.Clock != nil {
		x.start = x.set.Clock()
	}
	x.reset()
	x.install()
	x.set.Flow = target
	x.judge.setFlow(target)
	if !x.probe() {
		return FrontPoint{}, false
	}
	for _, pick := range x.warm {
		if x.within(pick) {
			x.offer(pick)
		}
	}
	x.rootBound = plus(x.costs.bound(x.dom), x.due()).money()
	if x.best == nil {
		x.heuristic()
	} else {
		x.exchange(x.best.Pick)
	}
	if x.tighten() {
		x.dive(0)
	}
	if x.best == nil {
		return FrontPoint{}, false
	}
	x.warm = append(x.warm, x.best.Pick)
	f := FrontPoint{Target: target, Flow: x.reached(x.best.Pick), Plan: x.best, Status: Optimal, Bound: x.best.Cost}
	if x.stopped && x.open < x.limit {
		f.Status, f.Bound = Feasible, min(x.best.Cost, x.open.money())
	}
	return f, true
}

// within reports whether a plan lies in the domains.
func (x *search) within(pick []int) bool {
	for i, a := range pick {
		if x.dom[i]>>a&1 == 0 {
			return false
		}
	}
	return true
}

// reached is the least flow / required over the states, each in the opening
// that gives most while everything else is met; 0 where there is none.
func (x *search) reached(pick []int) float64 {
	least := math.Inf(1)
	for s := range x.judge.openings {
		most := 0.0
		for o := range x.judge.openings[s] {
			if x.p.offered(&x.judge.openings[s][o], pick) {
				sc := x.judge.scores(s, o, pick)
				flow := sc.Flow
				if sc.Flow = 1; sc.OK() && (x.judge.doubt == nil || x.judge.doubt.likely(s, o, pick)) {
					most = max(most, flow)
				}
			}
		}
		least = min(least, most)
	}
	return least
}
