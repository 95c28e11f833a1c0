package network

import (
	"context"
	"math"
	"slices"

	"wyewright/network/loss"
	"wyewright/network/mesh"
)

// Status says why a solve stopped.
type Status = mesh.Status

// Statuses of a solve.
const (
	NotSolved      = mesh.NotSolved
	Converged      = mesh.Converged
	IterationLimit = mesh.IterationLimit
	Stalled        = mesh.Stalled
	Interrupted    = mesh.Interrupted
)

// Settings of a solver; nil and zero fields mean the defaults.
type Settings = mesh.Settings

const (
	defaultIterations = 100

	// creep is added to the slope of every opening and link, Pa/(m³/s), so
	// that a step exists at rest; the residuals know nothing of it.
	creep = 1e-6
	// startVelocity of the air in open ports, m/s, for the first guess.
	startVelocity = 15
	// maxThrottle steps toward the point of the first guess.
	maxThrottle = 8
	// maxHalvings of the step in one line search.
	maxHalvings = 30
)

// Solver is the reusable workspace of one goroutine. After the first solve of
// a network it allocates nothing.
//
// It solves for the total pressure P at every node and the flow Q through
// every link by Newton's method with a line search. On a tree each step is an
// elimination from the leaves to the root and a substitution back: the flow
// out of a subtree is affine in the pressure at its root, dQ = A + B·dP.
type Solver struct {
	n   *Network
	set Settings
	m   mover
	// g solves networks that are no trees, and rescue a tree whose own way
	// came to no end; what follows is then unused.
	g, rescue *general

	order          []int // active nodes, leaves first
	active         []bool
	gateR          []float64 // closed resistance in each link
	q, p           []float64 // flow out of the node, total pressure at it
	in             []float64 // flow of each inlet
	dq, dp         []float64
	din            []float64
	tq, tp, tin    []float64 // trial point
	a, b           []float64 // affine form of each link's flow
	slopeQ, slopeC []float64 // of link loss: own flow, common flow
	over           []float64 // 1/pivot of each link
	roots          []float64 // 1/√f of each piece at the last point
	rp             []float64 // pressure residual of each link
	sum            []float64
	run, clean     Case
	iterations     int
	status         Status
	worst          float64
	worstNode      int
	mass           float64
}

// NewSolver makes a workspace; set may be nil.
func NewSolver(n *Network, set *Settings) *Solver {
	s := &Solver{set: set.Or(defaultIterations)}
	s.Reset(n)
	return s
}

// Reset points the workspace at another network; slices are kept where they
// are long enough.
func (s *Solver) Reset(n *Network) {
	s.n, s.g, s.rescue = n, nil, nil
	if n.web != nil {
		s.g = newGeneral(n, &s.set)
		return
	}
	size := len(n.parent)
	for _, v := range []*[]float64{&s.gateR, &s.q, &s.p, &s.dq, &s.dp, &s.tq, &s.tp, &s.a, &s.b,
		&s.slopeQ, &s.slopeC, &s.over, &s.rp, &s.sum} {
		*v = resize(*v, size)
	}
	s.roots = resize(s.roots, n.rootAt[len(n.rootAt)-1])
	for _, v := range []*[]float64{&s.in, &s.din, &s.tin} {
		*v = resize(*v, len(n.inlets))
	}
	if cap(s.active) < size {
		s.active = make([]bool, size)
		s.order = make([]int, 0, size)
	}
	s.active = s.active[:size]
	s.status = NotSolved
}

func resize(v []float64, n int) []float64 {
	if cap(v) < n {
		return make([]float64, n)
	}
	return v[:n]
}

// Run solves one case and leaves the answer in the workspace, for Flow,
// Pressure and Snapshot. The result is the status; anything but Converged
// must not be used.
func (s *Solver) Run(ctx context.Context, c *Case) Status {
	if s.n.web != nil {
		return s.general(ctx, c, false)
	}
	if c.Off != nil {
		return s.again(ctx, c) // the tree's own way knows no fan that stands still
	}
	s.g = nil
	s.run = *c
	s.m = s.n.mover(c)
	s.activate(c)
	s.guess(c)
	s.status = s.iterate(ctx)
	if s.status == Converged && s.Total() < s.n.rise[c.Collector] {
		s.status = s.climb(ctx)
	}
	if s.status == Stalled || s.status == IterationLimit {
		return s.again(ctx, c)
	}
	return s.status
}

// again solves a tree by the general solver, which knows more ways to an end.
func (s *Solver) again(ctx context.Context, c *Case) Status {
	if s.rescue == nil {
		n, err := compile(s.n.spec, true)
		if err != nil {
			return s.status // cannot be: the tree compiled
		}
		s.rescue = newGeneral(n, &s.set)
	}
	own := s.status
	s.g = s.rescue
	if s.general(ctx, c, false); s.status.OK() || s.status == Interrupted {
		return s.status
	}
	// The tree's own last point stands, with its own word for the end.
	s.g, s.status = nil, own
	s.merit(s.q, s.p, s.in)
	return own
}

// Again is Run from the answer of the Run before instead of a first guess. It
// pays where little has changed: another filter state, fan speed or variant of
// the same shop with the same openings. Where the openings differ, or the last
// answer cannot be used, it is Run.
func (s *Solver) Again(ctx context.Context, c *Case) Status {
	if s.n.web != nil {
		return s.general(ctx, c, s.status == Converged)
	}
	same := s.g == nil && s.status == Converged && s.run.Collector == c.Collector && c.Off == nil && slices.Equal(s.run.Open, c.Open) &&
		slices.Equal(s.run.Gates, c.Gates)
	if !same {
		return s.Run(ctx, c)
	}
	s.run = *c
	s.m = s.n.mover(c)
	root := s.p[len(s.p)-1]
	for _, i := range s.order {
		s.p[i] -= root
	}
	s.throttle()
	if s.status = s.iterate(ctx); s.status != Converged || s.Total() < s.n.rise[c.Collector] {
		return s.Run(ctx, c)
	}
	return s.status
}

// general is Run and Again of a network that is no tree.
func (s *Solver) general(ctx context.Context, c *Case, again bool) Status {
	s.run = *c
	s.status = s.g.run(ctx, c, again)
	s.iterations = s.g.solver.Iterations()
	s.worst, s.worstNode, s.mass = s.g.solver.Residual()
	return s.status
}

// activate lists the nodes through which air can flow: those with an opening
// upstream, unless a gate shuts them off tight from the collector.
func (s *Solver) activate(c *Case) {
	n := s.n
	open := s.sum // reused as "something open upstream"
	last := len(n.parent) - 1
	for i := range n.parent {
		s.active[i], open[i], s.gateR[i] = i == last, 0, 0
	}
	for i, up := range n.parent {
		for _, k := range n.inletsAt[i] {
			if c.Open[k] {
				open[i], s.active[i] = 1, true
			}
		}
		for _, k := range n.leaksAt[i] {
			if l := &n.leaks[k]; l.whenShut < 0 || !c.Open[l.whenShut] {
				s.active[i] = true
			}
		}
		if up < 0 {
			break
		}
		if r := n.runOf[i]; r >= 0 && n.gates[r] > 0 && c.gateShut(r, open[i] > 0) {
			s.gateR[i] = n.gates[r] // +Inf where it shuts tight
		}
		s.active[up] = s.active[up] || s.active[i]
		open[up] += open[i]
	}
	for i := last - 1; i >= 0; i-- {
		s.active[i] = s.active[i] && s.active[n.parent[i]] && !math.IsInf(s.gateR[i], 1)
	}
	s.order = s.order[:0]
	for i, active := range s.active {
		if active {
			s.order = append(s.order, i)
		}
	}
}

// guess fills a first point: every open port at one velocity, flows summed,
// pressures from the collector outward.
func (s *Solver) guess(c *Case) {
	n := s.n
	rho := float64(n.spec.Air.Density)
	for i := range n.parent {
		s.q[i], s.p[i] = 0, 0
	}
	total := 0.0
	for k := range n.inlets {
		s.in[k] = 0
		if c.Open[k] {
			area := math.Sqrt(rho / 2 / n.leaveC[n.inlets[k].node])
			s.in[k] = startVelocity * area
			total += s.in[k]
		}
	}
	scale := 1.0
	if _, hi := s.m.curve.Range(); s.m.fixed && total > 0 {
		scale = s.m.fixedFlow / total
	} else if hi > 0 && total > 0.7*hi {
		scale = 0.7 * hi / total
	}
	for _, i := range s.order {
		for _, k := range n.inletsAt[i] {
			s.in[k] *= scale
			s.q[i] += s.in[k]
		}
		if up := n.parent[i]; up >= 0 {
			s.q[up] += s.q[i]
		}
	}
	clear(s.roots)
	last := len(n.parent) - 1
	s.p[last] = 0
	for o := len(s.order) - 2; o >= 0; o-- {
		i := s.order[o]
		dp, _, _ := s.joint(i, s.q[i], s.q[n.parent[i]])
		if r := n.runOf[i]; r >= 0 {
			for k := range n.pieces[r] {
				dp += n.pieces[r][k].lossRough(s.q[i], n.spec.Friction, &s.roots[n.rootAt[r]+k])
			}
		}
		s.p[i] = s.p[n.parent[i]] + dp
	}
	s.throttle()
}

// throttle scales a guess, with its pressures above the collector's inlet, to
// the point at which the fan holds what the ways to the open inlets lose on
// average: losses go with the square of the flow.
func (s *Solver) throttle() {
	n := s.n
	total, lost, in := s.q[len(s.q)-1], 0.0, 0.0
	for k := range s.in {
		if s.in[k] > 0 {
			dp, _ := n.inletLoss(k, s.in[k])
			lost += s.in[k] * (s.p[n.inlets[k].node] + dp)
			in += s.in[k]
		}
	}
	by := 1.0
	if lost /= max(in, 1e-9); !s.m.fixed && lost > 0 && total > 0 {
		for range maxThrottle {
			h, dh := s.m.suction(by * total)
			step := (h - by*by*lost) / (2*by*lost - min(dh, 0)*total)
			by = min(2*by, max(by/2, by+step))
			if math.Abs(step) < 1e-3*by {
				break
			}
		}
	}
	h, _ := s.m.suction(by * total)
	if h = max(h, 1); s.m.fixed {
		h = max(lost, 1)
	}
	for _, i := range s.order {
		s.q[i] *= by
		s.p[i] = min(by*by*s.p[i]-h, -1)
	}
	for k := range s.in {
		s.in[k] *= by
	}
}

// link is the loss of a node's link, own pieces and joint, at its own flow
// and the flow of the common duct, with both slopes.
func (s *Solver) link(i int, q, qc float64) (dp, byQ, byC float64) {
	n := s.n
	if r := n.runOf[i]; r >= 0 {
		roots := s.roots[n.rootAt[r]:]
		for k := range n.pieces[r] {
			d, slope := n.pieces[r][k].lossNear(q, n.spec.Friction, &roots[k])
			dp += d
			byQ += slope
		}
	}
	if g := s.gateR[i]; g > 0 && q != 0 {
		dp += g * q * math.Abs(q)
		byQ += 2 * g * math.Abs(q)
	}
	byQ += creep
	d, bq, byC := s.joint(i, q, qc)
	return dp + d, byQ + bq, byC
}

// joint is what a node's link loses at the wye it enters, with the slopes by
// its own flow and by that of the common duct.
func (s *Solver) joint(i int, q, qc float64) (dp, byQ, byC float64) {
	l := &s.n.legs[i]
	if l.kind == legNone || qc <= 0 {
		return 0, 0, 0
	}
	x := q / qc
	if l.kind == legThrough {
		x = 1 - x
	}
	outside := x < 0 || x > 1
	x = max(0, min(1, x))
	var k, dk float64
	if l.kind == legBranch {
		k, dk = l.wye.Branch(x)
	} else {
		k, dk = l.wye.Through(x)
		dk = -dk // by the own share
	}
	if outside {
		dk = 0
	}
	return l.c * k * qc * qc, l.c * dk * qc, l.c * (2*k*qc - dk*q)
}

// inflow is what a leak lets in at a static pressure, with its slope by that
// pressure.
func (l *leakLaw) inflow(static, rho float64) (q, slope float64) {
	if l.surface > 0 {
		q, slope = loss.SurfaceLeak(l.surface, -static)
	} else {
		q, slope = loss.OrificeFlow(l.cd, l.area, -static, rho)
	}
	return q, -slope
}

// leaksAt sums the leaks of a node at total pressure p and leaving flow q.
func (s *Solver) leaksAt(i int, p, q float64) (sum, byP, byQ float64) {
	n := s.n
	if len(n.leaksAt[i]) == 0 {
		return 0, 0, 0
	}
	static := p - n.leaveC[i]*q*math.Abs(q)
	for _, k := range n.leaksAt[i] {
		l := &n.leaks[k]
		if l.whenShut >= 0 && s.run.Open[l.whenShut] {
			continue
		}
		dq, slope := l.inflow(static, float64(n.spec.Air.Density))
		sum += dq
		byP += slope
	}
	return sum, byP, -2 * byP * n.leaveC[i] * math.Abs(q)
}

func (n *Network) inletLoss(k int, q float64) (dp, slope float64) {
	r := n.inlets[k].r
	return r * q * math.Abs(q), 2*r*math.Abs(q) + creep
}
