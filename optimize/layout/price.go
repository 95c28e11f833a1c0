package layout

// prices are Lagrange multipliers on the limits of the terminals, and the bounds
// that they give. In the plain program an arc that carries S weighs the least of
// cost + (sum of multipliers in S) · factor(S) · resistance; the weight of a
// tree less the sum of multiplier · limit is at most the cost of any tree that
// meets everything (Geoffrion 1974, Mathematical Programming Study 2:82–114).
//
// What a way may lose hangs on its widest duct, too. A terminal begins at a
// level, which bounds both: no wider duct lies ahead, and the limit is no more
// than the cap of the level.
type prices struct {
	m    *model
	on   []float64 // sum of multipliers, by set
	rest []float64 // as of subsets
}

// pricer evaluates multipliers.
type pricer struct {
	m       *model
	mu      []float64
	plan    subsets
	weights []float64 // by level, set and arc
	on      []float64
}

func newPricer(m *model) *pricer {
	arcs, sets, levels := len(m.arcs), 1<<len(m.start), len(m.levels)
	p := &pricer{m: m, weights: make([]float64, levels*sets*arcs), on: make([]float64, sets)}
	p.plan = subsets{g: &m.graph, start: m.start, levels: levels,
		weight: func(level, s int) []float64 { return p.weights[(level*sets+s)*arcs:][:arcs] },
		begin: func(level, t int) float64 {
			if m.toRoot[m.start[t]] > m.levels[level] {
				return inf
			}
			return -p.mu[t] * m.limitOn(level, t)
		}}
	return p
}

// limitOn is what a terminal's way may lose on a level.
func (m *model) limitOn(level, t int) float64 { return min(m.limit[t], m.levels[level]) }

// cheapest is the choice of an arc up to a level that weighs least at a price of
// resistance, and its weight; −1 if there is none.
func (m *model) cheapest(a, level int, price float64) (int, float64) {
	best, least := -1, inf
	for i, c := range m.opts[a] {
		if w := float64(c.cost) + price*c.r; c.level <= level && w < least {
			best, least = i, w
		}
	}
	return best, least
}

// bound runs the plain program and returns its bound.
func (p *pricer) bound(mu []float64) float64 {
	p.mu = mu
	for s := 1; s <= full(len(mu)); s++ {
		p.on[s] = sum(mu, s)
		p.weigh(s, p.on[s]*p.m.factor[s])
	}
	p.plan.run()
	return p.plan.answer()
}

// weigh sets the weights of arcs that carry a set, as cheapest gives them.
func (p *pricer) weigh(s int, price float64) {
	rows := make([][]float64, len(p.m.levels))
	for level := range rows {
		rows[level] = p.plan.weight(level, s)
	}
	for a, list := range p.m.opts {
		for _, row := range rows {
			row[a] = inf
		}
		for i := range list {
			c := &list[i]
			rows[c.level][a] = min(rows[c.level][a], float64(c.cost)+price*c.r)
		}
		for level, row := range rows[1:] {
			row[a] = min(row[a], rows[level][a])
		}
	}
}

// excess is by how much the ways of the plain program's answer lose more than
// they may, by terminal, and the arcs that it uses.
func (p *pricer) excess() (over []float64, used []bool) {
	over, used = make([]float64, len(p.m.start)), make([]bool, len(p.m.arcs))
	p.plan.unroll(func(a, level, s int) {
		if a < 0 {
			over[bit(s)] -= p.m.limitOn(level, bit(s))
			return
		}
		used[a] = true
		c, _ := p.m.cheapest(a, level, p.on[s]*p.m.factor[s])
		for set := s; set > 0; set &= set - 1 {
			over[bit(set)] += p.m.opts[a][c].r * p.m.factor[s]
		}
	})
	return over, used
}

// keep makes prices of multipliers.
func (p *pricer) keep(mu []float64) *prices {
	p.bound(mu)
	return &prices{m: p.m, on: append([]float64(nil), p.on...), rest: p.plan.rest()}
}

// reaches reports whether what joins S to a point may yet become an answer for
// no more than most: on some level the rest weighs that little. Every member of
// S loses the same from here on, and no more than room.
func (k *prices) reaches(most float64, s, v int, room, spent float64) bool {
	for level, top := range k.m.levels {
		room := min(room, top-spent)
		if room < k.m.toRoot[v]*k.m.factor[s] {
			return false // so it is on every higher level
		}
		if k.rest[(level<<len(k.m.start)|s)*k.m.n+v]-k.on[s]*room <= most {
			return true
		}
	}
	return false
}
