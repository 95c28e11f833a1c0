package optimize

import (
	"fmt"
	"math/bits"
	"slices"
	"strings"

	"wyewright/optimize/price"
)

// label is a row of stages so far.
type label struct {
	member int // of the family; the shop after the last stage
	met    int
	open   []int
	// now is what the shop counts, sum what all stages count together, or below
	// zero what is missed while money is saved for them.
	now, sum int64
	// spent is all the money, early the sum over the stages of the money spent
	// by then.
	spent, early price.Money
	from         *label
}

// better reports whether a row counts more, or as much for money spent later.
func (l *label) better(o *label) bool {
	return l.sum > o.sum || l.sum == o.sum && l.early < o.early
}

// rule says which rows of stages are wanted.
type rule struct {
	stages int
	// caps are the sums that may be spent with each stage; nil asks for stages
	// that all change something, the last of them the whole plan.
	caps []price.Money
}

// allows reports whether a stage may lead from one shop to another.
func (g *stager) allows(r *rule, stage int, from, to *partial, l *label, cost price.Money) bool {
	if r.caps != nil {
		return l.spent+cost <= r.caps[stage]
	}
	left := r.stages - 1 - stage
	return from != to && (to.set == g.whole()) == (left == 0) && len(g.units)-bits.OnesCount64(to.set) >= left
}

// beats reports whether a row makes another one of the same shop needless.
func (l *label) beats(o *label) bool { return l.spent <= o.spent && !o.better(l) }

// whole is the set of all parts.
func (g *stager) whole() uint64 { return 1<<len(g.units) - 1 }

// rows extends rows of stages one stage at a time and returns those of full
// length. It is a dynamic program: what the next stage may do depends on the
// shop, on what must stay met and on the money alone.
func (g *stager) rows(r *rule) []*label {
	layer := []*label{{member: 0, met: 0, now: g.worth()}}
	for stage := range r.stages {
		next := map[[2]int][]*label{}
		var order [][2]int
		for _, l := range layer {
			from := g.family[l.member]
			for m, to := range g.family {
				if to.set&from.set != from.set {
					continue
				}
				n, ok := g.extend(r, stage, l, m)
				if !ok {
					continue
				}
				key := [2]int{n.member, n.met}
				old, seen := next[key]
				if !seen {
					order = append(order, key)
				}
				if slices.ContainsFunc(old, func(o *label) bool { return o.beats(n) }) {
					continue
				}
				old = slices.DeleteFunc(old, func(o *label) bool { return n.beats(o) })
				next[key] = append(old, n)
			}
		}
		layer = nil
		for _, key := range order {
			layer = append(layer, next[key]...)
		}
	}
	return layer
}

// extend adds a stage to a row, if it may be.
func (g *stager) extend(r *rule, stage int, l *label, m int) (*label, bool) {
	from, to := g.family[l.member], g.family[m]
	n := &label{member: m, met: l.met, open: l.open, now: l.now, spent: l.spent, from: l}
	if from != to {
		cost, sold := g.cost(from, to)
		if !sold || !g.allows(r, stage, from, to, l, cost) {
			return nil, false
		}
		c := g.card(m, l.met)
		if c.met < 0 {
			return nil, false
		}
		n.met, n.open, n.now = c.met, c.open, c.worth
		n.spent += cost
	} else if !g.allows(r, stage, from, to, l, 0) {
		return nil, false
	}
	n.sum, n.early = l.sum+n.now, l.early+n.spent
	if r.caps == nil {
		n.sum = l.sum - (g.most()-l.now)*int64(n.spent-l.spent)
	}
	return n, true
}

// pickRow chooses among finished rows: the whole plan first where the money pays for
// it, then what counts most.
func (g *stager) pickRow(rows []*label) *label {
	var best *label
	for _, l := range rows {
		full, was := g.family[l.member].set == g.whole(), best != nil && g.family[best.member].set == g.whole()
		if best == nil || full && !was || full == was && l.better(best) {
			best = l
		}
	}
	return best
}

// best finds the best order of the parts under the options.
func (g *stager) best() (*Staged, error) {
	exact := g.shops()
	row := g.order()
	if row == nil || row.idle() { // perhaps where runs may lose transport velocity
		g.again(true)
		if l := g.order(); l != nil && (row == nil || !l.idle()) {
			row = l
		} else {
			g.again(false)
		}
	}
	if row == nil && g.stats.Stopped {
		return nil, fmt.Errorf("%w: stopped before an order of %d stages was found", ErrStages, g.o.Count)
	} else if row == nil {
		return nil, fmt.Errorf("%w: no order of %d stages keeps what was met before", ErrStages, g.o.Count)
	}
	out, err := g.describe(row)
	if err != nil {
		return nil, err
	}
	out.Status = Feasible
	if exact && !g.stats.Stopped {
		out.Status = Optimal
	}
	out.Stats = g.stats
	return out, nil
}

// again starts anew with the transport velocities to be kept or not.
func (g *stager) again(slower bool) {
	g.slower, g.mets, g.cards = slower, g.mets[:1], map[[2]int]card{}
	g.metID = map[string]int{strings.Join(g.mets[0], "/"): 0}
}

// order is the best row of stages, nil for none.
func (g *stager) order() *label {
	if len(g.o.Budgets) > 0 {
		caps, sum := []price.Money{}, price.Money(0)
		for _, m := range g.o.Budgets {
			sum += m
			caps = append(caps, sum)
		}
		return g.pickRow(g.rows(&rule{stages: len(caps), caps: caps}))
	}
	return g.pickRow(g.rows(&rule{stages: g.o.Count}))
}

// most is what a shop counts that meets everything.
func (g *stager) most() int64 {
	sum := int64(0)
	for s := range g.states {
		sum += g.full(s)
	}
	return sum
}

// idle reports whether a row changes nothing.
func (l *label) idle() bool { return l.member == 0 }
