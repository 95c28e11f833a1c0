package mesh

import "math"

// Closure holds given flows against the network's own laws, without any
// pressures: the largest imbalance at a node, m³/s, and the largest gap of
// pressure round a loop, Pa. Both vanish for an answer. Leaks are left out.
func (n *Net) Closure(q []float64) (mass, gap float64) {
	balance := make([]float64, n.Nodes)
	copy(balance, n.Demand)
	fall := make([]float64, len(n.Links))
	for i, l := range n.Links {
		if l.From != Room {
			balance[l.From] += q[i]
		}
		if l.To != Room {
			balance[l.To] -= q[i]
		}
		fall[i], _ = l.Law.Loss(q[i])
	}
	for _, p := range n.Pairs {
		so := sign(p.Back)
		dp, _, _ := p.Law.Loss(so*q[p.Link], sign(p.CommonBack)*q[p.Common])
		fall[p.Link] += so * dp
	}
	for _, b := range balance {
		mass = max(mass, math.Abs(b))
	}
	// Pressures along a spanning tree from the room; every other link closes
	// a loop.
	p := make([]float64, n.Nodes)
	known := make([]bool, n.Nodes)
	has := func(at int) bool { return at == Room || known[at] }
	for grown := true; grown; {
		grown = false
		for i, l := range n.Links {
			if has(l.From) && !has(l.To) {
				p[l.To], known[l.To], grown = at(p, l.From)-fall[i], true, true
			} else if has(l.To) && !has(l.From) {
				p[l.From], known[l.From], grown = at(p, l.To)+fall[i], true, true
			}
		}
	}
	for i, l := range n.Links {
		if has(l.From) && has(l.To) {
			gap = max(gap, math.Abs(at(p, l.From)-at(p, l.To)-fall[i]))
		}
	}
	return mass, gap
}
