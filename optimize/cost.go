package optimize

import (
	"math/bits"

	"wyewright/optimize/price"
)

// weight is the value that the search minimises: planning cost first, then
// the number of changes. One cent outweighs any number of changes.
type weight int64

const (
	perCent        = 1 << 12 // more than any number of choices
	never   weight = 1 << 58 // a few of them still fit
)

func weigh(m price.Money, changes int) weight { return weight(m)*perCent + weight(changes) }

// money is the cost part of a weight.
func (w weight) money() price.Money { return price.Money(w / perCent) }

// Cost is the planning cost of a plan and the number of its changes; sold is
// false where a joint of it is not to be had.
func (p *Problem) Cost(pick []int) (cost price.Money, changes int, sold bool) {
	cost, changes = p.fixedCost, p.Taken.count()
	for i, a := range pick {
		cost += p.Choices[i].Alternatives[a].Cost
		changes += p.Choices[i].changes(a)
	}
	for i := range p.joints {
		j := &p.joints[i]
		c := j.at(at(pick, j.main), at(pick, j.branch), at(pick, j.common))
		if c == unsold {
			return 0, changes, false
		}
		cost += c
	}
	return cost, changes, true
}

func at(pick []int, choice int) int {
	if choice < 0 {
		return 0
	}
	return pick[choice]
}

// costs computes the least weight of all plans within domains, and for every
// alternative the least weight of the plans that have it. Choices and joints
// form a tree, so two passes of min-sum messages (dynamic program) are exact.
type costs struct {
	p      *Problem
	own    [][]weight // per choice and alternative
	tables [][]weight // per joint
	// up and down are the messages of each joint to its common run and to
	// its main and branch.
	up, toMain, toBranch [][]weight
	// after lists the joint that a choice's run enters, feeds the joints it
	// is the common run of.
	after []int
	feeds [][]int
	least []weight
	// marginal is the answer: least weight with each alternative.
	marginal [][]weight
}

func newCosts(p *Problem) *costs {
	c := &costs{p: p, after: make([]int, len(p.Choices)), feeds: make([][]int, len(p.Choices)), least: make([]weight, len(p.Choices))}
	row := func(choice int) []weight {
		if choice < 0 {
			return make([]weight, 1)
		}
		return make([]weight, len(p.Choices[choice].Alternatives))
	}
	for i := range p.Choices {
		c.after[i] = -1
		own := row(i)
		for a := range own {
			own[a] = p.Choices[i].own(a)
		}
		c.own = append(c.own, own)
		c.marginal = append(c.marginal, row(i))
	}
	for k := range p.joints {
		j := &p.joints[k]
		t := make([]weight, len(j.cost))
		for i, m := range j.cost {
			t[i] = never
			if m != unsold {
				t[i] = weigh(m, 0)
			}
		}
		c.tables = append(c.tables, t)
		c.up = append(c.up, row(j.common))
		c.toMain = append(c.toMain, row(j.main))
		c.toBranch = append(c.toBranch, row(j.branch))
		for _, e := range [2]int{j.main, j.branch} {
			if e >= 0 {
				c.after[e] = k
			}
		}
		if j.common >= 0 {
			c.feeds[j.common] = append(c.feeds[j.common], k)
		}
	}
	return c
}

// plus adds weights that may be never.
func plus(a, b weight) weight { return min(never, a+b) }

// value is a choice's own weight plus the messages of the joints it is the
// common run of, but one.
func (c *costs) value(choice, a, but int) weight {
	if choice < 0 {
		return 0
	}
	v := c.own[choice][a]
	for _, k := range c.feeds[choice] {
		if k != but {
			v = plus(v, c.up[k][a])
		}
	}
	return v
}

func domainAt(dom []uint64, choice int) uint64 {
	if choice < 0 {
		return 1
	}
	return dom[choice]
}

// bound fills marginal for the domains and returns the least weight of all.
func (c *costs) bound(dom []uint64) weight {
	for k := range c.p.joints { // joints come upstream first
		c.upward(k, dom)
	}
	for k := len(c.p.joints) - 1; k >= 0; k-- {
		c.downward(k, dom)
	}
	// Every tree of choices counts once: at its root, a choice whose run
	// enters no joint, or a joint whose common duct is not to be chosen.
	total := weigh(c.p.fixedCost, c.p.Taken.count())
	for k := range c.p.joints {
		if c.p.joints[k].common < 0 {
			total = plus(total, c.up[k][0])
		}
	}
	for i := range c.p.Choices {
		least := never
		for d := dom[i]; d != 0; d &= d - 1 {
			a := bits.TrailingZeros64(d)
			m := c.value(i, a, -1)
			if k := c.after[i]; k >= 0 {
				m = plus(m, c.incoming(i, k, a))
			}
			c.marginal[i][a] = m
			least = min(least, m)
		}
		c.least[i] = least
		if c.after[i] < 0 {
			total = plus(total, least)
		}
	}
	if total >= never {
		return never
	}
	for i := range c.p.Choices { // from the tree of the choice to the whole
		for d := dom[i]; d != 0; d &= d - 1 {
			a := bits.TrailingZeros64(d)
			if c.marginal[i][a] < never {
				c.marginal[i][a] += total - c.least[i]
			}
		}
	}
	return total
}

// incoming is the message from the joint a choice's run enters.
func (c *costs) incoming(i, k, a int) weight {
	if c.p.joints[k].main == i {
		return c.toMain[k][a]
	}
	return c.toBranch[k][a]
}

func (c *costs) upward(k int, dom []uint64) {
	j := &c.p.joints[k]
	for z := domainAt(dom, j.common); z != 0; z &= z - 1 {
		n := bits.TrailingZeros64(z)
		least := never
		for x := domainAt(dom, j.main); x != 0; x &= x - 1 {
			m := bits.TrailingZeros64(x)
			vm := c.value(j.main, m, -1)
			for y := domainAt(dom, j.branch); y != 0; y &= y - 1 {
				b := bits.TrailingZeros64(y)
				least = min(least, vm+c.value(j.branch, b, -1)+c.tables[k][(m*j.nb+b)*j.nc+n])
			}
		}
		c.up[k][n] = min(least, never)
	}
}

func (c *costs) downward(k int, dom []uint64) {
	j := &c.p.joints[k]
	for a := range c.toMain[k] {
		c.toMain[k][a] = never
	}
	for a := range c.toBranch[k] {
		c.toBranch[k][a] = never
	}
	for z := domainAt(dom, j.common); z != 0; z &= z - 1 {
		n := bits.TrailingZeros64(z)
		vc := c.value(j.common, n, k)
		if j.common >= 0 && c.after[j.common] >= 0 {
			vc = plus(vc, c.incoming(j.common, c.after[j.common], n))
		}
		for x := domainAt(dom, j.main); x != 0; x &= x - 1 {
			m := bits.TrailingZeros64(x)
			vm := c.value(j.main, m, -1)
			for y := domainAt(dom, j.branch); y != 0; y &= y - 1 {
				b := bits.TrailingZeros64(y)
				vb := c.value(j.branch, b, -1)
				t := vc + c.tables[k][(m*j.nb+b)*j.nc+n]
				c.toMain[k][m] = min(c.toMain[k][m], t+vb)
				c.toBranch[k][b] = min(c.toBranch[k][b], t+vm)
			}
		}
	}
}
