package network

import (
	"math"
	"math/bits"
)

// powerRise is a power of the flow with which the power that a duct takes, loss
// times flow, rises at least in turbulent flow: f falls with Re no faster than
// Re^−0.35 (Swamee–Jain on smooth pipe has −0.315 at Re 4000, the steepest of our
// laws; Blasius's −0.25).
const powerRise = 2.65

// sharePoints is the number of parts in which the share of a wye's branch is
// looked at.
const sharePoints = 16

// PowerRow returns the rule that the power of the fan sets, after a Possible
// that said true, for its case and over its domains: what all runs and fittings
// take adds up to no more than the fan gives,
//
//	Σ Q·Δp ≤ Q_fan·p_fan,  in W.
//
// It holds whatever the wyes do to single streams, since what one gains another
// loses: q·K_branch + (1 − q)·K_through is hardly below 0. The flows are those
// proved at least. Air that comes in beyond that brings no more than the fan's
// pressure and takes powerRise times the losses on its way; where that is less,
// the difference for all air there may be is added to the limit. false where
// the collector has a fixed flow.
func (b *Box) PowerRow() (PathRow, bool) {
	w := &b.w
	if w.env.fixed {
		return PathRow{}, false
	}
	p := powerRow{b: b, ref: make([]float64, len(b.n.parent)), rate: make([]float64, len(b.n.parent))}
	for _, i := range w.order {
		p.ref[i] += b.leakAt(i).lo
		for _, k := range b.n.inletsAt[i] {
			if w.c.Open[k] {
				p.ref[i] += w.in[k].lo
			}
		}
		if i != w.isRoot {
			p.run(i)
			p.ref[b.n.parent[i]] += p.ref[i]
		}
	}
	most := w.env.most(w.q[w.isRoot].lo)
	p.row.Limit += p.ref[w.isRoot]*most + rowSlack*w.q[w.isRoot].hi
	for o := len(w.order) - 1; o >= 0; o-- {
		i := w.order[o]
		if i != w.isRoot {
			p.rate[i] += p.rate[b.n.parent[i]]
		}
		leak := b.leakAt(i)
		p.row.Limit += max(0, most-p.rate[i]) * (leak.hi - leak.lo)
		for _, k := range b.n.inletsAt[i] {
			if q := w.in[k]; w.c.Open[k] {
				r, _ := b.inletLaw(k)
				p.row.Limit += max(0, most-p.rate[i]-3*r*q.lo*q.lo) * (q.hi - q.lo)
				if run := b.n.runOf[i]; b.inletAt(run, k) < 0 {
					p.row.Limit -= r * q.lo * q.lo * q.lo
				}
			}
		}
	}
	p.row.Limit -= p.fittings(w.isRoot, w.q[w.isRoot])
	return p.row, true
}

// powerRow is a rule in the making.
type powerRow struct {
	b   *Box
	row PathRow
	// ref is the flow of a node's link if all inlets bring their least, rate how
	// much more the link takes at least for each flow beyond, in Pa.
	ref, rate []float64
}

// run adds the run of a node's link, with the fittings at its upstream end and
// the inlet that stands there.
func (p *powerRow) run(i int) {
	b, w := p.b, &p.b.w
	r := b.n.runOf[i]
	if r < 0 { // the link of a stage: its leg is part of a joint below
		return
	}
	loss := make([]float64, len(b.alts[r]))
	whole, rate := b.Domain[r], math.Inf(1)
	turbulent := p.ref[i] > b.floorFlow(r)
	at := func(a int, q float64) float64 { // power of the run itself at a flow
		lo, _ := b.linkAt(i, q)
		return (lo + b.ownEnd(i, span{q, max(q, w.q[i].hi)})) * q
	}
	for d := whole; d != 0; d &= d - 1 {
		a := bits.TrailingZeros64(d)
		b.Domain[r] = 1 << a
		if turbulent && p.ref[i] > 0 {
			rate = min(rate, powerRise*at(a, p.ref[i])/p.ref[i])
		} else {
			rate = 0
		}
	}
	p.rate[i] = max(0, rate)
	if b.least < 0 { // a driving junction may turn the rise around
		p.rate[i], rate = 0, 0
	}
	rate = p.rate[i]
	for d := whole; d != 0; d &= d - 1 {
		a := bits.TrailingZeros64(d)
		b.Domain[r] = 1 << a
		alt := &b.alts[r][a]
		q := max(w.q[i].lo, p.ref[i], w.limit[r]*alt.wide*slackRatio)
		loss[a] = at(a, q) - rate*(q-p.ref[i]) + p.fittings(i, span{q, w.q[i].hi})
		for at, k := range b.inletsOf[r] {
			if w.c.Open[k] {
				loss[a] += alt.inletR[at] * math.Pow(w.in[k].lo, 3)
			}
		}
	}
	b.Domain[r] = whole
	p.row.Runs, p.row.Loss = append(p.row.Runs, r), append(p.row.Loss, loss)
}

// fittings is the least power that the wyes at the upstream end of a node's run
// take, on the velocity pressure of that run.
func (p *powerRow) fittings(i int, q span) float64 {
	n, w := p.b.n, &p.b.w
	sum := 0.0
	point := n.nodePoint[i]
	for k := i; k >= 0 && n.nodePoint[k] == point; {
		var legs []int
		stage := -1
		for _, kid := range w.nodeKids[k] {
			if w.active[kid] {
				legs = append(legs, kid)
			}
			if n.nodePoint[kid] == point {
				stage = kid
			}
		}
		sum += p.wye(k, legs, q)
		k = stage
	}
	return sum
}

// wye is the least power that one wye takes.
func (p *powerRow) wye(k int, legs []int, q span) float64 {
	b, w := p.b, &p.b.w
	cube := func(c float64, at span) float64 {
		if c >= 0 {
			return c * at.lo * at.lo * at.lo
		}
		return c * at.hi * at.hi * at.hi
	}
	// Inside a point the common flow is that of the stage.
	common := span{min(q.lo, w.q[k].lo), w.q[k].hi}
	if len(legs) == 1 {
		return cube(b.legShare(legs[0]), span{w.q[legs[0]].lo, common.hi})
	}
	if len(legs) != 2 {
		return 0
	}
	main, branch := legs[0], legs[1]
	if b.ends[main].role == roleBranch {
		main, branch = branch, main
	}
	tm, tb := &b.ends[main], &b.ends[branch]
	if tm.joint < 0 || tm.main != tb.main || tm.branch != tb.branch || tm.next != tb.next {
		gain := min(0, b.legShare(main)) + min(0, b.legShare(branch))
		return cube(gain, common)
	}
	lo, hi := part(w.q[branch], b.others(k, branch, b.leakAt(k)))
	// Air that comes in at the wye itself is of neither leg.
	extra := b.leakAt(k).hi
	for _, in := range b.n.inletsAt[k] {
		if w.c.Open[in] {
			extra += w.in[in].hi
		}
	}
	if extra = extra / max(common.lo, 1e-12); extra > 1 {
		extra = 1
	}
	least := math.Inf(1)
	for x := b.domainOf(tm.main); x != 0; x &= x - 1 {
		for y := b.domainOf(tm.branch); y != 0; y &= y - 1 {
			for z := b.domainOf(tm.next); z != 0; z &= z - 1 {
				at := tm.index(bits.TrailingZeros64(x), bits.TrailingZeros64(y), bits.TrailingZeros64(z))
				least = min(least, wyePower(&tm.entries[at].leg, &tb.entries[at].leg, lo, hi, extra))
			}
		}
	}
	return cube(least, common)
}

// wyePower bounds q·K_branch + (1 − q)·K_through, times ½ρ/A², from below over
// shares of the branch, where air up to a share extra belongs to neither leg.
func wyePower(through, branch *leg, lo, hi, extra float64) float64 {
	if through.kind != legThrough || branch.kind != legBranch {
		a, _ := through.shareBounds(span{0, 1})
		b, _ := branch.shareBounds(span{0, 1})
		return min(0, a*through.c) + min(0, b*branch.c)
	}
	least := math.Inf(1)
	for k := range sharePoints {
		q0, q1 := lo+(hi-lo)*float64(k)/sharePoints, lo+(hi-lo)*float64(k+1)/sharePoints
		t, _ := through.bounds(q0, min(1, q1+extra))
		s, _ := branch.bounds(q0, q1)
		x := math.Min((1-q0)*t, max(0, 1-q1-extra)*t)*through.c + math.Min(q0*s, q1*s)*branch.c
		least = min(least, x)
	}
	return least
}
