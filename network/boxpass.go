package network

import (
	"math"
	"math/bits"
)

// manyCombinations is the number of size combinations at a joint above which
// its loss is taken from the bounds over all of them.
const manyCombinations = 48

// end bounds what a node's link loses at its joint, for its own flow q, the
// flow of the common duct qc and everything else that enters there.
func (b *Box) end(i int, q, qc, other span) span {
	t := &b.ends[i]
	if t.joint < 0 {
		return span{}
	}
	key := endKey{b.domainOf(t.main), b.domainOf(t.branch), b.domainOf(t.next)}
	if other.hi == 0 {
		e := t.over(key)
		return span{times(e.lone.lo, q, true), times(e.lone.hi, q, false)}
	}
	if bits.OnesCount64(key.main)*bits.OnesCount64(key.branch)*bits.OnesCount64(key.next) > manyCombinations {
		e := t.over(key)
		return span{times(e.own.lo, q, true) + times(e.wild.lo, qc, true), times(e.own.hi, q, false) + times(e.wild.hi, qc, false)}
	}
	return b.endOver(t, key, q, qc, other)
}

// endOver goes through all combinations of the domains.
func (b *Box) endOver(t *endTable, key endKey, q, qc, other span) span {
	var share span
	share.lo, share.hi = part(q, other)
	out := span{math.Inf(1), math.Inf(-1)}
	for x := key.main; x != 0; x &= x - 1 {
		for y := key.branch; y != 0; y &= y - 1 {
			for z := key.next; z != 0; z &= z - 1 {
				e := &t.entries[t.index(bits.TrailingZeros64(x), bits.TrailingZeros64(y), bits.TrailingZeros64(z))]
				lo, hi := times(e.own*e.k, q, true), times(e.own*e.k, q, false)
				if e.leg.kind != legNone {
					k0, k1 := e.leg.shareBounds(share)
					lo += times(k0*e.leg.c, qc, true)
					hi += times(k1*e.leg.c, qc, false)
				}
				out.lo, out.hi = min(out.lo, lo), max(out.hi, hi)
			}
		}
	}
	return out
}

// times bounds k·Q² from below or above over a span of Q ≥ 0.
func times(k float64, q span, below bool) float64 {
	if (k >= 0) == below {
		return k * q.lo * q.lo
	}
	return k * q.hi * q.hi
}

// part bounds the share a/(a+b) for spans a and b.
func part(a, b span) (lo, hi float64) {
	if a.lo > 0 {
		lo = a.lo / (a.lo + b.hi)
	}
	hi = 1
	if a.hi+b.lo > 0 && b.lo > 0 {
		hi = a.hi / (a.hi + b.lo)
	}
	return lo, hi
}

// shareBounds encloses K for a span of the leg's own share of the common flow.
func (l *leg) shareBounds(own span) (lo, hi float64) {
	if l.kind == legThrough {
		return l.bounds(1-own.hi, 1-own.lo)
	}
	return l.bounds(own.lo, own.hi)
}

func (b *Box) domainOf(run int) uint64 {
	if run < 0 {
		return 1
	}
	return b.Domain[run]
}

// linkAt bounds what a node's link loses on its own at a flow, gate included.
func (b *Box) linkAt(i int, q float64) (lo, hi float64) {
	r := b.n.runOf[i]
	if r < 0 {
		return 0, 0
	}
	x, y := b.loss(r, q)
	if b.shut(i) { // not tight, or no air would come here
		g := b.n.gates[r]
		x += g * q * q
		y += g * q * q
	}
	return lo + x, hi + y
}

// chain bounds the suction that a series node's source needs at the end of
// the node's link, the joint included, at a flow.
func (b *Box) chain(i int, q float64, withEnd bool) (lo, hi float64) {
	at := span{q, q}
	for first := true; ; first = false {
		x, y := b.linkAt(i, q)
		lo, hi = lo+x, hi+y
		if !first || withEnd {
			e := b.end(i, at, at, span{})
			lo, hi = lo+e.lo, hi+e.hi
		}
		if b.w.child[i] < 0 {
			x, y = b.inletLossAt(b.w.inlet[i], q)
			return lo + x, hi + y
		}
		i = b.w.child[i]
	}
}

// others is what enters a node besides one of its links.
func (b *Box) others(node, but int, leak span) span {
	w := &b.w
	out := leak
	for _, k := range b.n.inletsAt[node] {
		if w.c.Open[k] {
			out.lo += w.in[k].lo
			out.hi += w.in[k].hi
		}
	}
	for _, k := range w.nodeKids[node] {
		if k != but && w.active[k] {
			out.lo += w.q[k].lo
			out.hi += w.q[k].hi
		}
	}
	return out
}

// up passes flows and suctions from the leaves to the root.
func (b *Box) up() bool {
	n, w := b.n, &b.w
	for _, i := range w.order {
		leak := b.leakAt(i)
		sum := b.others(i, -1, leak)
		if !w.narrow(&w.q[i], sum.lo, sum.hi) {
			return false
		}
		if w.series[i] {
			continue // chains are weighed as a whole where they end
		}
		for _, k := range n.inletsAt[i] {
			if w.c.Open[k] {
				lo, _ := b.inletLossAt(k, w.in[k].lo)
				_, hi := b.inletLossAt(k, w.in[k].hi)
				if !w.narrow(&w.s[i], lo, hi) {
					return false
				}
			}
		}
		for _, k := range w.nodeKids[i] {
			if w.active[k] && !b.raise(i, k, leak) {
				return false
			}
		}
	}
	return true
}

// raise narrows the suction at a node by what one of its links needs.
func (b *Box) raise(i, k int, leak span) bool {
	w := &b.w
	e := b.end(k, w.q[k], w.q[i], b.others(i, k, leak))
	if w.series[k] {
		lo, _ := b.chain(k, w.q[k].lo, false)
		_, hi := b.chain(k, w.q[k].hi, false)
		return w.narrow(&w.s[i], lo+e.lo, hi+e.hi)
	}
	lo, _ := b.linkAt(k, w.q[k].lo)
	_, hi := b.linkAt(k, w.q[k].hi)
	return w.narrow(&w.s[i], w.s[k].lo+lo+e.lo, w.s[k].hi+hi+e.hi)
}

// root holds the fan against what the ducts need.
func (b *Box) root() bool {
	w := &b.w
	i := w.isRoot
	if w.env.fixed {
		return w.narrow(&w.q[i], w.env.flow, w.env.flow)
	}
	if w.series[i] && w.child[i] >= 0 {
		// The whole way in one: the root itself has no link.
		k := w.child[i]
		lo, _ := b.chain(k, w.q[i].lo, true)
		if lo > w.env.most(w.q[i].lo)+1e-6 {
			return false
		}
		if !w.narrow(&w.s[i], lo, math.Inf(1)) {
			return false
		}
	}
	if !w.narrow(&w.s[i], w.env.least(w.q[i].hi), w.env.most(w.q[i].lo)) {
		return false
	}
	return w.narrow(&w.q[i], 0, w.env.flowAt(w.s[i].lo))
}

// down passes them back from the root to the leaves.
func (b *Box) down() bool {
	n, w := b.n, &b.w
	for o := len(w.order) - 1; o >= 0; o-- {
		i := w.order[o]
		leak := b.leakAt(i)
		if w.series[i] {
			if k := w.child[i]; k >= 0 {
				if !w.narrow(&w.q[k], w.q[i].lo, w.q[i].hi) {
					return false
				}
			} else if !w.narrow(&w.in[w.inlet[i]], w.q[i].lo, w.q[i].hi) {
				return false
			}
			continue
		}
		for _, k := range n.inletsAt[i] {
			if w.c.Open[k] && !b.lowerInlet(i, k, leak) {
				return false
			}
		}
		for _, k := range w.nodeKids[i] {
			if w.active[k] && !b.lower(i, k, leak) {
				return false
			}
		}
	}
	return true
}

func (b *Box) lowerInlet(i, k int, leak span) bool {
	w := &b.w
	lo, hi := b.inletLaw(k)
	rest := b.others(i, -1, leak)
	rest.lo -= w.in[k].lo
	rest.hi -= w.in[k].hi
	if !w.narrow(&w.in[k], w.q[i].lo-rest.hi, w.q[i].hi-rest.lo) {
		return false
	}
	// A solver's answer is right to a millionth of a pascal.
	return w.narrow(&w.in[k], math.Sqrt(max(0, w.s[i].lo-1e-5)/hi), math.Sqrt(w.s[i].hi/max(lo, 1e-12)))
}

// lower narrows the flow of a link, and the suction at its far end, by the
// balance and the suction at the node it enters.
func (b *Box) lower(i, k int, leak span) bool {
	w := &b.w
	rest := b.others(i, k, leak)
	if !w.narrow(&w.q[k], w.q[i].lo-rest.hi, w.q[i].hi-rest.lo) {
		return false
	}
	e := b.end(k, w.q[k], w.q[i], rest)
	law := func(q float64) (float64, float64) { return b.linkAt(k, q) }
	have := span{w.s[i].lo - e.hi - w.s[k].hi, w.s[i].hi - e.lo - w.s[k].lo}
	if w.series[k] {
		law = func(q float64) (float64, float64) { return b.chain(k, q, false) }
		have = span{w.s[i].lo - e.hi, w.s[i].hi - e.lo}
	}
	if !b.invert(k, law, have) {
		return false
	}
	if w.series[k] {
		return true
	}
	lo, _ := b.linkAt(k, w.q[k].lo)
	_, hi := b.linkAt(k, w.q[k].hi)
	return w.narrow(&w.s[k], w.s[i].lo-hi-e.hi, w.s[i].hi-lo-e.lo)
}

// invert narrows the flow of a link to what a span of loss allows. Over
// turbulent flow loss/Q² never rises with Q, so the resistance at one bound
// holds for all flows on its far side.
func (b *Box) invert(k int, law func(float64) (float64, float64), have span) bool {
	w := &b.w
	if have.hi < -1e-6 {
		return false
	}
	floor := 0.0
	for i := k; i >= 0; i = w.child[i] {
		if r := b.n.runOf[i]; r >= 0 {
			floor = max(floor, b.floorFlow(r))
		}
		if !w.series[k] {
			break
		}
	}
	q := &w.q[k]
	if hi := q.hi; hi > floor && !math.IsInf(have.hi, 1) {
		if lo, _ := law(hi); lo > have.hi && lo > 0 {
			if !w.narrow(q, 0, max(floor, hi*math.Sqrt(max(0, have.hi)/lo))) {
				return false
			}
		}
	}
	from := max(q.lo, floor)
	if _, hi := law(from); have.lo > hi && hi > 0 {
		return w.narrow(q, from*math.Sqrt(have.lo/hi)*(1-1e-9), math.Inf(1))
	}
	return true
}
