package core

import (
	"math"
	"math/bits"
)

// maxLevels is the largest number of levels: the largest area so far on the
// way from the fan, as a flow that it asks of a tool.
const maxLevels = 40

// program is the dynamic program on the tree. A plan spends weight[i][o] on
// every run from the fan to a tool, which may not exceed limit[i][l] of the
// tool's run i at the level l of that way; the least sum of prices is found.
type program struct {
	p        *Problem
	children [][]int
	joined   []bool // per run: some child has joint costs
	levels   int
	weight   [][]float64
	level    [][]uint8
	limit    [][]float64
	base     []uint8 // per run: levels below count as this one
	price    [][]float64
	dom      []uint64
	thin     float64

	lo, hi []float64 // least and largest spent at the downstream end
	reach  []uint64  // levels that occur there
	cost   [][]steps // per run, option of the parent (or 0), level: its subtree
	above  [][]steps // per run, own option (or 0), level: its children alone
	mem    arena
	buf    [3]steps
	// context and marginal belong to forward.
	context  [][]steps
	marginal [][]float64
}

func newProgram(e *Evaluator) *program {
	n := len(e.p.Runs)
	g := &program{p: e.p, children: e.children, joined: make([]bool, n), levels: 1, weight: table(e.p), level: make([][]uint8, n),
		limit: make([][]float64, n), base: make([]uint8, n), price: table(e.p), lo: make([]float64, n), hi: make([]float64, n),
		reach: make([]uint64, n), cost: make([][]steps, n), above: make([][]steps, n), context: make([][]steps, n), marginal: table(e.p)}
	for i := range e.p.Runs {
		g.level[i] = make([]uint8, len(e.p.Runs[i].Options))
		if e.p.Runs[i].Joint != nil {
			g.joined[e.p.Runs[i].Parent] = true
		}
	}
	return g
}

// table makes a number per run and option.
func table(p *Problem) [][]float64 {
	t := make([][]float64, len(p.Runs))
	for i := range p.Runs {
		t[i] = make([]float64, len(p.Runs[i].Options))
	}
	return t
}

// settle makes room for a number of levels.
func (g *program) settle(levels int) {
	if levels == g.levels && len(g.limit) > 0 && g.limit[0] != nil {
		return
	}
	g.levels = levels
	for i := range g.p.Runs {
		own, below := 1, 1
		if g.joined[i] {
			own = len(g.p.Runs[i].Options)
		}
		if g.p.Runs[i].Joint != nil {
			below = len(g.p.Runs[g.p.Runs[i].Parent].Options)
		}
		g.above[i], g.cost[i], g.context[i] = make([]steps, own*levels), make([]steps, below*levels), make([]steps, below*levels)
		g.limit[i] = make([]float64, levels)
		for l := range g.limit[i] {
			g.limit[i][l] = math.Inf(1)
		}
	}
}

// own is the index of a run's option among the tables of its children.
func (g *program) own(i, o int) int {
	if g.joined[i] {
		return o
	}
	return 0
}

// below is the index of a parent's option in the tables of run i.
func (g *program) below(i, o int) int {
	if g.p.Runs[i].Joint != nil {
		return o
	}
	return 0
}

// joint is the joint cost of a run's option with its parent's.
func (g *program) joint(i, parent, o int) float64 {
	if j := g.p.Runs[i].Joint; j != nil {
		return float64(j[parent][o])
	}
	return 0
}

// parents lists the parent's options that the tables of run i tell apart.
func (g *program) parents(i int) uint64 {
	if g.p.Runs[i].Joint != nil {
		return g.dom[g.p.Runs[i].Parent]
	}
	return 1
}

// self lists the options of run i that the tables of its children tell apart.
func (g *program) self(i int) uint64 {
	if g.joined[i] {
		return g.dom[i]
	}
	return 1
}

// ranges fills lo, hi and reach from the fan upward.
func (g *program) ranges() {
	for i := range g.p.Runs {
		lo, hi, from := 0.0, 0.0, uint64(1)
		if q := g.p.Runs[i].Parent; q >= 0 {
			least, most := math.Inf(1), 0.0
			from = 0
			for d := g.dom[q]; d != 0; d &= d - 1 {
				o := bits.TrailingZeros64(d)
				least, most = min(least, g.weight[q][o]), max(most, g.weight[q][o])
				from |= raise(g.reach[q], g.level[q][o])
			}
			lo, hi = g.lo[q]+least, g.hi[q]+most
		}
		// Sums in another order may differ in the last bits.
		g.lo[i], g.hi[i], g.reach[i] = lo*(1-1e-12), hi*(1+1e-12), raise(from, g.base[i])
	}
}

// raise lifts every level of a set to at least l.
func raise(set uint64, l uint8) uint64 {
	high := set >> l << l
	if high != set {
		high |= 1 << l
	}
	return high
}

// solve runs the program from the tools to the fan and returns the least
// price, +Inf if nothing fits.
func (g *program) solve() float64 {
	g.mem.reset()
	g.ranges()
	total := 0.0
	for i := len(g.p.Runs) - 1; i >= 0; i-- {
		g.join(i)
		g.choose(i)
		if g.p.Runs[i].Parent < 0 {
			total += g.cost[i][g.base[i]].at(0)
		}
	}
	return total
}

// join fills above: the sum over the children, cut at the run's own limit.
func (g *program) join(i int) {
	need := uint64(0)
	for d := g.dom[i]; d != 0; d &= d - 1 {
		need |= raise(g.reach[i], g.level[i][bits.TrailingZeros64(d)])
	}
	for d := g.self(i); d != 0; d &= d - 1 {
		a := bits.TrailingZeros64(d)
		for m := need; m != 0; m &= m - 1 {
			l := bits.TrailingZeros64(m)
			sum := append(g.buf[0][:0], point{math.Inf(1), 0})
			for _, c := range g.children[i] {
				out := add(g.buf[1][:0], sum, g.cost[c][g.below(c, a)*g.levels+max(l, int(g.base[c]))])
				g.buf[0], g.buf[1] = out, sum
				sum = out
			}
			g.buf[0] = sum
			g.above[i][a*g.levels+l] = g.mem.keep(sum.cut(g.limit[i][l]))
		}
	}
}

// choose fills cost: the best option for every amount spent.
func (g *program) choose(i int) {
	w := window{g.lo[i], g.hi[i], g.thin}
	for b := g.parents(i); b != 0; b &= b - 1 {
		from := bits.TrailingZeros64(b)
		for m := g.reach[i]; m != 0; m &= m - 1 {
			l := bits.TrailingZeros64(m)
			best, spare := g.buf[0][:0], g.buf[1]
			for d := g.dom[i]; d != 0; d &= d - 1 {
				o := bits.TrailingZeros64(d)
				f := g.above[i][g.own(i, o)*g.levels+max(l, int(g.level[i][o]))]
				out := w.lower(spare[:0], best, f, g.weight[i][o], g.price[i][o]+g.joint(i, from, o))
				best, spare = out, best
			}
			g.buf[0], g.buf[1] = best, spare
			g.cost[i][from*g.levels+l] = g.mem.keep(best)
		}
	}
}

// trace writes the plan of the last solve into pick.
func (g *program) trace(pick []int, spent []float64, at []int) {
	for i := range g.p.Runs {
		s, l, from := 0.0, int(g.base[i]), 0
		if q := g.p.Runs[i].Parent; q >= 0 {
			s, l, from = spent[q], max(at[q], l), pick[q]
		}
		best := math.Inf(1)
		pick[i] = bits.TrailingZeros64(g.dom[i])
		for d := g.dom[i]; d != 0; d &= d - 1 {
			o := bits.TrailingZeros64(d)
			up := max(l, int(g.level[i][o]))
			x := g.price[i][o] + g.joint(i, from, o) + g.above[i][g.own(i, o)*g.levels+up].at(s+g.weight[i][o])
			if x < best {
				best, pick[i] = x, o
			}
		}
		spent[i], at[i] = s+g.weight[i][pick[i]], max(l, int(g.level[i][pick[i]]))
	}
}
