package network

import (
	"math"
	"math/bits"
	"slices"

	"wyewright/network/units"
)

// Box is a set of networks: for every run a set of alternatives, for every
// leak and closed gate a range of areas. It encloses the flows that any
// network of the set can have in a state, and so proves that none of them can
// meet the limits. A Box belongs to one goroutine.
//
// The enclosure is interval propagation over the solver's own equations
// (hull consistency: Benhamou et al. 1999, ICLP, p. 230, from memory), so it
// holds for every answer the solver can give.
type Box struct {
	n      *Network
	rho    float64
	alts   [][]boxAlt
	Domain []uint64 // per run: bit a set while alternative a is possible
	// LeakLo and LeakHi bound the area of each leak of the Spec, GateLo and
	// GateHi the closed gate of each inlet, m².
	LeakLo, LeakHi, GateLo, GateHi []float64

	inletsOf  [][]int    // inlets whose loss the run's alternative changes
	ends      []endTable // per node: the loss where its link enters its joint
	envelopes map[moverKey]*envelope
	least     float64 // suction that no node falls below, Pa
	w         boxWork
}

// MaxAlternatives is the largest number of alternatives of one run.
const MaxAlternatives = 64

// boxAlt is an alternative of a run.
type boxAlt struct {
	run          Run
	coefs        []coef
	narrow, wide float64
	inletR       []float64 // of inletsOf, Pa/(m³/s)²
	// law holds loss/Q² at the flows k·lawStep·wide: between two of them the
	// loss lies between the two resistances, since over turbulent flow the
	// resistance never rises with flow; below lawFirst it lies between the two
	// losses. rough is the resistance at a flow beyond all.
	law   []float64
	rough float64
}

// The tabulated law of an alternative: velocities k·lawStep, from turbulent
// ones on.
const (
	lawStep  = 0.2 // m/s in the widest piece
	lawSize  = 512
	lawFirst = 15
	// lawBeyond is a velocity that no duct sees.
	lawBeyond = 1e4
)

// tabulate fills law.
func (a *boxAlt) tabulate(friction Friction) {
	a.law = make([]float64, lawSize)
	for k := 1; k < lawSize; k++ {
		q := float64(k) * lawStep * a.wide
		a.law[k] = a.exact(q, friction) / (q * q)
	}
	beyond := lawBeyond * a.wide
	a.rough = a.exact(beyond, friction) / (beyond * beyond)
}

// exact is the loss of the alternative's pieces at a flow.
func (a *boxAlt) exact(q float64, friction Friction) float64 {
	dp := 0.0
	for k := range a.coefs {
		x, _ := a.coefs[k].loss(q, friction)
		dp += x
	}
	return dp
}

// bounds encloses the loss at a flow.
func (a *boxAlt) bounds(q float64, friction Friction) (lo, hi float64) {
	step := lawStep * a.wide
	k := int(q / step)
	switch {
	case k < lawFirst:
		from, to := float64(k)*step, float64(k+1)*step
		return a.law[k] * from * from, a.law[k+1] * to * to
	case k < lawSize-1:
		return a.law[k+1] * q * q, a.law[k] * q * q
	case q < lawBeyond*a.wide:
		return a.rough * q * q, a.law[lawSize-1] * q * q
	}
	dp := a.exact(q, friction)
	return dp, dp
}

// drivenLeast is a suction below that of any node behind a junction that drives
// the air, Pa.
const drivenLeast = -1e5

// NewBox makes the box of all networks in which run i is one of runs[i]; the
// first alternative of a run must be the one of n, and a run with none stays.
func NewBox(n *Network, runs [][]Run) *Box {
	b := &Box{n: n, rho: float64(n.spec.Air.Density), alts: make([][]boxAlt, len(runs)), Domain: make([]uint64, len(runs)),
		inletsOf: make([][]int, len(runs)), envelopes: map[moverKey]*envelope{}}
	nu := n.spec.Air.Kinematic()
	for i := range runs {
		b.inletsOf[i] = n.seriesInlets(i)
		list := runs[i]
		if len(list) == 0 {
			list = []Run{n.spec.Runs[i]}
		}
		if len(list) > MaxAlternatives {
			panic("network: too many alternatives of one run")
		}
		for a := range list {
			b.alts[i] = append(b.alts[i], b.alternative(i, list[a], nu))
		}
		b.Domain[i] = 1<<len(list) - 1
		if len(list) == MaxAlternatives {
			b.Domain[i] = math.MaxUint64
		}
	}
	for _, l := range n.spec.Leaks {
		b.LeakLo, b.LeakHi = append(b.LeakLo, float64(l.Area)), append(b.LeakHi, float64(l.Area))
	}
	for i := range n.inlets {
		area := 0.0
		if k := n.inlets[i].leak; k >= 0 {
			area = n.leaks[k].area
		}
		b.GateLo, b.GateHi = append(b.GateLo, area), append(b.GateHi, area)
	}
	b.ends = make([]endTable, len(n.parent))
	for i := range n.parent {
		b.ends[i] = b.endTable(i)
		for k := range b.ends[i].entries {
			if e := &b.ends[i].entries[k]; e.own*e.k < 0 { // a junction that drives
				b.least = drivenLeast
			}
		}
	}
	b.w.init(b)
	return b
}

// seriesInlets are the ports whose change of size belongs to a run.
func (n *Network) seriesInlets(run int) []int {
	p := n.from[run]
	if len(n.in[p]) > 0 {
		return nil
	}
	var out []int
	for k := range n.inlets {
		if n.inlets[k].node == n.pointNode[p] && n.inlets[k].tool >= 0 {
			out = append(out, k)
		}
	}
	return out
}

// alternative compiles one run in place of the as-built one.
func (b *Box) alternative(i int, r Run, nu float64) boxAlt {
	v := &Network{spec: b.n.spec, topology: b.n.topology}
	v.spec.Runs = append([]Run(nil), b.n.spec.Runs...)
	v.spec.Runs[i] = r
	v.pieces = make([][]coef, len(v.spec.Runs))
	v.gates = make([]float64, len(v.spec.Runs))
	v.pieces[i] = make([]coef, len(r.Pieces))
	v.buildRun(i, b.rho, nu)
	out := boxAlt{run: r, coefs: v.pieces[i]}
	out.narrow, out.wide = v.areas(i)
	out.tabulate(b.n.spec.Friction)
	for _, k := range b.inletsOf[i] {
		in := b.n.inlets[k]
		out.inletR = append(out.inletR, v.portLoss(in.tool, in.port, b.rho))
	}
	return out
}

// inletAt is the place of an inlet among those that a run's alternative changes,
// −1 where it is none of them.
func (b *Box) inletAt(run, inlet int) int {
	if run < 0 {
		return -1
	}
	return slices.Index(b.inletsOf[run], inlet)
}

// each calls f for every alternative of a run that is still possible.
func (b *Box) each(run int, f func(a *boxAlt)) {
	for d := b.Domain[run]; d != 0; d &= d - 1 {
		f(&b.alts[run][bits.TrailingZeros64(d)])
	}
}

// Areas returns the narrowest and widest area of an alternative.
func (b *Box) Areas(run, alt int) (narrow, wide units.Area) {
	a := &b.alts[run][alt]
	return units.Area(a.narrow), units.Area(a.wide)
}

// loss bounds what a run loses on its own at a flow ≥ 0 over its domain.
func (b *Box) loss(run int, q float64) (lo, hi float64) {
	lo = math.Inf(1)
	for d := b.Domain[run]; d != 0; d &= d - 1 {
		a := &b.alts[run][bits.TrailingZeros64(d)]
		x, y := a.bounds(q, b.n.spec.Friction)
		lo, hi = min(lo, x), max(hi, y)
	}
	return lo, hi
}

// floorFlow is a flow below which friction may be laminar in some
// alternative of the run: there f·Q² bends differently.
func (b *Box) floorFlow(run int) float64 {
	q := 0.0
	b.each(run, func(a *boxAlt) {
		for k := range a.coefs {
			q = max(q, 4000/a.coefs[k].re)
		}
	})
	return q
}

// endTable holds the loss at the end of a node's link for every combination
// of the runs that meet there.
type endTable struct {
	joint              int // −1: none
	role               role
	main, branch, next int // runs, −1 where fixed
	nm, nb, nn         int
	entries            []endEntry
	// known remembers the bounds over the domains met so far.
	known map[endKey]endBounds
}

// endKey names the domains of the three runs of a joint.
type endKey struct{ main, branch, next uint64 }

// endBounds are bounds over all combinations of three domains, as resistances
// Pa/(m³/s)²: lone holds where nothing else enters, own is the part on the
// run's own velocity pressure, wild the wye's part for any share.
type endBounds struct{ lone, own, wild span }

// knownMost is the number of domains that a table remembers.
const knownMost = 1 << 14

// over returns the bounds over domains.
func (t *endTable) over(key endKey) endBounds {
	if e, ok := t.known[key]; ok {
		return e
	}
	none := span{math.Inf(1), math.Inf(-1)}
	out := endBounds{none, none, none}
	wider := func(s *span, lo, hi float64) { s.lo, s.hi = min(s.lo, lo), max(s.hi, hi) }
	for x := key.main; x != 0; x &= x - 1 {
		for y := key.branch; y != 0; y &= y - 1 {
			for z := key.next; z != 0; z &= z - 1 {
				e := &t.entries[t.index(bits.TrailingZeros64(x), bits.TrailingZeros64(y), bits.TrailingZeros64(z))]
				own := e.own * e.k
				lone := own + e.leg.c*e.all
				wider(&out.lone, lone, lone)
				wider(&out.own, own, own)
				wider(&out.wild, e.leg.c*e.wild.lo, e.leg.c*e.wild.hi)
			}
		}
	}
	if len(t.known) >= knownMost {
		clear(t.known)
	}
	t.known[key] = out
	return out
}

type endEntry struct {
	endLoss
	k    float64 // the sum of the shares
	own  float64 // ½ρ/A² of the run's last piece, for k
	all  float64 // K of the leg with the other one still
	wild span    // K of the leg for any share
}

func (t *endTable) index(m, br, nx int) int { return (m*t.nb+br)*t.nn + nx }

// endTable computes the table of one node.
func (b *Box) endTable(i int) endTable {
	n := b.n
	t := endTable{known: map[endKey]endBounds{}, joint: n.jointOf[i], main: -1, branch: -1, next: -1, nm: 1, nb: 1, nn: 1}
	if t.joint < 0 {
		return t
	}
	j := &n.joints[t.joint]
	run := n.runOf[i]
	t.role = j.role(run)
	t.main, t.branch, t.next = j.Main, j.Branch, j.Common
	p := n.nodePoint[n.parent[i]]
	if t.role == roleStage {
		t.main = n.calmMain[p]
	}
	count := func(r int) int {
		if r < 0 {
			return 1
		}
		return len(b.alts[r])
	}
	t.nm, t.nb, t.nn = count(t.main), count(t.branch), count(t.next)
	t.entries = make([]endEntry, t.nm*t.nb*t.nn)
	for m := range t.nm {
		for br := range t.nb {
			for nx := range t.nn {
				t.entries[t.index(m, br, nx)] = b.endEntry(&t, p, run, m, br, nx)
			}
		}
	}
	return t
}

func (b *Box) endEntry(t *endTable, p, run, m, br, nx int) endEntry {
	n := b.n
	in := endInput{role: t.role, asBuilt: true}
	use := func(r, a int) *Run {
		v := &b.alts[r][a].run
		in.asBuilt = in.asBuilt && !v.New && (r == t.next || !v.Rejoined)
		return v
	}
	var mine *Run
	switch {
	case t.main >= 0 && t.role == roleStage: // only for its override
		in.calm = !b.alts[t.main][m].run.remade()
	case t.main >= 0:
		r := use(t.main, m)
		in.main = lastPiece(r)
		if t.main == run {
			mine = r
		}
	}
	if t.branch >= 0 {
		r := use(t.branch, br)
		in.branch = lastPiece(r)
		if t.branch == run {
			mine = r
		}
	}
	in.common = n.commonPiece(p)
	if t.next >= 0 {
		in.common = use(t.next, nx).Pieces[0]
	}
	e := endEntry{}
	if mine != nil {
		in.k, in.rejoined = &mine.K, mine.Rejoined
		a := circle(lastPiece(mine).Diameter)
		e.own = b.rho / 2 / (a * a)
	}
	e.endLoss = n.end(t.joint, in, b.rho)
	if e.leg.kind != legNone {
		if e.leg.kind == legBranch {
			e.all, _ = e.leg.wye.Branch(1)
		} else {
			e.all, _ = e.leg.wye.Through(0)
		}
		e.wild.lo, e.wild.hi = e.leg.bounds(0, 1)
	}
	e.k = e.sum()
	return e
}

// bounds encloses K of a leg over shares q0..q1 of the branch.
func (l *leg) bounds(q0, q1 float64) (lo, hi float64) {
	switch l.kind {
	case legBranch:
		return l.wye.BranchRange(q0, q1)
	case legThrough:
		return l.wye.ThroughRange(q0, q1)
	}
	return 0, 0
}

// Widen lets the openings that changes speak of also have the areas they set;
// with reset they have only those.
func (b *Box) Widen(reset bool, changes ...Change) {
	put := func(lo, hi *float64, x units.Area) {
		v := float64(x)
		if reset {
			*lo, *hi = v, v
			return
		}
		*lo, *hi = min(*lo, v), max(*hi, v)
	}
	for _, c := range changes {
		switch c := c.(type) {
		case SetLeak:
			put(&b.LeakLo[c.Leak], &b.LeakHi[c.Leak], c.Area)
		case SetGate:
			for k := range b.n.inlets {
				if b.n.inlets[k].tool == c.Tool && b.n.inlets[k].port == c.Port {
					put(&b.GateLo[k], &b.GateHi[k], c.Leak)
				}
			}
		case SetBleed:
			for k := range b.n.inlets {
				if b.n.inlets[k].bleed == c.Bleed {
					put(&b.GateLo[k], &b.GateHi[k], c.Leak)
				}
			}
		}
	}
}
