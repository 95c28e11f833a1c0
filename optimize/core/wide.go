package core

import (
	"math"
	"math/bits"
	"slices"
)

// large is the number of runs above which plans are sought by neighbourhoods,
// unless Settings say otherwise.
const large = 40

// veryLarge is the number of runs above which a plan is sought before the
// first bound.
const veryLarge = 250

// Limits of the search by neighbourhoods.
const (
	widePasses  = 200 // passes of the subgradient method at the root, first
	laterPasses = 30
	freeRuns    = 12   // runs of a neighbourhood at first
	freeNodes   = 150  // nodes for one neighbourhood
	freeMost    = 80   // runs of a neighbourhood at most
	worthwhile  = 1e-4 // part of the gap between cost and bound that a round must close
	idleSweeps  = 5    // sweeps without a better plan, each with more runs free
	seedsOffset = 7
)

// wideSize is how many runs a neighbourhood frees, 0 for none.
func (s *search) wideSize() int {
	switch n := s.set.Neighbourhood; {
	case n > 0:
		return n
	case n < 0 || len(s.p.Runs) <= large:
		return 0
	}
	return freeRuns
}

// wide prepares the root of a large problem: by turns its bound is raised, the
// options that only dearer plans take are struck out, and the best plan is
// improved by freeing a part of the tree at a time, with all else as it is,
// until neither helps. The root keeps what was found out.
func (s *search) wide(root *node, free int) {
	s.plain, s.passes = true, widePasses
	defer func() { s.plain, s.passes = false, 0 }()
	w := newWideness(s, free)
	s.begin()
	for idle := 0; idle < idleSweeps && !s.halted(); {
		s.nodes++
		if !s.raise(root) {
			root.bound = math.Inf(1)
			return
		}
		if s.hopeless(root.bound) {
			return
		}
		if s.best == nil && !s.first() {
			return
		}
		s.passes = laterPasses
		cost, bound := s.cost, root.bound
		w.sweep(root)
		if s.cost < cost && s.halted() {
			return
		}
		if s.cost < cost-worthwhile*(s.cost-bound) {
			idle, w.free = 0, free
			continue
		}
		idle++
		w.free = min(w.free+w.free/3+1, freeMost)
	}
}

// raise raises the bound of the root and strikes out what it can. It reports
// false where no cheaper plan is left.
func (s *search) raise(root *node) bool {
	for round := 0; round < 3; round++ {
		s.x.install(root.dom)
		if !s.x.shrink() {
			return false
		}
		before := root.bound
		root.bound = max(root.bound, s.bound(root, 0))
		if s.hopeless(root.bound) || s.ctx.Err() != nil {
			return true
		}
		root.multiplier = s.dual.best
		if !math.IsInf(s.cost, 1) {
			if !s.filter() || !s.x.shrink() {
				return false
			}
		}
		same := slices.Equal(root.dom, s.x.dom)
		copy(root.dom, s.x.dom)
		if same || root.bound-before < worthwhile*root.bound || s.ctx.Err() != nil {
			break
		}
	}
	return true
}

// first looks for a plan to begin with: runs of about one velocity at their
// least flows, in five grades, made to meet everything, at any cost if need be,
// or else what the program took last. It reports whether there is one.
func (s *search) first() bool {
	last := slices.Clone(s.pick)
	for _, grade := range []float64{3, 4, 2, 5, 1} {
		plan := s.sized(grade / 6)
		s.price(slices.Clone(plan))
		if s.best == nil && s.local.press(plan) {
			s.adapt(plan)
		}
	}
	if s.best == nil {
		s.adapt(last)
	}
	return s.best != nil
}

// begin looks for a plan without the program, where that takes long.
func (s *search) begin() {
	if len(s.p.Runs) > veryLarge && s.best == nil {
		s.price(s.sized(0.5))
	}
}

// price makes a plan meet everything by penalties, at first those that the
// multipliers say, exchanges as long as that saves, and offers the result.
func (s *search) price(plan []int) {
	sum := 0.0
	for _, m := range s.dual.now {
		sum += m
	}
	states := float64(max(1, len(s.p.States)+len(s.p.Loadings)))
	if s.local.penalise(plan, max(sum, float64(s.p.Cost(plan))/10)/states) {
		s.local.single(plan)
		s.offer(plan)
	}
}

// sized takes of every run the widest option with at least the given velocity
// at its least flow, else the narrowest; grade is the place of that velocity
// among all of them.
func (s *search) sized(grade float64) []int {
	least := make([]float64, len(s.pick))
	var all []float64
	for i := range least {
		least[i] = math.Inf(1)
		for k := range s.p.States {
			if s.e.running[k][i] {
				least[i] = min(least[i], s.x.state[k].flow[i])
			}
		}
		for d := s.x.dom[i]; d != 0 && !math.IsInf(least[i], 1); d &= d - 1 {
			if area := s.p.Runs[i].Options[bits.TrailingZeros64(d)].Area; area > 0 {
				all = append(all, least[i]/area)
			}
		}
	}
	slices.Sort(all)
	velocity := 0.0
	if len(all) > 0 {
		velocity = all[int(grade*float64(len(all)-1))]
	}
	plan := make([]int, len(s.pick))
	for i, r := range s.p.Runs {
		best := -1
		for d := s.x.dom[i]; d != 0; d &= d - 1 {
			o := bits.TrailingZeros64(d)
			opt := &r.Options[o]
			fast := least[i] >= velocity*opt.Area
			if best < 0 {
				best = o
				continue
			}
			have := &r.Options[best]
			switch ok := least[i] >= velocity*have.Area; {
			case fast && (!ok || opt.Resistance < have.Resistance), !fast && !ok && opt.Area < have.Area:
				best = o
			}
		}
		plan[i] = best
	}
	return plan
}

// wideness frees parts of a tree in turn.
type wideness struct {
	s      *search
	free   int
	sweeps int
	used   []bool
	runs   []int
	dom    []uint64
}

func newWideness(s *search, free int) *wideness {
	return &wideness{s: s, free: free, used: make([]bool, len(s.p.Runs)), dom: make([]uint64, len(s.p.Runs))}
}

// sweep frees balls of runs until each has been free once, then the runs
// around the tools of every state (or the ends of every loading).
func (w *wideness) sweep(root *node) {
	n := len(w.s.p.Runs)
	covered := make([]bool, n)
	for j := range n {
		seed := (j + w.sweeps*seedsOffset) % n
		if covered[seed] {
			continue
		}
		if w.s.halted() {
			return
		}
		w.ball([]int{seed})
		for _, i := range w.runs {
			covered[i] = true
		}
		w.solve(root)
	}
	for _, st := range w.s.p.States {
		if w.s.halted() {
			return
		}
		var seeds []int
		for k := range st.Running {
			seeds = append(seeds, w.s.p.Tools[st.Running[(k+w.sweeps)%len(st.Running)]].Run)
		}
		if len(seeds) > 0 {
			w.ball(seeds)
			w.solve(root)
		}
	}
	w.sweeps++
}

// ball fills runs with those next to the seeds in the tree, nearest first.
func (w *wideness) ball(seeds []int) {
	clear(w.used)
	w.runs = w.runs[:0]
	take := func(i int) {
		if i >= 0 && !w.used[i] && len(w.runs) < w.free {
			w.used[i] = true
			w.runs = append(w.runs, i)
		}
	}
	for _, i := range seeds {
		take(i)
	}
	for k := 0; k < len(w.runs); k++ {
		take(w.s.p.Runs[w.runs[k]].Parent)
		for _, c := range w.s.e.children[w.runs[k]] {
			take(c)
		}
	}
}

// solve searches the plans that differ from the best in the free runs alone.
// The states in which those do not move stay as they are and are left out.
func (w *wideness) solve(root *node) {
	s := w.s
	for i, o := range s.best {
		w.dom[i] = 1 << o
	}
	for _, i := range w.runs {
		w.dom[i] |= root.dom[i]
	}
	set := Settings{Scale: s.set.Scale, Neighbourhood: -1, MaxNodes: freeNodes}
	if s.set.MaxNodes > 0 {
		set.MaxNodes = min(freeNodes, s.set.MaxNodes-s.nodes)
	}
	part, multiplier := w.part(root.multiplier)
	sub := newSearch(s.ctx, part, &set)
	sub.plain, sub.best, sub.cost, sub.warm = true, s.best, s.cost, multiplier
	sub.explore(w.dom)
	s.nodes += sub.nodes
	if sub.cost < s.cost {
		s.offer(sub.best)
	}
}

// part is the problem with those states alone in which a free run moves (the
// first where there is none), and the multipliers of their rows.
func (w *wideness) part(multiplier []float64) (*Problem, []float64) {
	part := *w.s.p
	part.States = nil
	var kept []float64
	row := 0
	for k, st := range w.s.p.States {
		next := row
		if !w.s.r.single[k] || w.s.r.leaky {
			next += len(st.Running)
		}
		moves := w.s.e.moves[k]
		if slices.ContainsFunc(w.runs, func(i int) bool { return moves[i] }) {
			part.States = append(part.States, st)
			if next <= len(multiplier) {
				kept = append(kept, multiplier[row:next]...)
			}
		}
		row = next
	}
	if len(part.States) == 0 {
		part.States = w.s.p.States[:min(1, len(w.s.p.States))]
		return &part, nil
	}
	return &part, append(kept, multiplier[min(row, len(multiplier)):]...)
}
