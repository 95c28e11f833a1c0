package core

import (
	"math"
	"math/bits"
)

// forward completes the program from the fan to the tools: marginal[i][o] is
// the least price of all plans in which run i takes option o, +Inf where that
// is at least cutoff. It must follow solve.
//
// A context of a run is what all the rest costs (c) when s has been spent on
// the way to it: a list ascending in s and descending in c.
func (g *program) forward(cutoff float64) {
	for i := range g.p.Runs {
		for k := range g.context[i] {
			g.context[i][k] = nil
		}
		for o := range g.marginal[i] {
			g.marginal[i][o] = math.Inf(1)
		}
	}
	var fan []int
	for i := range g.p.Runs {
		if g.p.Runs[i].Parent < 0 {
			fan = append(fan, i)
		}
	}
	for _, i := range fan {
		rest := 0.0
		for _, j := range fan {
			if j != i {
				rest += g.cost[j][g.base[j]].at(0)
			}
		}
		g.context[i][g.base[i]] = g.mem.keep(steps{{0, rest}})
	}
	list := make([]steps, g.levels)
	for i := range g.p.Runs {
		if !g.joined[i] {
			g.through(i, g.dom[i], list, cutoff)
			g.hand(i, 0, list)
			continue
		}
		for d := g.dom[i]; d != 0; d &= d - 1 {
			o := bits.TrailingZeros64(d)
			g.through(i, 1<<o, list, cutoff)
			g.hand(i, o, list)
		}
	}
}

// through takes some options of run i: list receives per level the contexts
// of its upstream end, marginal is noted.
func (g *program) through(i int, options uint64, list []steps, cutoff float64) {
	for l := range list {
		list[l] = nil
	}
	for d := options; d != 0; d &= d - 1 {
		o := bits.TrailingZeros64(d)
		for b := g.parents(i); b != 0; b &= b - 1 {
			from := bits.TrailingZeros64(b)
			extra := g.price[i][o] + g.joint(i, from, o)
			for m := g.reach[i]; m != 0; m &= m - 1 {
				l := bits.TrailingZeros64(m)
				up := max(l, int(g.level[i][o]))
				rest := g.above[i][g.own(i, o)*g.levels+up]
				out, k := g.buf[0][:0], 0
				for _, q := range g.context[i][from*g.levels+l] {
					s, c := q.s+g.weight[i][o], q.c+extra
					for k < len(rest) && rest[k].s < s {
						k++
					}
					if k == len(rest) {
						break
					}
					x := c + rest[k].c
					g.marginal[i][o] = min(g.marginal[i][o], x)
					if x < cutoff {
						out = append(out, point{s, c})
					}
				}
				g.buf[0] = out
				if len(out) > 0 {
					list[up] = merge(list[up], out)
				}
			}
		}
	}
}

// merge is the front of two context lists, a new list.
func merge(a, b steps) steps {
	out := make(steps, 0, len(a)+len(b))
	least := math.Inf(1)
	for i, j := 0, 0; i < len(a) || j < len(b); {
		var p point
		if j == len(b) || i < len(a) && (a[i].s < b[j].s || a[i].s == b[j].s && a[i].c <= b[j].c) {
			p = a[i]
			i++
		} else {
			p = b[j]
			j++
		}
		if p.c < least {
			least = p.c
			out = append(out, p)
		}
	}
	return out
}

// hand passes contexts on to the children of run i, each with the cost of its
// siblings added.
func (g *program) hand(i, o int, list []steps) {
	for _, c := range g.children[i] {
		for l, contexts := range list {
			if len(contexts) == 0 {
				continue
			}
			out, least := g.buf[0][:0], math.Inf(1)
			for _, q := range contexts {
				x := q.c
				for _, j := range g.children[i] {
					if j != c {
						x += g.cost[j][g.below(j, o)*g.levels+max(l, int(g.base[j]))].at(q.s)
					}
				}
				if x < least {
					least = x
					out = append(out, point{q.s, x})
				}
			}
			g.buf[0] = out
			at := &g.context[c][g.below(c, o)*g.levels+max(l, int(g.base[c]))]
			*at = merge(*at, out)
		}
	}
}
