package layout

// prices are Lagrange multipliers on the limits of the terminals, and the bounds
// that they give. In the plain program an arc that carries S weighs the least of
// cost + (sum of multipliers in S) · factor(S) · resistance; the weight of a
// tree less the sum of multiplier · limit is at most the cost of any tree that
// meets everything (Geoffrion 1974, Mathematical Programming Study 2:82–114).
type prices struct {
	mu    []float64 // by terminal
	on    []float64 // sum of mu, by set
	rest  []float64 // as of subsets
	fixed []float64 // mu · limit of the terminals outside a set
}

// pricer evaluates multipliers.
type pricer struct {
	m       *model
	plan    subsets
	weights []float64
	on      []float64
}

func newPricer(m *model) *pricer {
	p := &pricer{m: m, weights: make([]float64, len(m.arcs)<<len(m.start)), on: make([]float64, 1<<len(m.start))}
	p.plan = subsets{g: &m.graph, start: m.start, weight: func(s int) []float64 {
		return p.weights[s*len(m.arcs) : (s+1)*len(m.arcs)]
	}}
	return p
}

// cheapest is the choice of an arc that weighs least at a price of resistance,
// and its weight.
func (m *model) cheapest(a int, price float64) (int, float64) {
	best, least := -1, inf
	for i, c := range m.opts[a] {
		if w := float64(c.cost) + price*c.r; w < least {
			best, least = i, w
		}
	}
	return best, least
}

// bound runs the plain program and returns its bound.
func (p *pricer) bound(mu []float64) float64 {
	all := full(len(mu))
	for s := 1; s <= all; s++ {
		p.on[s] = sum(mu, s)
		for a := range p.m.arcs {
			_, p.weights[s*len(p.m.arcs)+a] = p.m.cheapest(a, p.on[s]*p.m.factor[s])
		}
	}
	p.plan.run()
	total := p.plan.least[all*p.m.n+p.m.root]
	for t, x := range mu {
		total -= x * p.m.limit[t]
	}
	return total
}

// spent is what the ways of the plain program's answer lose, by terminal, and
// the arcs that it uses.
func (p *pricer) spent() (lost []float64, used []bool) {
	lost, used = make([]float64, len(p.m.start)), make([]bool, len(p.m.arcs))
	p.plan.unroll(p.m.root, full(len(lost)), func(a, s int) {
		used[a] = true
		c, _ := p.m.cheapest(a, p.on[s]*p.m.factor[s])
		for set := s; set > 0; set &= set - 1 {
			lost[bit(set)] += p.m.opts[a][c].r * p.m.factor[s]
		}
	})
	return lost, used
}

// keep makes prices of multipliers.
func (p *pricer) keep(mu []float64) *prices {
	p.bound(mu)
	k := &prices{mu: mu, on: append([]float64(nil), p.on...), rest: p.plan.rest(), fixed: make([]float64, len(p.on))}
	for s := range k.fixed {
		for t, x := range mu {
			if s>>t&1 == 0 {
				k.fixed[s] += x * p.m.limit[t]
			}
		}
	}
	return k
}

// after bounds from below what is still to come after a label: every member of
// S loses the same from here on, and no more than room.
func (k *prices) after(n, s, v int, room float64) float64 {
	return k.rest[s*n+v] - k.on[s]*room - k.fixed[s]
}
