package optimize

import (
	"slices"
	"strings"
)

// card is what is opened in every state of a shop, given what must stay met.
type card struct {
	met   int // ID of what is then met, −1 where something that was met is not
	worth int64
	open  []int
}

// card chooses what to open in each state of a shop: of what keeps all that was
// met the opening that comes closest to meeting all, with the fewest companions.
func (g *stager) card(member, before int) card {
	key := [2]int{member, before}
	if c, ok := g.cards[key]; ok {
		return c
	}
	c := g.deal(g.family[member], before)
	if c.met >= 0 || !g.stats.Stopped {
		g.cards[key] = c
	}
	return c
}

func (g *stager) deal(shop *partial, before int) card {
	none := card{met: -1}
	e := g.eval(shop)
	if e == nil {
		return none
	}
	c := card{open: make([]int, len(g.states))}
	met := make([]string, len(g.states))
	for s := range g.states {
		best := -1
		for k, o := range e.states[s] {
			if g.keeps(s, g.mets[before][s], o.met) && (best < 0 || o.worst > e.states[s][best].worst) {
				best = k
			}
		}
		if best < 0 {
			return none
		}
		o := &e.states[s][best]
		c.open[s], met[s] = o.open, o.met
		c.worth += o.worth
	}
	c.met = g.intern(met)
	return c
}

// keeps reports whether all that was met still is; with slower, runs may lose
// their transport velocity.
func (g *stager) keeps(state int, was, is string) bool {
	n := len(was)
	if g.slower {
		n = g.states[state].tools + otherRules
	}
	for i := range n {
		if was[i] == hit && is[i] != hit {
			return false
		}
	}
	return true
}

// intern gives what is met in each state a number.
func (g *stager) intern(met []string) int {
	if g.slower { // what need not be kept tells nothing apart
		for s := range met {
			it := &g.states[s]
			met[s] = met[s][:it.tools+otherRules] + strings.Repeat(string(miss), len(it.dust))
		}
	}
	key := strings.Join(met, "/")
	id, ok := g.metID[key]
	if !ok {
		id = len(g.mets)
		g.metID[key] = id
		g.mets = append(g.mets, slices.Clone(met))
	}
	return id
}
