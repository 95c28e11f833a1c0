package layout

import (
	"math"
	"slices"
)

// Steps of the multipliers.
const (
	mostSteps  = 60
	leastSteps = 15
	stepWork   = 3e9 // additions in all, some seconds; fewer steps where one takes many
	patience   = 5   // steps without gain before they are halved
)

// price finds multipliers by the subgradient method with Polyak's step (1969,
// USSR Comp. Math. 9(3):14–29), sizes the trees that come up on the way, and
// returns the best bound.
func (s *search) price() int64 {
	m, k := s.m, len(s.m.start)
	pr := newPricer(m)
	mu, best := make([]float64, k), make([]float64, k)
	unit := make([]float64, k)
	for t := range unit {
		unit[t] = m.limitOn(len(m.levels)-1, t)
	}
	bound, stale, length := -inf, 0, 1.0
	for range pr.steps() {
		now := pr.bound(mu)
		if now > bound {
			bound, stale = now, 0
			best = slices.Clone(mu)
		} else if stale++; stale == patience {
			stale, length = 0, length/2
		}
		if rounded(bound) >= s.cost || s.ctx.Err() != nil {
			break
		}
		over, used := pr.excess()
		s.size(used)
		// Steps in units of mu · unit.
		slope, square := make([]float64, k), 0.0
		for t := range slope {
			if unit[t] > 0 {
				slope[t] = over[t] / unit[t]
			}
			if slope[t] < 0 && mu[t] == 0 {
				slope[t] = 0
			}
			square += slope[t] * slope[t]
		}
		if square == 0 {
			break
		}
		goal := float64(s.cost)
		if s.best == nil {
			goal = min(goal, now+max(1, 0.1*now))
		}
		for t := range mu {
			if unit[t] > 0 {
				mu[t] = max(0, mu[t]+length*(goal-now)/square*slope[t]/unit[t])
			}
		}
	}
	s.prices = []*prices{pr.keep(make([]float64, k)), pr.keep(best)}
	return rounded(bound)
}

// steps is how many evaluations are worth their time.
func (p *pricer) steps() int {
	one := math.Pow(3, float64(len(p.m.start))) / 2 * float64(p.m.n*len(p.m.levels))
	return int(min(mostSteps, max(leastSteps, stepWork/one)))
}
