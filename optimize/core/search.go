package core

import (
	"cmp"
	"container/heap"
	"context"
	"math"
	"math/bits"
	"slices"
)

// search is one run of the branch and bound.
type search struct {
	ctx     context.Context
	set     Settings
	p       *Problem
	e       *Evaluator
	x       *encloser
	r       *relax
	local   *local
	best    []int
	cost    float64 // of the best plan, +Inf for none
	nodes   int
	open    queue
	serial  int
	stop    bool
	left    float64   // least bound of nodes given up by a stop
	warm    []float64 // multipliers to begin with
	kept    []float64 // those of the first node
	floor   float64   // a bound known beforehand
	follows bool      // Start is the last point of a front
	plain   bool      // bounds start no exchanges
	passes  int       // of the subgradient method, 0 for the usual ones

	pick, at []int
	spent    []float64
	dual     dual
}

// node is a box of plans still to be looked at.
type node struct {
	dom        []uint64
	multiplier []float64
	bound      float64
	depth      int
	serial     int
}

// queue orders nodes by bound, then the deeper, then the older first.
type queue []*node

func (q queue) Len() int { return len(q) }
func (q queue) Less(i, j int) bool {
	a, b := q[i], q[j]
	return cmp.Or(cmp.Compare(a.bound, b.bound), -cmp.Compare(a.depth, b.depth), cmp.Compare(a.serial, b.serial)) < 0
}
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)   { *q = append(*q, x.(*node)) }
func (q *queue) Pop() any {
	last := len(*q) - 1
	x := (*q)[last]
	(*q)[last] = nil
	*q = (*q)[:last]
	return x
}

func newSearch(ctx context.Context, p *Problem, set *Settings) *search {
	n := len(p.Runs)
	s := &search{ctx: ctx, p: p, e: NewEvaluator(p), cost: math.Inf(1), left: math.Inf(1),
		pick: make([]int, n), at: make([]int, n), spent: make([]float64, n)}
	if set != nil {
		s.set = *set
	}
	if s.set.Scale == 0 {
		s.set.Scale = 1
	}
	s.e.scale = s.set.Scale
	s.x = newEncloser(s.e)
	s.r = newRelax(s.x)
	s.local = newLocal(s.e)
	s.local.stopped = func() bool { return ctx.Err() != nil }
	return s
}

// full is every option of every run.
func full(p *Problem) []uint64 {
	dom := make([]uint64, len(p.Runs))
	for i := range dom {
		dom[i] = math.MaxUint64 >> (MaxOptions - len(p.Runs[i].Options))
	}
	return dom
}

// costs are integers: a bound above this much less than the best plan is as
// good as one that reaches it.
const whole = 0.99

// hopeless reports whether a bound excludes a cheaper plan.
func (s *search) hopeless(bound float64) bool {
	return math.IsInf(bound, 1) || bound*(1-1e-10) > s.cost-whole || s.set.Gap > 0 && bound >= s.cost*(1-s.set.Gap)
}

// offer takes a plan if it is cheaper than the best and meets everything.
func (s *search) offer(pick []int) bool {
	c := float64(s.p.Cost(pick))
	if c >= s.cost || !s.e.Meets(pick) {
		return false
	}
	s.cost, s.best = c, slices.Clone(pick)
	return true
}

// halted reports whether the search must end.
func (s *search) halted() bool {
	s.stop = s.stop || s.ctx.Err() != nil || s.set.MaxNodes > 0 && s.nodes >= s.set.MaxNodes
	return s.stop
}

func (s *search) run() {
	if s.set.Start != nil && !s.offer(s.set.Start) {
		if s.follows { // a plan of the last point needs little
			s.adapt(s.set.Start)
		} else {
			s.improve(s.set.Start)
		}
	}
	s.explore(full(s.p))
}

// explore searches the plans of some domains.
func (s *search) explore(dom []uint64) {
	s.x.install(dom)
	if !s.x.shrink() {
		return
	}
	s.r.levels()
	root := &node{dom: slices.Clone(s.x.dom), multiplier: s.warm, bound: s.floor}
	if free := s.wideSize(); free > 0 {
		s.wide(root, free)
	}
	heap.Push(&s.open, root)
	for len(s.open) > 0 {
		n := heap.Pop(&s.open).(*node)
		for n != nil && !s.hopeless(n.bound) {
			if s.halted() {
				s.left = min(s.left, n.bound)
				break
			}
			n = s.step(n)
		}
		if s.stop {
			for _, n := range s.open {
				s.left = min(s.left, n.bound)
			}
			return
		}
	}
}

// step looks at a node: it returns the most promising of its parts, to go on
// with, and puts the others into the queue.
func (s *search) step(n *node) *node {
	s.nodes++
	s.x.install(n.dom)
	if !s.x.shrink() {
		return nil
	}
	for round := 0; ; round++ {
		bound := max(n.bound, s.bound(n, round))
		if s.hopeless(bound) {
			return nil
		}
		n.bound = bound
		before := s.x.excluded
		if !s.filter() || !s.x.shrink() {
			return nil
		}
		if s.x.excluded-before <= s.size()/10 || round == 2 {
			break
		}
	}
	if s.settled() {
		s.offer(s.pick)
		return nil
	}
	return s.branch(n)
}

// size is the number of options left beyond one per run.
func (s *search) size() int {
	sum := 0
	for _, d := range s.x.dom {
		sum += bits.OnesCount64(d) - 1
	}
	return sum
}

// filter strikes out the options that only dearer plans take.
func (s *search) filter() bool {
	for i, d := range s.x.dom {
		keep := d
		for ; d != 0; d &= d - 1 {
			if o := bits.TrailingZeros64(d); s.hopeless(s.r.g.marginal[i][o] - s.dual.constant) {
				keep &^= 1 << o
			}
		}
		if keep == 0 {
			return false
		}
		if keep != s.x.dom[i] {
			s.x.excluded += bits.OnesCount64(s.x.dom[i] &^ keep)
			s.x.set(i, keep)
		}
	}
	return true
}

// settled reports whether one plan is left, and puts it into pick.
func (s *search) settled() bool {
	for i, d := range s.x.dom {
		if d&(d-1) != 0 {
			return false
		}
		s.pick[i] = bits.TrailingZeros64(d)
	}
	return true
}

// branch divides a node by the options of one run.
func (s *search) branch(n *node) *node {
	run := s.choice()
	var kids []*node
	for d := s.x.dom[run]; d != 0; d &= d - 1 {
		o := bits.TrailingZeros64(d)
		k := &node{dom: slices.Clone(s.x.dom), multiplier: s.dual.best, depth: n.depth + 1, serial: s.serial,
			bound: max(n.bound, s.r.g.marginal[run][o]-s.dual.constant)}
		k.dom[run] = 1 << o
		s.serial++
		kids = append(kids, k)
	}
	slices.SortStableFunc(kids, func(a, b *node) int { return cmp.Compare(a.bound, b.bound) })
	for _, k := range kids[1:] {
		heap.Push(&s.open, k)
	}
	return kids[0]
}

// choice is the run to branch on: that whose options differ most in what they
// cost at least with anything else (the mean, capped at what the best plan
// leaves), times the number of states in which it moves.
func (s *search) choice() int {
	best, run := -1.0, -1
	for i, d := range s.x.dom {
		if d&(d-1) == 0 {
			continue
		}
		least, sum, n := math.Inf(1), 0.0, 0.0
		for k := d; k != 0; k &= k - 1 {
			m := s.r.g.marginal[i][bits.TrailingZeros64(k)]
			least = min(least, m)
		}
		for k := d; k != 0; k &= k - 1 {
			m := s.r.g.marginal[i][bits.TrailingZeros64(k)]
			sum += min(m, s.cost+s.dual.constant) - least
			n++
		}
		if score := sum / n * float64(len(s.x.affects[i])+len(s.p.Loadings)); score > best {
			best, run = score, i
		}
	}
	return run
}

func (s *search) result() *Result {
	r := &Result{Nodes: s.nodes}
	if s.best != nil {
		r.Status, r.Pick, r.Cost = Optimal, s.best, int64(s.cost)
		r.Bound = r.Cost
	} else {
		r.Status = Infeasible
	}
	if s.best != nil && s.set.Gap > 0 {
		r.Status, r.Bound = Feasible, int64(math.Ceil(s.cost*(1-s.set.Gap)-0.01))
	}
	if s.stop && !s.hopeless(s.left) {
		r.Status = Feasible
		if s.best == nil {
			r.Status = Undecided
		}
		r.Bound = int64(math.Ceil(s.left - 0.01))
		if s.best != nil {
			r.Bound = min(r.Bound, r.Cost)
		}
	}
	return r
}
