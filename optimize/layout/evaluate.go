package layout

import "math"

// Cost is what the picks of a tree cost.
func (p *Problem) Cost(tree []Pick) int64 {
	sum := int64(0)
	for _, x := range tree {
		sum += p.Edges[x.Edge].Options[x.Option].Cost
	}
	return sum
}

// Meets reports whether picks are a tree toward the root that joins every
// terminal and serves it as Problem says. Limits are held to one part in 10⁹,
// as sums in another order differ in their last bits.
func (p *Problem) Meets(tree []Pick) bool {
	next := make([]*Pick, p.Points) // what leaves a point
	for i := range tree {
		x := &tree[i]
		e := &p.Edges[x.Edge]
		from := e.A
		if x.Reverse {
			from = e.B
		}
		if from == p.Root || next[from] != nil || x.Reverse && e.OneWay {
			return false
		}
		next[from] = x
	}
	flow := make([]float64, len(p.Edges))
	for _, t := range p.Terminals {
		if !p.walk(t.Point, next, func(x *Pick) { flow[x.Edge] += t.Flow }) {
			return false
		}
	}
	for _, t := range p.Terminals {
		if !p.serves(&t, next, flow) {
			return false
		}
	}
	return true
}

// serves reports whether the way of a terminal loses no more than it may.
func (p *Problem) serves(t *Terminal, next []*Pick, flow []float64) bool {
	lost, widest := 0.0, 0.0
	p.walk(t.Point, next, func(x *Pick) {
		o := p.Edges[x.Edge].Options[x.Option]
		widest = max(widest, o.Area)
		if p.Together {
			lost += o.Resistance * math.Pow(flow[x.Edge], p.Exponent)
		} else {
			lost += o.Resistance
		}
	})
	limit := t.Budget
	if !p.Together {
		limit = p.limitAt(max(t.Flow, p.Transport*widest))
	}
	return lost <= limit+1e-9*(lost+limit)
}

// walk follows the tree from a point and reports whether it ends at the root.
func (p *Problem) walk(v int, next []*Pick, visit func(x *Pick)) bool {
	for range p.Points {
		if v == p.Root {
			return true
		}
		x := next[v]
		if x == nil {
			return false
		}
		visit(x)
		if v = p.Edges[x.Edge].B; x.Reverse {
			v = p.Edges[x.Edge].A
		}
	}
	return v == p.Root
}
