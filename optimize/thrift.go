package optimize

import (
	"math"
)

// thrift is what the search proves about fan power: lower bounds for every plan
// of the domains of a node.
type thrift struct {
	*draw
	// least is a bound per state, weak the opening that gave it last, due their
	// energy money as a weight.
	least []float64
	weak  []int
	due   weight
	saved [][]float64 // least per level of the tree
	spare []float64
}

// charge puts the energy money of plans into the weight that is minimised.
func (x *search) charge(e *Energy) {
	d := newDraw(x.judge, e)
	x.set.Energy, x.judge.draw = e, d
	x.thrift = &thrift{draw: d, weak: make([]int, len(x.p.States)), saved: make([][]float64, len(x.p.Choices)+1)}
	x.thrift.reset()
}

// reset forgets the bounds: the domains are wider again.
func (t *thrift) reset() {
	if t != nil {
		t.due, t.least, t.spare = 0, make([]float64, len(t.share)), make([]float64, len(t.share))
	}
}

// due is the least energy money of a plan of the domains, as a weight.
func (x *search) due() weight {
	if x.thrift == nil {
		return 0
	}
	return x.thrift.due
}

// bill is the energy money of a plan, as a weight.
func (x *search) bill(pick []int) weight {
	if x.thrift == nil {
		return 0
	}
	_, money := x.thrift.of(pick)
	return weigh(money, 0)
}

// boundPower bounds fan power anew over the domains. It reports false when no plan of
// them can be lighter than the limit, or draw as little as it must.
func (x *search) boundPower() bool {
	t := x.thrift
	if t == nil {
		return true
	}
	if !x.raiseTo(t.least) {
		return false
	}
	mean, money := t.sums(t.least)
	t.due = weigh(money, 0)
	return mean <= t.most && plus(x.costs.bound(x.dom), t.due) < x.limit && x.trim()
}

// raiseTo raises the bounds of all states. It reports false when a state has no
// opening left.
func (x *search) raiseTo(least []float64) bool {
	for s := range least {
		best, weak := math.Inf(1), x.thrift.weak[s]
		// try reports whether the bound cannot rise any more.
		try := func(o int) bool {
			if p := x.openingLeast(s, o); p < best {
				best, x.thrift.weak[s] = p, o
			}
			return best <= least[s]
		}
		if try(weak) {
			continue
		}
		for o := range x.judge.openings[s] {
			if o != weak && try(o) {
				break
			}
		}
		if math.IsInf(best, 1) {
			return false
		}
		least[s] = max(least[s], best)
	}
	return true
}

// openingLeast is the least power of a state in an opening over the domains,
// +Inf where it cannot be met so.
func (x *search) openingLeast(s, o int) float64 {
	if !x.openingPossible(s, o) {
		return math.Inf(1)
	}
	if x.settled(&x.judge.openings[s][o]) {
		p, _ := x.thrift.at(s, o, picked(x.dom))
		return p
	}
	return x.thrift.floor(s, o)
}

// wasteful reports whether the alternative that alone is left of its choice
// draws too much, or costs too much with the energy that it takes at least.
func (x *search) wasteful(choice, a int) bool {
	t := x.thrift
	if t == nil || x.limit >= never && math.IsInf(t.most, 1) {
		return false
	}
	copy(t.spare, t.least)
	if !x.raiseTo(t.spare) {
		return true
	}
	mean, money := t.sums(t.spare)
	return mean > t.most || plus(x.costs.marginal[choice][a], weigh(money, 0)) >= x.limit
}

// keep notes the bounds with which a node begins, and back returns to them at
// its end: they are those of wider domains again.
func (t *thrift) keep(level int) {
	if t != nil {
		t.saved[level] = append(t.saved[level][:0], t.least...)
	}
}

func (t *thrift) back(level int) {
	if t != nil {
		copy(t.least, t.saved[level])
		_, money := t.sums(t.least)
		t.due = weigh(money, 0)
	}
}
