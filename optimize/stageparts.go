package optimize

import (
	"slices"

	"wyewright/optimize/parts"
	"wyewright/optimize/price"
)

// mostUnits is the number of parts that a set in one word holds.
const mostUnits = 60

// unit is what is bought in one go: choices of the plan, and perhaps the ways
// and the collector that its problem takes as decided.
type unit struct {
	choices []int
	taken   bool
}

// changed lists the choices that a plan changes.
func (p *Problem) changed(pl *Plan) []int {
	var out []int
	for i, a := range pl.Pick {
		if a > 0 || p.Choices[i].Build {
			out = append(out, i)
		}
	}
	return out
}

// singles are the units where joints may be made in every stage: each change
// for itself, but that runs to be built come with their ways.
func (p *Problem) singles(pl *Plan) []unit {
	var out []unit
	if p.Taken.Changes() {
		out = append(out, unit{taken: true})
	}
	for _, i := range p.changed(pl) {
		if p.Choices[i].Build {
			out[0].choices = append(out[0].choices, i)
		} else {
			out = append(out, unit{choices: []int{i}})
		}
	}
	return out
}

// apart are the units where every joint is made once at most: changes that meet
// at a joint which each of them alters are one.
func (p *Problem) apart(pl *Plan) []unit {
	out := p.singles(pl)
	of := map[int]int{} // the group of each choice, −1 stands for what is taken
	for u := range out {
		if out[u].taken {
			of[-1] = u
		}
		for _, i := range out[u].choices {
			of[i] = u
		}
	}
	group := make([]int, len(out))
	for u := range group {
		group[u] = u
	}
	for k := range p.joints {
		first := -1
		for _, e := range p.makers(&p.joints[k], pl) {
			g := group[of[e]]
			if first < 0 {
				first = g
			}
			for u := range group {
				if group[u] == g {
					group[u] = first
				}
			}
		}
	}
	var merged []unit
	at := map[int]int{}
	for u := range out {
		n, ok := at[group[u]]
		if !ok {
			n = len(merged)
			at[group[u]] = n
			merged = append(merged, unit{})
		}
		merged[n].choices = append(merged[n].choices, out[u].choices...)
		merged[n].taken = merged[n].taken || out[u].taken
	}
	for u := range merged {
		slices.Sort(merged[u].choices)
	}
	return merged
}

// makers lists the changes of a plan that have a say in what a joint is made
// of: the choices of its ends, −1 for ways and collector that are taken.
func (p *Problem) makers(j *joint, pl *Plan) []int {
	ends := [3]int{j.main, j.branch, j.common}
	var out []int
	for n, e := range ends {
		if e >= 0 && !slices.Contains(out, e) && (pl.Pick[e] > 0 || p.Choices[e].Build) && p.alters(j, pl, n) {
			out = append(out, e)
		}
	}
	if j.remade != [3]bool{} {
		out = append(out, -1)
	}
	return out
}

// alters reports whether an end of a joint makes a difference to what the joint
// is made of, whatever the other ends are, as found or as planned.
func (p *Problem) alters(j *joint, pl *Plan, end int) bool {
	choice := [3]int{j.main, j.branch, j.common}
	for others := range 8 {
		var with, without [3]int
		for n, e := range choice {
			if e >= 0 && (n == end || others>>n&1 > 0) {
				with[n] = pl.Pick[e]
			}
			if n != end {
				without[n] = with[n]
			}
		}
		if !p.sameJoint(j, with, without) {
			return true
		}
	}
	return false
}

// sameJoint reports whether a joint is made of the same under two alternatives
// of its ends.
func (p *Problem) sameJoint(j *joint, a, b [3]int) bool {
	if a == b || j.at(a[0], a[1], a[2]) != j.at(b[0], b[1], b[2]) {
		return a == b
	}
	if p.builder == nil {
		return true
	}
	la, _ := p.jointLines(j, a[0], a[1], a[2])
	lb, _ := p.jointLines(j, b[0], b[1], b[2])
	return slices.Equal(la, lb)
}

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
