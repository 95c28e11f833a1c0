package layout

import (
	"math"
	"slices"
)

// joint is one or more arcs in series.
type joint struct {
	from, to int
	cost     int64
	arcs     []int
}

// contraction is a graph with what has no choice taken out of it.
type contraction struct {
	n, root int
	need    []bool // points that every tree has
	joints  []joint
	forced  []int // arcs that every cheapest tree of the kind has
}

// maxWork is how much work a single tree may be, in additions: some seconds.
const maxWork = 5e9

// contract takes all that has no choice out of the allowed arcs. It is false
// where there is no tree.
func (t *Trees) contract(allowed []bool) (*contraction, bool) {
	c := &contraction{n: t.g.n, root: t.g.root, need: make([]bool, t.g.n)}
	for _, v := range t.start {
		c.need[v] = true
	}
	for a, x := range t.g.arcs {
		if allowed[a] {
			c.joints = append(c.joints, joint{from: x.from, to: x.to, cost: t.cost[a], arcs: []int{a}})
		}
	}
	for {
		if !c.prune() {
			return nil, false
		}
		if !c.force() && !c.bypass() {
			return c, true
		}
	}
}

// best finds the cheapest tree of allowed arcs: the arcs in use, one out of each
// point that has any; nil if there is none.
func (t *Trees) best(allowed []bool) []bool {
	c, ok := t.contract(allowed)
	if !ok {
		return nil
	}
	chosen, ok := c.solve()
	if !ok {
		return nil
	}
	used := make([]bool, len(t.g.arcs))
	for _, a := range c.forced {
		used[a] = true
	}
	for _, j := range chosen {
		for _, a := range c.joints[j].arcs {
			used[a] = true
		}
	}
	return t.g.thin(used)
}

// prune deletes joints that no tree has: out of the root, off every way from a
// needed point to the root, and all but the cheapest of several between two
// points. It reports whether every needed point has a way to the root.
func (c *contraction) prune() bool {
	for size := -1; size != len(c.joints); {
		size = len(c.joints)
		below := c.reached(c.need, func(j joint) (int, int) { return j.from, j.to })
		root := make([]bool, c.n)
		root[c.root] = true
		above := c.reached(root, func(j joint) (int, int) { return j.to, j.from })
		for v, need := range c.need {
			if need && !above[v] {
				return false
			}
		}
		least := map[[2]int]int{}
		for i, j := range c.joints {
			if k, ok := least[[2]int{j.from, j.to}]; !ok || j.cost < c.joints[k].cost {
				least[[2]int{j.from, j.to}] = i
			}
		}
		kept := c.joints[:0:0]
		for i, j := range c.joints {
			if j.from != c.root && j.from != j.to && below[j.from] && above[j.to] && least[[2]int{j.from, j.to}] == i {
				kept = append(kept, j)
			}
		}
		c.joints = kept
	}
	return true
}

// reached are the points that can be reached from some.
func (c *contraction) reached(from []bool, ends func(j joint) (int, int)) []bool {
	seen := slices.Clone(from)
	for again := true; again; {
		again = false
		for _, j := range c.joints {
			if a, b := ends(j); seen[a] && !seen[b] {
				seen[b], again = true, true
			}
		}
	}
	return seen
}

// ends lists the joints out of and into a point.
func (c *contraction) ends(v int) (out, in []int) {
	for i, j := range c.joints {
		if j.from == v {
			out = append(out, i)
		}
		if j.to == v {
			in = append(in, i)
		}
	}
	return out, in
}

// force takes the only joint out of a needed point and makes one point of its
// ends. It reports whether there was one.
func (c *contraction) force() bool {
	for v, need := range c.need {
		if out, _ := c.ends(v); need && v != c.root && len(out) == 1 {
			only := c.joints[out[0]]
			c.forced = append(c.forced, only.arcs...)
			c.need[v] = false
			c.need[only.to] = only.to != c.root
			for i := range c.joints {
				if c.joints[i].to == v {
					c.joints[i].to = only.to
				}
			}
			c.joints = slices.Delete(c.joints, out[0], out[0]+1)
			return true
		}
	}
	return false
}

// bypass takes out a point that a tree need not have and where no two ways can
// meet: one joint leads to it, or it has two neighbours. It reports whether
// there was one.
func (c *contraction) bypass() bool {
	for v, need := range c.need {
		out, in := c.ends(v)
		if need || v == c.root || len(in) == 0 || len(in) > 2 || len(in) == 2 && len(c.beside(v, out, in)) > 2 {
			continue
		}
		for _, i := range in {
			for _, o := range out {
				if a, b := c.joints[i], c.joints[o]; a.from != b.to {
					c.joints = append(c.joints, joint{a.from, b.to, a.cost + b.cost, slices.Concat(a.arcs, b.arcs)})
				}
			}
		}
		c.joints = slices.DeleteFunc(c.joints, func(j joint) bool { return j.from == v || j.to == v })
		return true
	}
	return false
}

// beside are the neighbours of a point.
func (c *contraction) beside(v int, out, in []int) map[int]bool {
	near := map[int]bool{}
	for _, i := range slices.Concat(out, in) {
		near[c.joints[i].from+c.joints[i].to-v] = true
	}
	return near
}

// left are the needed points and the others that are left, without the root.
func (c *contraction) left() (need, free []int) {
	touched := make([]bool, c.n)
	for _, j := range c.joints {
		touched[j.from], touched[j.to] = true, true
	}
	for v := range c.need {
		switch {
		case c.need[v]:
			need = append(need, v)
		case touched[v] && v != c.root:
			free = append(free, v)
		}
	}
	return need, free
}

// works is about how many additions the subset program takes (a part of every
// subset at every point), and spanning trees (one for every set of free points).
func (c *contraction) works() (byParts, byTrees float64) {
	need, free := c.left()
	n := float64(len(need) + len(free) + 1)
	return n * math.Pow(3, float64(len(need))), n * float64(len(c.joints)) * math.Pow(2, float64(len(free)))
}

// work is the lesser of works.
func (c *contraction) work() float64 {
	byParts, byTrees := c.works()
	return min(byParts, byTrees)
}

// solve picks the joints of a cheapest tree of what is left, by the subset
// program or by spanning trees, whichever is less work.
func (c *contraction) solve() (chosen []int, ok bool) {
	need, free := c.left()
	if len(need) == 0 {
		return nil, true
	}
	if byParts, byTrees := c.works(); byTrees < byParts {
		return c.spanning(free)
	}
	return c.steiner(need)
}

// steiner solves by the subset program.
func (c *contraction) steiner(start []int) (chosen []int, ok bool) {
	small := make([]int, c.n) // number of a point among those left
	for v := range small {
		small[v] = -1
	}
	g := graph{}
	number := func(v int) int {
		if small[v] < 0 {
			small[v] = g.n
			g.n++
		}
		return small[v]
	}
	g.root = number(c.root)
	weight := make([]float64, len(c.joints))
	for i, j := range c.joints {
		g.arcs = append(g.arcs, arc{from: number(j.from), to: number(j.to)})
		weight[i] = float64(j.cost)
	}
	g.link()
	d := subsets{g: &g, levels: 1, weight: func(int, int) []float64 { return weight }, begin: func(int, int) float64 { return 0 }}
	for _, v := range start {
		d.start = append(d.start, number(v))
	}
	d.run()
	if d.answer() == inf {
		return nil, false
	}
	d.unroll(func(a, _, _ int) {
		if a >= 0 {
			chosen = append(chosen, a)
		}
	})
	return chosen, true
}
