package core

import (
	"cmp"
	"math"
	"slices"
)

// local repairs and improves plans by exchanges.
type local struct {
	e       *Evaluator
	affects [][]int
	miss    []float64
	order   []exchange
	mend    []mending
	stopped func() bool
}

// exchange gives a run another option.
type exchange struct {
	run, option int
	cost        int64
}

func newLocal(e *Evaluator) *local {
	l := &local{e: e, affects: make([][]int, len(e.p.Runs)), miss: make([]float64, len(e.p.States)+len(e.p.Loadings))}
	for s := range e.p.States {
		for _, i := range e.live[s] {
			l.affects[i] = append(l.affects[i], s)
		}
	}
	for k := range e.p.Loadings {
		for i := range l.affects {
			l.affects[i] = append(l.affects[i], len(e.p.States)+k)
		}
	}
	return l
}

// judge is by how much a plan misses state or loading s, 0 if it meets it.
func (l *local) judge(pick []int, s int) float64 {
	if x := l.excess(pick, s); x > grain {
		return x
	}
	return 0
}

// excess is by how much a plan misses state or loading s, below 0 by how much
// it has to spare.
func (l *local) excess(pick []int, s int) float64 {
	if n := len(l.e.p.States); s >= n {
		return l.e.overload(pick, s-n)
	}
	return l.e.miss(pick, s)
}

// delta is what an exchange costs.
func (l *local) delta(pick []int, i, o int) int64 {
	p := l.e.p
	r := &p.Runs[i]
	d := r.Options[o].Cost - r.Options[pick[i]].Cost
	if r.Joint != nil {
		d += r.Joint[pick[r.Parent]][o] - r.Joint[pick[r.Parent]][pick[i]]
	}
	for _, c := range l.e.children[i] {
		if j := p.Runs[c].Joint; j != nil {
			d += j[o][pick[c]] - j[pick[i]][pick[c]]
		}
	}
	return d
}

// repair changes options until a plan meets everything, each time the one that
// mends most for its money; in a large problem some of them at a time. It
// reports false where it is stuck.
func (l *local) repair(pick []int) bool {
	for s := range l.miss {
		l.miss[s] = l.judge(pick, s)
	}
	atOnce := 1
	if len(pick) > large {
		atOnce = len(pick) / 20
	}
	for l.missed() > 0 {
		l.mends(pick)
		if len(l.mend) == 0 || l.stopped() {
			return false
		}
		for _, m := range l.mend[:min(atOnce, len(l.mend))] {
			if gain, _ := l.gain(pick, m.run, m.option); gain > leastGain {
				pick[m.run] = m.option
				for _, s := range l.affects[m.run] {
					l.miss[s] = l.judge(pick, s)
				}
			}
		}
	}
	return true
}

// leastGain is the least gain that a repair counts, as a share of the head.
const leastGain = 1e-6

// mending is the exchange of a run that mends most for its money.
type mending struct {
	run, option int
	rate        float64
}

// mends lists the best exchange of every run that mends, the best run first.
func (l *local) mends(pick []int) {
	l.mend = l.mend[:0]
	for i := range pick {
		if !slices.ContainsFunc(l.affects[i], func(s int) bool { return l.miss[s] > 0 }) || l.stopped() {
			continue
		}
		best := mending{run: -1}
		for o := range l.e.p.Runs[i].Options {
			if o == pick[i] {
				continue
			}
			if gain, cost := l.gain(pick, i, o); gain > leastGain {
				if rate := gain / float64(max(cost, 1)); rate > best.rate {
					best = mending{i, o, rate}
				}
			}
		}
		if best.run >= 0 {
			l.mend = append(l.mend, best)
		}
	}
	slices.SortStableFunc(l.mend, func(a, b mending) int { return cmp.Compare(b.rate, a.rate) })
}

// gain is by how much less a plan misses after an exchange, and what that costs.
func (l *local) gain(pick []int, i, o int) (gain float64, cost int64) {
	cost = l.delta(pick, i, o)
	old := pick[i]
	pick[i] = o
	for _, s := range l.affects[i] {
		gain += l.miss[s] - l.judge(pick, s)
	}
	pick[i] = old
	return gain, cost
}

// missed is the sum of what is missed.
func (l *local) missed() float64 {
	sum := 0.0
	for _, m := range l.miss {
		sum += m
	}
	return sum
}

// fits reports whether a plan still meets all that run i takes part in.
func (l *local) fits(pick []int, i int) bool {
	for _, s := range l.affects[i] {
		if l.judge(pick, s) > 0 {
			return false
		}
	}
	return true
}

// single makes the exchange that saves most until none saves.
func (l *local) single(pick []int) {
	for !l.stopped() {
		l.list(pick, -1)
		if len(pick) > large {
			if !l.sweep(pick) {
				return
			}
			continue
		}
		if !slices.ContainsFunc(l.order, func(x exchange) bool {
			old := pick[x.run]
			pick[x.run] = x.option
			if l.fits(pick, x.run) {
				return true
			}
			pick[x.run] = old
			return false
		}) {
			return
		}
	}
}

// sweep makes every listed exchange that still saves, and reports whether
// there was one.
func (l *local) sweep(pick []int) bool {
	any := false
	for _, x := range l.order {
		old := pick[x.run]
		if l.delta(pick, x.run, x.option) >= 0 || l.stopped() {
			continue
		}
		if pick[x.run] = x.option; l.fits(pick, x.run) {
			any = true
		} else {
			pick[x.run] = old
		}
	}
	return any
}

// list puts the exchanges that cost no more than limit into order.
func (l *local) list(pick []int, limit int64) {
	l.order = l.order[:0]
	for i := range pick {
		for o := range l.e.p.Runs[i].Options {
			if c := l.delta(pick, i, o); c <= limit && o != pick[i] {
				l.order = append(l.order, exchange{i, o, c})
			}
		}
	}
	slices.SortStableFunc(l.order, func(a, b exchange) int { return int(a.cost - b.cost) })
}

// pair makes one exchange of two runs that saves, and reports whether there
// was one. spread bounds by how much their indices differ.
func (l *local) pair(pick []int, spread int) bool {
	l.list(pick, math.MaxInt64)
	for a := 0; a < len(l.order) && l.order[a].cost < 0; a++ {
		if l.stopped() {
			return false
		}
		x := l.order[a]
		oldX := pick[x.run]
		for b := a + 1; b < len(l.order) && l.order[b].cost < -x.cost; b++ {
			y := l.order[b]
			if y.run == x.run || max(y.run-x.run, x.run-y.run) > spread {
				continue
			}
			oldY := pick[y.run]
			pick[x.run] = x.option
			cost := x.cost + l.delta(pick, y.run, y.option)
			pick[y.run] = y.option
			if cost < 0 && l.fits(pick, x.run) && l.fits(pick, y.run) {
				return true
			}
			pick[x.run], pick[y.run] = oldX, oldY
		}
	}
	return false
}

// adapt repairs a copy of a plan, exchanges one option at a time as long as
// that saves, and offers the result. It returns nil where the repair is stuck.
func (s *search) adapt(pick []int) []int {
	plan := slices.Clone(pick)
	if !s.local.repair(plan) {
		return nil
	}
	s.local.single(plan)
	s.offer(plan)
	return plan
}

// improve is adapt with exchanges of two options too.
func (s *search) improve(pick []int) {
	plan := s.adapt(pick)
	if plan == nil {
		return
	}
	spread := len(plan)
	if len(plan) > large {
		spread = 6
	}
	for range 20 {
		if s.ctx.Err() != nil || !s.local.pair(plan, spread) {
			break
		}
		s.local.single(plan)
		s.offer(plan)
	}
	s.offer(plan)
}
