package mesh

import (
	"cmp"
	"context"
	"math"
)

// Settings of a solver; nil and zero fields mean the defaults.
type Settings struct {
	// PressureTol is the largest pressure residual, Pa (default 1e-6).
	PressureTol float64
	// MassTol is the largest residual of flow, m³/s (default 1e-11).
	MassTol float64
	// MaxIterations limits the Newton steps (default 200; 100 on a tree).
	MaxIterations int
}

const (
	// DefaultPressureTol and DefaultMassTol are far below any meter and above
	// rounding, Pa and m³/s.
	DefaultPressureTol = 1e-6
	DefaultMassTol     = 1e-11
	defaultIterations  = 200

	// creep is added to the slope of every link, Pa/(m³/s), so that a step
	// exists at rest; the residuals know nothing of it.
	creep = 1e-6
	// pressureScale and massScale make the residuals comparable in the merit.
	pressureScale, massScale = 100.0, 0.01
	// maxHalvings of the step in one line search.
	maxHalvings = 30
	// maxPolish steps toward the end of a flow that has nearly settled.
	maxPolish = 15
	// leastFall is the pressure that stands for the inertia of a link that
	// loses nothing, Pa.
	leastFall = 100.0
	// usualGuess is the flow for the first point where a link names none.
	usualGuess = 0.1
)

// Or returns the settings with defaults in place of zeros; nil is all defaults.
func (s *Settings) Or(iterations int) Settings {
	out := Settings{}
	if s != nil {
		out = *s
	}
	return Settings{cmp.Or(out.PressureTol, DefaultPressureTol), cmp.Or(out.MassTol, DefaultMassTol), cmp.Or(out.MaxIterations, iterations)}
}

// Solver is the reusable workspace of one goroutine. It allocates nothing
// after it is made.
type Solver struct {
	net *Net
	set Settings
	mat *matrix
	// Places of the values of the matrix.
	own           []slot // per link: its own slope
	fromAt, toAt  []slot // per link: row link, column node
	fromOf, toOf  []slot // per link: row node, column link
	pairAt        []slot // per pair: row link, column common
	seepP, seepQ  []slot // per seep: row node, columns node and link
	node          []slot // per node: the diagonal
	mask          Mask
	live          []bool // links and nodes that air can reach, links first
	queue         []int32
	q, p, tq, tp  []float64
	q0, p0        []float64 // where polish set out
	q1, p1        []float64 // an answer that cannot last, if spare
	spare         bool
	fall, slope   []float64 // per link at the last point
	inertia       []float64 // per link, as the slope of its straight line
	byC           []float64 // per pair
	seepBy        []float64 // per seep: slope by static pressure
	net1          []float64 // per node: what flows out and does not come in
	x             []float64
	iterations    int
	status        Status
	worst, mass   float64
	worstLink     int
	links         [][]int32 // per node
	stable, asked bool      // Stable's answer, and whether it was asked for
}

// NewSolver orders the network and makes the workspace. set may be nil.
func NewSolver(n *Net, set *Settings) *Solver {
	s := &Solver{net: n, set: set.Or(defaultIterations)}
	l := len(n.Links)
	s.mat = newMatrix(newPattern(l+n.Nodes, l, n.joined()))
	s.places()
	s.links = make([][]int32, n.Nodes)
	for i := range n.Links {
		for _, at := range [2]int{n.Links[i].From, n.Links[i].To} {
			if at != Room {
				s.links[at] = append(s.links[at], int32(i))
			}
		}
	}
	vectors := func(size int, to ...*[]float64) {
		for _, v := range to {
			*v = make([]float64, size)
		}
	}
	vectors(l, &s.q, &s.tq, &s.q0, &s.q1, &s.fall, &s.slope, &s.inertia)
	vectors(n.Nodes, &s.p, &s.tp, &s.p0, &s.p1, &s.net1)
	vectors(len(n.Pairs), &s.byC)
	vectors(len(n.Seeps), &s.seepBy)
	vectors(l+n.Nodes, &s.x)
	s.live = make([]bool, l+n.Nodes)
	s.queue = make([]int32, 0, n.Nodes)
	return s
}

// joined lists the pairs of unknowns that share an equation: links first, then
// nodes.
func (n *Net) joined() [][2]int {
	var out [][2]int
	l := len(n.Links)
	for i := range n.Links {
		for _, at := range [2]int{n.Links[i].From, n.Links[i].To} {
			if at != Room {
				out = append(out, [2]int{i, l + at})
			}
		}
	}
	for _, p := range n.Pairs {
		out = append(out, [2]int{p.Link, p.Common})
	}
	for _, s := range n.Seeps {
		if s.Link != Room {
			out = append(out, [2]int{l + s.Node, s.Link})
		}
	}
	return out
}

// places finds the slots of everything the matrix holds.
func (s *Solver) places() {
	n, p, l := s.net, s.mat.pattern, len(s.net.Links)
	find := func(row, at int) (a, b slot) {
		if at == Room {
			return slot{}, slot{}
		}
		return p.slot(row, l+at), p.slot(l+at, row)
	}
	for i, link := range n.Links {
		s.own = append(s.own, p.slot(i, i))
		a, b := find(i, link.From)
		s.fromAt, s.fromOf = append(s.fromAt, a), append(s.fromOf, b)
		a, b = find(i, link.To)
		s.toAt, s.toOf = append(s.toAt, a), append(s.toOf, b)
	}
	for _, pair := range n.Pairs {
		s.pairAt = append(s.pairAt, p.slot(pair.Link, pair.Common))
	}
	for i := range n.Nodes {
		s.node = append(s.node, p.slot(l+i, l+i))
	}
	for _, seep := range n.Seeps {
		s.seepP = append(s.seepP, s.node[seep.Node])
		q := slot{}
		if seep.Link != Room {
			q = p.slot(l+seep.Node, seep.Link)
		}
		s.seepQ = append(s.seepQ, q)
	}
}

// Run solves from a first point of its own making: the network with every law
// replaced by a straight line through its usual flow.
func (s *Solver) Run(ctx context.Context, mask Mask) Status {
	s.mask = mask
	s.reach()
	s.start()
	return s.iterate(ctx)
}

// start makes the first point, and the inertia that goes with it.
func (s *Solver) start() {
	clear(s.q)
	clear(s.p)
	s.evaluate(s.q, s.p)
	for i := range s.net.Links {
		if s.live[i] {
			s.fall[i], s.slope[i] = s.chord(i)
		}
	}
	s.assemble(false, 0)
	s.mat.factor()
	s.direction()
	s.advance(1)
	s.accept()
}

// usual is the usual flow of a link.
func (l *Link) usual() float64 {
	if l.Guess == 0 {
		return usualGuess
	}
	return l.Guess
}

// chord is the straight line of a link's law through rest and its usual flow.
func (s *Solver) chord(i int) (fall, slope float64) {
	link := &s.net.Links[i]
	guess := link.usual()
	rest, _ := link.Law.Loss(0)
	at, _ := link.Law.Loss(guess)
	s.inertia[i] = max(math.Abs(at-rest), math.Abs(rest), leastFall) / guess
	return rest, max(creep, (at-rest)/guess)
}

// Again solves from the point of the last solve.
func (s *Solver) Again(ctx context.Context, mask Mask) Status {
	if s.status != Converged {
		return s.Run(ctx, mask)
	}
	s.mask = mask
	s.reach()
	return s.iterate(ctx)
}

// From solves from given flows and pressures.
func (s *Solver) From(ctx context.Context, mask Mask, flows, pressures []float64) Status {
	s.mask = mask
	s.reach()
	copy(s.q, flows)
	copy(s.p, pressures)
	return s.iterate(ctx)
}

// reach marks the nodes that air can reach from the room, and the links
// between such nodes.
func (s *Solver) reach() {
	n, l := s.net, len(s.net.Links)
	clear(s.live)
	s.queue = s.queue[:0]
	mark := func(at int) {
		if at != Room && !s.live[l+at] {
			s.live[l+at] = true
			s.queue = append(s.queue, int32(at))
		}
	}
	for i := range n.Links {
		if link := &n.Links[i]; s.mask.link(i) && (link.From == Room || link.To == Room) {
			s.live[i] = true
			mark(link.From)
			mark(link.To)
		}
	}
	for i := range n.Seeps {
		if s.mask.seep(i) {
			mark(n.Seeps[i].Node)
		}
	}
	for len(s.queue) > 0 {
		at := s.queue[len(s.queue)-1]
		s.queue = s.queue[:len(s.queue)-1]
		for _, i := range s.links[at] {
			if s.mask.link(int(i)) {
				s.live[i] = true
				mark(n.Links[i].From)
				mark(n.Links[i].To)
			}
		}
	}
	// What air no longer reaches keeps nothing of the solve before.
	for i := range s.q {
		if !s.live[i] {
			s.q[i] = 0
		}
	}
	for j := range s.p {
		if !s.live[l+j] {
			s.p[j] = 0
		}
	}
}

// Flow is the flow of a link in the last solve, m³/s.
func (s *Solver) Flow(link int) float64 {
	if !s.live[link] {
		return 0
	}
	return s.q[link]
}

// Pressure is the total pressure at a node in the last solve, Pa; ok is false
// where nothing open joins the node to the room.
func (s *Solver) Pressure(node int) (p float64, ok bool) {
	return s.p[node], s.live[len(s.q)+node]
}

// Status of the last solve.
func (s *Solver) Status() Status { return s.status }

// Iterations of the last solve.
func (s *Solver) Iterations() int { return s.iterations }

// Residual is the largest pressure residual, Pa, the link that has it, and the
// largest residual of flow at a node, m³/s.
func (s *Solver) Residual() (pressure float64, link int, mass float64) {
	return s.worst, s.worstLink, s.mass
}

// SeepFlow is the inflow of a leak in the last solve, m³/s.
func (s *Solver) SeepFlow(i int) float64 {
	seep := &s.net.Seeps[i]
	if !s.mask.seep(i) || !s.live[len(s.q)+seep.Node] {
		return 0
	}
	q, _ := seep.Law.Inflow(s.static(seep, s.q, s.p))
	return q
}

func (s *Solver) static(seep *Seep, q, p []float64) float64 {
	static := p[seep.Node]
	if seep.Link != Room {
		static -= seep.C * q[seep.Link] * math.Abs(q[seep.Link])
	}
	return static
}
