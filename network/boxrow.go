package network

import (
	"math"
	"math/bits"
)

// PathRow is a rule that every network of a box keeps if it can meet the
// limits of a case: the losses on the way from a port to the fan, each at the
// least flow that its run can then have, add up to no more than the fan gives:
//
//	Σ Loss[j][alternative of Runs[j]] ≤ Limit, in Pa.
//
// Loss is 0 for alternatives that the domains exclude, and may be below 0 where
// another stream drives this one at a wye.
type PathRow struct {
	Runs  []int
	Loss  [][]float64
	Limit float64
}

// PathRows returns the rules of the running tools' ports, after a Possible that
// said true, for its case and over its domains. The least flow of a run is what
// the propagation proved or what transport velocity asks of the alternative at
// hand, whichever is more; a loss rises with the flow. Limits are the fan's
// highest suction at or beyond the least flow; a collector of fixed flow has
// none, and gives no rules.
func (b *Box) PathRows() []PathRow {
	if b.w.env.fixed {
		return nil
	}
	var out []PathRow
	for k := range b.n.inlets {
		if in := &b.n.inlets[k]; in.tool >= 0 && b.w.c.Open[k] && b.running(in.tool) {
			out = append(out, b.pathRow(k))
		}
	}
	return out
}

func (b *Box) running(tool int) bool {
	for _, k := range b.w.c.Running {
		if k == tool {
			return true
		}
	}
	return false
}

// rowSlack is what a solver's answer may miss a balance by along a way, Pa.
const rowSlack = 1e-4

// pathRow walks from a port to the fan. What a leg loses on the common duct's
// velocity pressure, which may be a gain, is reckoned with the common duct: a
// narrow one that would turn a small share into a great gain loses more itself.
func (b *Box) pathRow(inlet int) PathRow {
	n, w := b.n, &b.w
	most := w.env.most(w.q[w.isRoot].lo)
	row := PathRow{Limit: most + rowSlack}
	first := n.out[n.nodePoint[n.inlets[inlet].node]]
	at := b.inletAt(first, inlet)
	if at < 0 {
		lo, _ := b.inletLossAt(inlet, w.in[inlet].lo)
		row.Limit -= lo
		first = -1
	}
	var legs []int // nodes whose legs enter the next run
	for i := n.inlets[inlet].node; i != w.isRoot; i = n.parent[i] {
		r := n.runOf[i]
		if r < 0 {
			legs = append(legs, i)
			continue
		}
		loss := make([]float64, len(b.alts[r]))
		whole := b.Domain[r]
		for d := whole; d != 0; d &= d - 1 {
			a := bits.TrailingZeros64(d)
			b.Domain[r] = 1 << a
			alt := &b.alts[r][a]
			q := span{max(w.q[i].lo, w.limit[r]*alt.wide*slackRatio), w.q[i].hi}
			gain, stages := 0.0, 0.0
			for _, leg := range legs {
				if at := n.parent[leg]; at == i {
					gain += b.legShare(leg)
				} else { // the common flow there is that of a stage
					stages += times(b.legShare(leg), w.q[at], true)
				}
			}
			lo, _ := b.linkAt(i, q.lo)
			if lo += gain * q.lo * q.lo; gain < 0 && q.hi > q.lo {
				// Over turbulent flow a resistance never rises with flow: the
				// sum is least at one of the ends of some part of the span.
				lo = b.leastOver(i, gain, q)
			}
			lo += stages + b.ownEnd(i, q)
			if r == first {
				lo += alt.inletR[at] * w.in[inlet].lo * w.in[inlet].lo
			}
			if n.parent[i] == w.isRoot {
				lo += most - w.env.most(max(q.lo, w.q[w.isRoot].lo))
			}
			loss[a] = lo
		}
		b.Domain[r] = whole
		row.Runs, row.Loss = append(row.Runs, r), append(row.Loss, loss)
		legs = append(legs[:0], i)
	}
	for _, leg := range legs {
		row.Limit -= times(b.legShare(leg), w.q[n.parent[leg]], true)
	}
	return row
}

// leastOver is the least of the loss of a link plus gain·Q² over a span of flow.
func (b *Box) leastOver(i int, gain float64, q span) float64 {
	const parts = 16
	least := math.Inf(1)
	for k := range parts {
		from, to := q.lo+(q.hi-q.lo)*float64(k)/parts, q.lo+(q.hi-q.lo)*float64(k+1)/parts
		lo, _ := b.linkAt(i, from)
		least = min(least, lo+gain*to*to)
	}
	return least
}

// legShare is the least coefficient, on the square of the common flow, of the
// leg by which a node's link enters its joint.
func (b *Box) legShare(i int) float64 {
	w, t := &b.w, &b.ends[i]
	if t.joint < 0 {
		return 0
	}
	p := b.n.parent[i]
	other := b.others(p, i, b.leakAt(p))
	var share span
	share.lo, share.hi = part(w.q[i], other)
	least := math.Inf(1)
	t.each(b, func(e *endEntry) {
		k := 0.0
		switch {
		case e.leg.kind == legNone:
		case other.hi == 0:
			k = e.leg.c * e.all
		default:
			lo, _ := e.leg.shareBounds(share)
			k = e.leg.c * lo
		}
		least = min(least, k)
	})
	return least
}

// ownEnd is the least that a link loses at its joint on its own velocity
// pressure.
func (b *Box) ownEnd(i int, q span) float64 {
	t := &b.ends[i]
	if t.joint < 0 {
		return 0
	}
	least := math.Inf(1)
	t.each(b, func(e *endEntry) { least = min(least, e.own*e.k) })
	return times(least, q, true)
}

// each goes through the entries of a table that the domains leave.
func (t *endTable) each(b *Box, f func(*endEntry)) {
	for x := b.domainOf(t.main); x != 0; x &= x - 1 {
		for y := b.domainOf(t.branch); y != 0; y &= y - 1 {
			for z := b.domainOf(t.next); z != 0; z &= z - 1 {
				f(&t.entries[t.index(bits.TrailingZeros64(x), bits.TrailingZeros64(y), bits.TrailingZeros64(z))])
			}
		}
	}
}
