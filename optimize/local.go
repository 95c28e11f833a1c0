package optimize

import (
	"cmp"
	"math/bits"
	"slices"
)

// move sets one choice to an alternative.
type move struct{ choice, a int }

// moves lists every change of one choice within the domains.
func (x *search) moves(pick []int) []move {
	var out []move
	for i := range x.dom {
		for d := x.dom[i]; d != 0; d &= d - 1 {
			if a := bits.TrailingZeros64(d); a != pick[i] {
				out = append(out, move{i, a})
			}
		}
	}
	return out
}

// weightOf is the weight of a plan without its energy, never if it is not sold.
func (x *search) weightOf(pick []int) weight {
	cost, changes, sold := x.p.Cost(pick)
	if !sold {
		return never
	}
	return weigh(cost, changes)
}

// starts are the plans that the local search begins with: the cheapest one
// within the domains, and for every alternative of the trunk's first run the
// cheapest plan whose shared ducts are as near to its size as their domains
// allow.
func (x *search) starts() [][]int {
	var out [][]int
	add := func(dom []uint64) {
		if x.costs.bound(dom) >= never {
			return
		}
		pick := make([]int, len(dom))
		fixed := slices.Clone(dom)
		for i := range fixed { // settle one by one, so that joints are sold
			x.costs.bound(fixed)
			best := -1
			for d := fixed[i]; d != 0; d &= d - 1 {
				a := bits.TrailingZeros64(d)
				if best < 0 || x.costs.marginal[i][a] < x.costs.marginal[i][best] {
					best = a
				}
			}
			pick[i] = best
			fixed[i] = 1 << best
		}
		if !slices.ContainsFunc(out, func(p []int) bool { return slices.Equal(p, pick) }) {
			out = append(out, pick)
		}
	}
	add(x.dom)
	for _, size := range x.trunkSizes() {
		dom := slices.Clone(x.dom)
		for i := range dom {
			if c := &x.p.Choices[i]; c.Run >= 0 && x.shared(c.Run) {
				dom[i] = 1 << x.nearest(i, size)
			}
		}
		add(dom)
	}
	return out
}

// shared reports whether several tools use a run.
func (x *search) shared(run int) bool {
	n := 0
	for k := range x.p.Base.Spec().Tools {
		if x.p.Base.ToolsUpstream(run, k) {
			n++
		}
	}
	return n > 1
}

// trunkSizes are the diameters that shared ducts may have, small to large.
func (x *search) trunkSizes() []float64 {
	var out []float64
	for i := range x.dom {
		c := &x.p.Choices[i]
		if c.Run < 0 || !x.shared(c.Run) {
			continue
		}
		for d := x.dom[i]; d != 0; d &= d - 1 {
			out = append(out, x.diameter(i, bits.TrailingZeros64(d)))
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func (x *search) diameter(choice, a int) float64 {
	pieces := x.p.Choices[choice].Alternatives[a].Pieces
	return float64(pieces[len(pieces)-1].Diameter)
}

// nearest is the alternative of a run's domain whose diameter is nearest to
// size; the cheaper one of equals.
func (x *search) nearest(choice int, size float64) int {
	best, gap := -1, 0.0
	for d := x.dom[choice]; d != 0; d &= d - 1 {
		a := bits.TrailingZeros64(d)
		g := x.diameter(choice, a) - size
		if g < 0 {
			g = -g
		}
		if best < 0 || g < gap-1e-9 {
			best, gap = a, g
		}
	}
	return best
}

// heuristic looks for good plans: annealing from the starts that miss least,
// then exchanges. It also keeps the plan that misses least, for an answer when
// none meets all.
func (x *search) heuristic() {
	type start struct {
		pick []int
		miss float64
	}
	var all []start
	for _, pick := range x.starts() {
		if x.halted() {
			return
		}
		miss := x.judge.miss(pick)
		x.note(pick, miss)
		if miss == 0 {
			x.offer(pick)
		}
		all = append(all, start{pick, miss})
	}
	slices.SortStableFunc(all, func(a, b start) int { return cmp.Compare(a.miss, b.miss) })
	for run, s := range all[:min(len(all), annealRuns)] {
		x.anneal(s.pick, run)
		if x.best != nil && run > 0 {
			break
		}
	}
	if x.best != nil {
		x.exchange(x.best.Pick)
	}
}

// note remembers the plan that comes closest.
func (x *search) note(pick []int, miss float64) {
	if x.closest == nil || miss < x.closestMiss {
		x.closest, x.closestMiss = slices.Clone(pick), miss
	}
}

// exchange makes a plan lighter by one or two changes at a time while it
// meets every state; by one where there are so many choices that neighbourhoods
// will be searched.
func (x *search) exchange(start []int) {
	pick := slices.Clone(start)
	for x.exchangeOne(pick) || x.undecided() <= x.many && x.exchangeTwo(pick) {
		if x.halted() {
			return
		}
	}
}

func (x *search) exchangeOne(pick []int) bool {
	for _, m := range x.moves(pick) {
		old := pick[m.choice]
		pick[m.choice] = m.a
		if before := x.limit; plus(x.weightOf(pick), x.due()) < before {
			if x.offer(pick); x.limit < before {
				return true
			}
		}
		pick[m.choice] = old
	}
	return false
}

func (x *search) exchangeTwo(pick []int) bool {
	moves := x.moves(pick)
	for i, m := range moves {
		old := pick[m.choice]
		pick[m.choice] = m.a
		for _, n := range moves[i+1:] {
			if n.choice == m.choice {
				continue
			}
			last := pick[n.choice]
			pick[n.choice] = n.a
			if before := x.limit; plus(x.weightOf(pick), x.due()) < before {
				if x.offer(pick); x.limit < before {
					return true
				}
			}
			pick[n.choice] = last
			if x.halted() {
				pick[m.choice] = old
				return false
			}
		}
		pick[m.choice] = old
	}
	return false
}

// gap is the relative distance of a bound from a cost.
func gap(cost, bound int64) float64 {
	if cost <= 0 {
		return 0
	}
	return max(0, float64(cost-bound)/float64(cost))
}
