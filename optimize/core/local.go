package core

import (
	"math"
	"slices"
)

// local repairs and improves plans by exchanges.
type local struct {
	e       *Evaluator
	affects [][]int
	miss    []float64
	order   []exchange
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
	var x float64
	if n := len(l.e.p.States); s < n {
		x = l.e.miss(pick, s)
	} else {
		x = l.e.overload(pick, s-n)
	}
	if x <= grain {
		return 0
	}
	return x
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
// mends most for its money. It reports false where it is stuck.
func (l *local) repair(pick []int) bool {
	total := 0.0
	for s := range l.miss {
		l.miss[s] = l.judge(pick, s)
		total += l.miss[s]
	}
	for total > 0 {
		if l.stopped() {
			return false
		}
		best, run, option := 0.0, -1, 0
		for i := range pick {
			old := pick[i]
			for o := range l.e.p.Runs[i].Options {
				if o == old {
					continue
				}
				cost := l.delta(pick, i, o)
				pick[i] = o
				gain := 0.0
				for _, s := range l.affects[i] {
					gain += l.miss[s] - l.judge(pick, s)
				}
				pick[i] = old
				if gain > 1e-6 {
					if rate := gain / float64(max(cost, 1)); rate > best {
						best, run, option = rate, i, o
					}
				}
			}
		}
		if run < 0 {
			return false
		}
		pick[run] = option
		total = 0
		for _, s := range l.affects[run] {
			l.miss[s] = l.judge(pick, s)
		}
		for _, m := range l.miss {
			total += m
		}
	}
	return true
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
	for {
		l.list(pick, -1)
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
	if len(plan) > 60 {
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
