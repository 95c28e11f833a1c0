package network

import (
	"math"
	"math/bits"

	"wyewright/network/loss"
)

// span is a closed interval.
type span struct{ lo, hi float64 }

// boxWork is the workspace of one propagation.
type boxWork struct {
	order    []int
	active   []bool
	series   []bool    // one source, no leaks: the flow is that of the source
	child    []int     // the source node of a series node, −1 for an inlet
	inlet    []int     // the source inlet of a series leaf
	sources  []int     // active children and open inlets of each node
	q        []span    // flow through each node's link
	s        []span    // total suction at each node
	in       []span    // flow of each inlet
	limit    []float64 // transport limit of each run, 0 for none
	env      *envelope
	c        *Case
	shrunk   bool
	isRoot   int
	portsUp  [][]int8 // ports of each tool upstream of each run
	nodeKids [][]int
}

func (w *boxWork) init(b *Box) {
	n := b.n
	size := len(n.parent)
	w.active, w.series = make([]bool, size), make([]bool, size)
	w.child, w.inlet, w.sources = make([]int, size), make([]int, size), make([]int, size)
	w.q, w.s, w.in = make([]span, size), make([]span, size), make([]span, len(n.inlets))
	w.limit = make([]float64, len(n.spec.Runs))
	w.isRoot = size - 1
	w.nodeKids = make([][]int, size)
	for i, p := range n.parent {
		if p >= 0 {
			w.nodeKids[p] = append(w.nodeKids[p], i)
		}
	}
	w.portsUp = make([][]int8, len(n.spec.Runs))
	for r := range w.portsUp {
		w.portsUp[r] = make([]int8, len(n.spec.Tools))
	}
	for k := range n.spec.Tools {
		for _, port := range n.spec.Tools[k].Ports {
			for p := n.point[port.At]; n.out[p] >= 0; p = n.to[n.out[p]] {
				w.portsUp[n.out[p]][k]++
			}
		}
	}
}

// slackRatio loosens every demand by the grid of the verdicts, so that a plan
// that a verdict rounds up is never excluded.
const slackRatio = 1 - grid

// rounds is the largest number of passes of one propagation.
const rounds = 6

// Possible reports whether some network of the box may meet the limits in a
// case, with every required flow taken times flow. False is a proof that none
// does; true proves nothing. Ceilings and motor loads are not looked at, and
// air that runs backward counts as a miss, as it does in a Verdict.
func (b *Box) Possible(c *Case, l *Limits, flow float64) bool {
	w := &b.w
	w.c = c
	w.env = b.envelope(c)
	b.activate()
	if !b.demand(l, flow) {
		return false
	}
	for range rounds {
		w.shrunk = false
		if !b.up() || !b.root() || !b.down() {
			return false
		}
		if !w.shrunk {
			break
		}
	}
	return true
}

// FlowRange encloses the flow of a run in the case of the last Possible.
func (b *Box) FlowRange(run int) (lo, hi float64) {
	i := b.n.runNode[run]
	if !b.w.active[i] {
		return 0, 0
	}
	return b.w.q[i].lo, b.w.q[i].hi
}

// TotalRange encloses the flow at the collector, m³/s, in the case of the last
// Possible, over the networks of the box that may meet the limits there. It is
// widened by the grid of the verdicts, so that no rounding excludes an answer.
func (b *Box) TotalRange() (lo, hi float64) {
	q := b.w.q[b.w.isRoot]
	return q.lo * (1 - grid), max(q.lo, q.hi) * (1 + grid)
}

// activate finds the nodes with flow and the series chains.
func (b *Box) activate() {
	n, w := b.n, &b.w
	for i := range n.parent {
		leaks := b.mayLeak(i)
		w.active[i], w.series[i], w.child[i], w.inlet[i], w.sources[i] = leaks || i == w.isRoot, !leaks, -1, -1, 0
		w.s[i], w.q[i] = span{b.least, math.Inf(1)}, span{0, w.env.free}
		for _, k := range n.inletsAt[i] {
			if w.c.Open[k] {
				w.active[i] = true
			}
		}
		for _, k := range w.nodeKids[i] {
			w.active[i] = w.active[i] || w.active[k]
		}
	}
	// A gate that shuts tight stills everything behind it.
	for i := w.isRoot - 1; i >= 0; i-- {
		w.active[i] = w.active[i] && w.active[n.parent[i]] && !(b.shut(i) && math.IsInf(n.gates[n.runOf[i]], 1))
	}
	w.order = w.order[:0]
	for i := range n.parent {
		if !w.active[i] {
			w.series[i], w.q[i] = false, span{}
			continue
		}
		w.order = append(w.order, i)
		for _, k := range n.inletsAt[i] {
			if w.c.Open[k] {
				w.sources[i]++
				w.inlet[i] = k
			}
		}
		for _, k := range w.nodeKids[i] {
			if w.active[k] {
				w.sources[i]++
				w.child[i] = k
				w.series[i] = w.series[i] && w.series[k]
			}
		}
		w.series[i] = w.series[i] && w.sources[i] == 1
	}
	for k := range n.inlets {
		w.in[k] = span{}
		if w.c.Open[k] && w.active[n.inlets[k].node] {
			w.in[k].hi = w.env.free
		}
	}
}

// shut reports whether a node's link is a run with a gate that is closed:
// nothing upstream of it is open.
func (b *Box) shut(i int) bool {
	r := b.n.runOf[i]
	return r >= 0 && b.n.gates[r] > 0 && b.w.c.gateShut(r, b.openUp(i))
}

// openUp reports whether an inlet at or upstream of a node is open.
func (b *Box) openUp(i int) bool {
	for _, k := range b.n.inletsAt[i] {
		if b.w.c.Open[k] {
			return true
		}
	}
	for _, k := range b.w.nodeKids[i] {
		if b.openUp(k) {
			return true
		}
	}
	return false
}

// mayLeak reports whether air may enter at a node by a leak or shut gate.
func (b *Box) mayLeak(i int) bool {
	n := b.n
	for _, k := range n.leaksAt[i] {
		switch l := &n.leaks[k]; {
		case l.spec >= 0 && b.LeakHi[l.spec] > 0, l.surface > 0:
			return true
		}
	}
	for _, k := range n.inletsAt[i] {
		if !b.w.c.Open[k] && b.GateHi[k] > 0 {
			return true
		}
	}
	return false
}

// demand sets the flows that the limits ask for.
func (b *Box) demand(l *Limits, flow float64) bool {
	n, w := b.n, &b.w
	for _, k := range w.c.Running {
		need := n.Required(k, l) * flow * slackRatio
		ports := len(n.spec.Tools[k].Ports)
		for i := range n.inlets {
			if n.inlets[i].tool != k {
				continue
			}
			if ports == 1 {
				w.in[i].lo = need
			}
			w.in[i].lo = max(w.in[i].lo, n.leastFlow(k, n.inlets[i].port, l)*flow*slackRatio)
		}
		for r := range n.spec.Runs {
			if i := n.runNode[r]; int(w.portsUp[r][k]) == ports {
				w.q[i].lo = max(w.q[i].lo, need)
			}
		}
	}
	for r := range n.spec.Runs {
		limit := n.TransportLimit(w.c, r, l)
		if w.limit[r] = max(limit, 0); limit <= 0 {
			continue
		}
		wide := math.Inf(1)
		for d := b.Domain[r]; d != 0; d &= d - 1 {
			wide = min(wide, b.alts[r][bits.TrailingZeros64(d)].wide)
		}
		i := n.runNode[r]
		w.q[i].lo = max(w.q[i].lo, limit*wide*slackRatio)
		if !w.active[i] {
			return false
		}
	}
	return true
}

// narrow intersects a span with another; false means empty.
func (w *boxWork) narrow(x *span, lo, hi float64) bool {
	const worth = 1e-4 // a smaller gain is not worth another round
	if lo > x.lo {
		w.shrunk = w.shrunk || lo > x.lo*(1+worth)+1e-9
		x.lo = lo
	}
	if hi < x.hi {
		w.shrunk = w.shrunk || hi < x.hi*(1-worth)-1e-9
		x.hi = hi
	}
	// Rounding in either bound must not look like a contradiction.
	return x.lo <= x.hi+1e-9*math.Abs(x.hi)+1e-12
}

// inletLaw bounds the resistance of an open inlet over its run's domain.
func (b *Box) inletLaw(k int) (lo, hi float64) {
	in := &b.n.inlets[k]
	if in.tool >= 0 {
		r := b.n.out[b.n.nodePoint[in.node]]
		if at := b.inletAt(r, k); at >= 0 {
			lo = math.Inf(1)
			for d := b.Domain[r]; d != 0; d &= d - 1 {
				x := b.alts[r][bits.TrailingZeros64(d)].inletR[at]
				lo, hi = min(lo, x), max(hi, x)
			}
			return lo, hi
		}
	}
	return in.r, in.r
}

// inletLossAt bounds what an inlet loses at a flow.
func (b *Box) inletLossAt(k int, q float64) (lo, hi float64) {
	lo, hi = b.inletLaw(k)
	return lo * q * q, hi * q * q
}

// leakAt bounds the air that enters at a node by leaks and shut gates.
func (b *Box) leakAt(i int) span {
	n, w := b.n, &b.w
	var out span
	cLo, cHi := b.leave(i)
	pLo := w.s[i].lo + cLo*w.q[i].lo*w.q[i].lo
	pHi := w.s[i].hi + cHi*w.q[i].hi*w.q[i].hi
	add := func(cd, lo, hi float64) {
		if pLo < 0 { // air goes out, most by the largest
			lo = hi
		}
		x, _ := loss.OrificeFlow(cd, lo, pLo, b.rho)
		y, _ := loss.OrificeFlow(cd, hi, max(0, min(pHi, 1e6)), b.rho)
		out.lo += x
		out.hi += y
	}
	for _, k := range n.leaksAt[i] {
		l := &n.leaks[k]
		switch {
		case l.spec >= 0:
			add(l.cd, b.LeakLo[l.spec], b.LeakHi[l.spec])
		case l.surface > 0:
			lo, hi := b.wall(l.sourceRun)
			if pLo < 0 {
				lo = hi
			}
			c := n.spec.Runs[l.sourceRun].LeakClass
			x, _ := loss.SurfaceLeak(c*lo, pLo)
			y, _ := loss.SurfaceLeak(c*hi, max(0, min(pHi, 1e6)))
			out.lo += x
			out.hi += y
		}
	}
	for _, k := range n.inletsAt[i] {
		if !w.c.Open[k] && b.GateHi[k] > 0 {
			add(loss.OrificeCd, b.GateLo[k], b.GateHi[k])
		}
	}
	return out
}

// wall bounds the wall area of a run over its domain.
func (b *Box) wall(run int) (lo, hi float64) {
	lo = math.Inf(1)
	b.each(run, func(a *boxAlt) {
		x := 0.0
		for _, p := range a.run.Pieces {
			x += math.Pi * float64(p.Diameter) * float64(p.Length)
		}
		lo, hi = min(lo, x), max(hi, x)
	})
	return lo, hi
}

// leave bounds ½ρ/A² of the duct that leaves a node.
func (b *Box) leave(i int) (lo, hi float64) {
	r := b.n.out[b.n.nodePoint[i]]
	if r < 0 {
		return b.n.leaveC[i], b.n.leaveC[i]
	}
	lo = math.Inf(1)
	b.each(r, func(a *boxAlt) {
		lo, hi = min(lo, a.coefs[0].c), max(hi, a.coefs[0].c)
	})
	return lo, hi
}

// Touched marks the runs whose alternative can matter in a case over the
// whole box: those that may carry air, those that share a joint with one, and those whose
// seams leak.
func (b *Box) Touched(c *Case) []bool {
	b.w.c = c
	b.w.env = b.envelope(c)
	b.activate()
	out := make([]bool, len(b.n.spec.Runs))
	mark := func(r int) {
		if r >= 0 {
			out[r] = true
		}
	}
	for r := range b.n.spec.Runs {
		if b.n.spec.Runs[r].LeakClass > 0 {
			mark(r) // its seams leak in at its end, air of its own or not
		}
	}
	for i := range b.n.parent {
		if !b.w.active[i] {
			continue
		}
		mark(b.n.runOf[i])
		if t := &b.ends[i]; t.joint >= 0 {
			mark(t.main)
			mark(t.branch)
			mark(t.next)
		}
	}
	return out
}
