package layout

import (
	"maps"
	"math"
	"math/bits"
	"slices"

	"wyewright/optimize/core"
)

func bit(s int) int { return bits.TrailingZeros(uint(s)) }

// choice is an option of an arc as the program sees it.
type choice struct {
	cost int64
	r    float64
	cap  float64 // the largest sum of resistances on a way with this area
	// level is the highest of the model's levels that is no higher than cap.
	level int
	pick  int
}

// model is a problem made ready: terminals at one point are one, the root's own
// are gone, and only options that some way can use are left.
type model struct {
	graph
	alone  bool
	start  []int     // point by terminal
	limit  []float64 // what its way may lose, by terminal
	factor []float64 // loss per resistance, by set of terminals
	opts   [][]choice
	toRoot []float64 // least resistance to the root, by point
	caps   bool      // some option has a cap
	levels []float64 // caps of ducts from narrow to wide, rounded up to a few
}

// slack is given to all limits, so that nothing hangs on the order of sums.
const slack = 1e-12

// limitAt is the largest resistance through which flow q can be had alone,
// P(q)/q^n. It falls with q where it is above 0.
func (p *Problem) limitAt(q float64) float64 { return p.Fan.Pressure(q) / math.Pow(q, p.Exponent) }

// newModel returns nil where some terminal cannot be served whatever is built.
func newModel(p *Problem) *model {
	m := &model{graph: graph{n: p.Points, root: p.Root}, alone: !p.Together}
	var flow []float64
	for _, t := range p.Terminals {
		limit := t.Budget
		if !p.Together {
			limit = p.limitAt(t.Flow)
		}
		if limit < 0 {
			return nil
		}
		limit *= 1 + slack
		i := slices.Index(m.start, t.Point)
		switch {
		case t.Point == p.Root:
		case i < 0:
			m.start, m.limit, flow = append(m.start, t.Point), append(m.limit, limit), append(flow, t.Flow)
		default:
			m.limit[i] = min(m.limit[i], limit)
			flow[i] += t.Flow
		}
	}
	m.factor = make([]float64, 1<<len(m.start))
	for s := range m.factor {
		m.factor[s] = 1
		if p.Together {
			m.factor[s] = math.Pow(sum(flow, s), p.Exponent)
		}
	}
	for i, e := range p.Edges {
		m.arcs = append(m.arcs, arc{from: e.A, to: e.B, edge: i})
		m.opts = append(m.opts, m.choices(p, e.Options))
		if !e.OneWay {
			m.arcs = append(m.arcs, arc{from: e.B, to: e.A, edge: i, reverse: true})
			m.opts = append(m.opts, m.opts[len(m.opts)-1])
		}
	}
	m.link()
	for m.strike() {
	}
	m.rank(maxLevels)
	for t, v := range m.start {
		if m.toRoot[v]*m.factor[1<<t] > m.limit[t] {
			return nil
		}
	}
	return m
}

// sum adds up what the members of a set have.
func sum(x []float64, s int) float64 {
	total := 0.0
	for ; s > 0; s &= s - 1 {
		total += x[bit(s)]
	}
	return total
}

// choices turns options into choices, without those that another one beats.
func (m *model) choices(p *Problem, options []core.Option) []choice {
	var list []choice
	for i, o := range options {
		c := choice{cost: o.Cost, r: o.Resistance, cap: inf, pick: i}
		if q := p.Transport * o.Area; q > 0 && !p.Together {
			c.cap, m.caps = p.limitAt(q)*(1+slack), true
		}
		list = append(list, c)
	}
	slices.SortStableFunc(list, func(a, b choice) int { return int(max(-1, min(1, a.cost-b.cost))) })
	kept := list[:0]
	for _, c := range list {
		if !slices.ContainsFunc(kept, func(k choice) bool { return k.cost <= c.cost && k.r <= c.r && k.cap >= c.cap }) {
			kept = append(kept, c)
		}
	}
	return kept
}

// strike deletes choices that no terminal can use even where the rest of its
// way has the least resistances, and reports whether there were any.
func (m *model) strike() bool {
	least := make([]float64, len(m.arcs))
	for a, list := range m.opts {
		least[a] = inf
		for _, c := range list {
			least[a] = min(least[a], c.r)
		}
	}
	m.toRoot = m.distances(m.root, least, true)
	from := make([][]float64, len(m.start))
	for t, v := range m.start {
		from[t] = m.distances(v, least, false)
	}
	struck := false
	for a, list := range m.opts {
		var kept []choice
		for _, c := range list {
			for t := range m.start {
				way := from[t][m.arcs[a].from] + c.r + m.toRoot[m.arcs[a].to]
				if way*m.factor[1<<t] <= m.limit[t] && way <= c.cap {
					kept = append(kept, c)
					break
				}
			}
		}
		struck = struck || len(kept) < len(list)
		m.opts[a] = kept
	}
	return struck
}

// allCosts is more than any tree costs, which has fewer edges than points.
func (m *model) allCosts() int64 {
	most := map[int]int64{}
	for a, list := range m.opts {
		for _, c := range list {
			most[m.arcs[a].edge] = max(most[m.arcs[a].edge], c.cost)
		}
	}
	list := slices.Sorted(maps.Values(most))
	total := int64(1)
	for _, c := range list[max(0, len(list)-m.n+1):] {
		total += c
	}
	return total
}

// maxLevels is how many levels of width there are at most.
const maxLevels = 8

// rank sorts the choices into at most so many levels. One level may hold several widths; its cap
// is that of the narrowest.
func (m *model) rank(most int) {
	m.levels = nil
	for _, list := range m.opts {
		for _, c := range list {
			m.levels = append(m.levels, -c.cap)
		}
	}
	slices.Sort(m.levels)
	all := slices.Compact(m.levels)
	count := min(len(all), most)
	m.levels = nil
	for i := range count {
		m.levels = append(m.levels, -all[i*len(all)/count])
	}
	for _, list := range m.opts {
		for i := range list {
			list[i].level = 0
			for list[i].level+1 < count && list[i].cap <= m.levels[list[i].level+1] {
				list[i].level++
			}
		}
	}
}
