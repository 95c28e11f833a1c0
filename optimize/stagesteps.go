package optimize

import (
	"slices"

	"wyewright/optimize/parts"
	"wyewright/optimize/price"
)

// jointStep is a joint on its way from one make to the next: alternatives of
// its ends, built false before anything of the ways is taken.
type jointStep struct {
	joint    int
	from, to [3]int
	built    bool
}

// stepCost is what a joint's step costs; sold is false where the joint that it
// leads to is not to be had.
type stepCost struct {
	cost price.Money
	sold bool
}

// holdsTaken reports whether a set of parts has the ways and the collector that
// are taken as decided, or there are none.
func (g *stager) holdsTaken(set uint64) bool {
	return !g.p.Taken.Changes() || set&1 > 0 // it is in the first unit
}

// pick is the plan in which a set of parts is done.
func (g *stager) pick(set uint64) []int {
	out := make([]int, len(g.plan.Pick))
	for u := range g.units {
		if set>>u&1 > 0 {
			for _, i := range g.units[u].choices {
				out[i] = g.plan.Pick[i]
			}
		}
	}
	return out
}

// partial is a shop in which a set of parts is done.
type partial struct {
	set  uint64
	pick []int
	// own is the cost of its changes, joints apart.
	own price.Money
	// ends are the alternatives of each joint's ends.
	ends [][3]int
	// built says that it has the ways and the collector that are taken.
	built bool
}

// partial makes a shop.
func (g *stager) partial(set uint64) *partial {
	s := &partial{set: set, pick: g.pick(set), built: g.holdsTaken(set)}
	if s.built {
		s.own = g.p.fixedCost
	}
	for _, i := range g.fresh(0, set) {
		s.own += g.p.Choices[i].Alternatives[g.plan.Pick[i]].Cost
	}
	for k := range g.p.joints {
		j := &g.p.joints[k]
		s.ends = append(s.ends, [3]int{at(s.pick, j.main), at(s.pick, j.branch), at(s.pick, j.common)})
	}
	return s
}

// remake is the step of a joint from one shop to the next; false where it stays.
func remake(from, to *partial, k int) (jointStep, bool) {
	return jointStep{k, from.ends[k], to.ends[k], from.built}, from.ends[k] != to.ends[k] || from.built != to.built
}

// cost is what the way from one shop to one with more parts costs; sold is
// false where a joint of the second is not to be had.
func (g *stager) cost(from, to *partial) (sum price.Money, sold bool) {
	sum = to.own - from.own
	for k := range to.ends {
		s, ok := remake(from, to, k)
		if !ok {
			continue
		}
		c, ok := g.steps[s]
		if !ok {
			c = g.stepCost(s)
			g.steps[s] = c
		}
		if !c.sold {
			return 0, false
		}
		sum += c.cost
	}
	return sum, true
}

// fresh lists the choices that are in one set of parts and not in a smaller one.
func (g *stager) fresh(from, to uint64) []int {
	var out []int
	for u := range g.units {
		if (to&^from)>>u&1 > 0 {
			out = append(out, g.units[u].choices...)
		}
	}
	slices.Sort(out)
	return out
}

func (g *stager) stepCost(s jointStep) stepCost {
	j := &g.p.joints[s.joint]
	full := j.at(s.to[0], s.to[1], s.to[2])
	if full == unsold || g.p.builder == nil {
		return stepCost{full, full != unsold}
	}
	buy, _ := g.stepLines(s)
	c, _ := g.p.builder.Cost(buy)
	return stepCost{c, true}
}

// stepLines are what a joint's step buys and does, and what it throws away of
// what was bought for the joint before. Fittings that both makes have stay;
// sealant, screws and work are needed again.
func (g *stager) stepLines(s jointStep) (buy, thrown []parts.Line) {
	j := &g.p.joints[s.joint]
	to, _ := g.p.jointLines(j, s.to[0], s.to[1], s.to[2])
	if !s.built {
		return to, nil
	}
	from, _ := g.p.jointLines(j, s.from[0], s.from[1], s.from[2])
	if slices.Equal(from, to) {
		return nil, nil
	}
	return rebuild(from, to)
}

// rebuild parts the lines of a joint that takes the place of another one into
// what is to be bought and done, and what is left over of the old one.
func rebuild(from, to []parts.Line) (buy, thrown []parts.Line) {
	for _, l := range from {
		if lasts(&l) {
			thrown = append(thrown, l)
		}
	}
	for _, l := range to {
		for k := range thrown {
			if old := &thrown[k]; lasts(&l) && old.Item == l.Item {
				kept := min(old.Qty, l.Qty)
				old.Qty, l.Qty = old.Qty-kept, l.Qty-kept
			}
		}
		if l.Qty > 0 {
			buy = append(buy, l)
		}
	}
	return buy, slices.DeleteFunc(thrown, func(l parts.Line) bool { return l.Qty <= 0 })
}

// lasts reports whether a line buys something that can be taken out whole and
// put in again.
func lasts(l *parts.Line) bool {
	return l.Action == parts.Buy && l.Item.Kind != price.Sealant && l.Item.Kind != price.Screws
}

// lines are what the way from one shop to one with more parts buys and does, and
// what it throws away.
func (g *stager) lines(from, to *partial) (buy, thrown []parts.Line) {
	if g.p.builder == nil {
		return nil, nil
	}
	if to.built && !from.built {
		buy = slices.Clone(g.p.fixed)
	}
	for _, i := range g.fresh(from.set, to.set) {
		buy = append(buy, g.p.Choices[i].Alternatives[g.plan.Pick[i]].Lines...)
	}
	for k := range to.ends {
		if s, ok := remake(from, to, k); ok {
			b, t := g.stepLines(s)
			buy, thrown = append(buy, b...), append(thrown, t...)
		}
	}
	return buy, thrown
}
