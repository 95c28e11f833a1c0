package core

import (
	"math"
	"slices"
)

// dual is the Lagrangian bound of a node: rows are taken out and their excess
// is priced.
type dual struct {
	best      []float64 // multipliers of the best bound
	constant  float64   // Σ of them: what the prices hold too much
	direction []float64
	now       []float64
}

// Passes of the subgradient method.
const (
	rootPasses = 60
	warmPasses = 15
	nodePasses = 3
)

// thinning is by how much of the bound the steps of the program differ while
// multipliers are looked for in a large problem; in the last pass it is a fiftieth of that.
const thinning = 1e-4

// adaptEvery is after how many passes at the root of a large problem the plan
// of the program is made to meet everything.
const adaptEvery = 100

// improveEvery is after how many nodes exchanges start from a node's plan.
const improveEvery = 1000

// bound raises the Lagrangian bound of the domains at hand and leaves the
// program solved, forward too, for the best multipliers.
func (s *search) bound(n *node, round int) float64 {
	d := &s.dual
	s.r.set()
	rows := s.r.rows
	d.now = slices.Grow(d.now[:0], len(rows))[:len(rows)]
	d.direction = slices.Grow(d.direction[:0], len(rows))[:len(rows)]
	clear(d.direction)
	if round > 0 {
		copy(d.now, d.best)
	} else if len(n.multiplier) == len(rows) {
		copy(d.now, n.multiplier)
	} else {
		clear(d.now)
	}
	passes := nodePasses
	if n.depth == 0 && round < 2 {
		passes = rootPasses
		if s.warm != nil {
			passes = warmPasses
		}
	}
	if s.passes > 0 {
		passes = s.passes
	}
	every := 6 // passes from one plan that is improved to the next
	if len(s.p.Runs) > large {
		every = 20
	}
	s.r.g.thin = 0
	best, step, idle, solvedBest := math.Inf(-1), 1.0, 0, false
	d.best = nil
	for pass := 0; ; pass++ {
		v := s.priced(d.now)
		if math.IsInf(v, 1) {
			return v
		}
		if v > best+1e-6*math.Abs(best) || d.best == nil {
			idle = 0
		} else if idle++; idle == 5 {
			step, idle = step/2, 0
		}
		solvedBest = v > best || d.best == nil
		if solvedBest {
			best = v
			d.best = slices.Clone(d.now)
		}
		if s.hopeless(best) {
			return best
		}
		if s.plain && len(s.p.Runs) > large {
			s.r.g.thin = thinning * best
		}
		s.r.g.trace(s.pick, s.spent, s.at)
		if c := float64(s.p.Cost(s.pick)); c < s.cost {
			s.offer(s.pick)
			if s.hopeless(best) {
				return best
			}
			if !s.plain && n.depth == 0 && pass%every == 0 || pass == 0 && s.nodes%improveEvery == 0 {
				s.improve(s.pick)
			} else if s.passes == widePasses && pass%adaptEvery == adaptEvery-1 {
				s.price(slices.Clone(s.pick))
			}
		}
		if len(rows) == 0 || pass == passes || s.ctx.Err() != nil || !s.turn(v, step) {
			break
		}
	}
	if s.plain && s.ctx.Err() != nil {
		return best
	}
	thinned := s.r.g.thin > 0
	if s.r.g.thin /= 50; !solvedBest || thinned {
		best = max(best, s.priced(d.best))
	}
	if s.kept == nil {
		s.kept = d.best
	}
	d.constant = 0
	for _, m := range d.best {
		d.constant += m
	}
	if s.hopeless(best) || s.plain && math.IsInf(s.cost, 1) { // improve may have found a plan
		return best
	}
	s.r.g.forward(s.cost + d.constant)
	s.r.g.thin = 0
	return best
}

// priced solves the program with the rows priced.
func (s *search) priced(multiplier []float64) float64 {
	g, constant := s.r.g, 0.0
	for i := range s.p.Runs {
		for o := range s.p.Runs[i].Options {
			g.price[i][o] = float64(s.p.Runs[i].Options[o].Cost)
		}
	}
	for k, m := range multiplier {
		if m == 0 {
			continue
		}
		constant += m
		w := &s.r.rows[k]
		for j, i := range w.runs {
			for o, c := range w.coef[j] {
				g.price[i][o] += m * c
			}
		}
	}
	return g.solve() - constant
}

// turn moves the multipliers by a step of Polyak's length along the excess of
// the rows, with some of the last direction kept. It reports false where no
// row is exceeded and none is priced.
func (s *search) turn(v, step float64) bool {
	d, norm := &s.dual, 0.0
	for k := range s.r.rows {
		x := s.r.rows[k].load(s.pick) - 1
		if x < 0 && d.now[k] == 0 {
			x = 0
		}
		d.direction[k] = x + 0.6*d.direction[k]
		norm += d.direction[k] * d.direction[k]
	}
	if norm < 1e-18 {
		return false
	}
	goal := s.cost
	if math.IsInf(goal, 1) {
		goal = v * 1.05
	}
	t := step * max(goal-v, 1e-4*goal) / norm
	for k := range d.now {
		d.now[k] = max(0, d.now[k]+t*d.direction[k])
	}
	return true
}
