package network

import (
	"context"
	"math"
	"slices"

	"wyewright/network/mesh"
)

// general solves networks that are no trees. Which way the air goes decides
// what each wye is: where it comes together or parts, and at which angle. So
// the network is solved as the file has the runs, the runs in which the air
// comes out backward are turned round, and it is solved again until every run
// carries its air the way its wyes are made for.
type general struct {
	base     *Network
	set      mesh.Settings
	variants map[string]*variant
	key      []byte
	now      *variant
	visited  []*variant
	// contrary says that no set of directions fits itself: the answer is the
	// one that misses by least.
	contrary   bool
	iterations int
}

// variant is the network with some runs turned round, and its solver.
type variant struct {
	n      *Network
	turned []bool
	net    mesh.Net
	solver *mesh.Solver
	mask   mesh.Mask
	gate   []float64 // closed resistance in force, per run
	movers []mover   // per collector
	inlets int       // link of the first opening
	miss   float64   // largest flow the wrong way in the last solve
}

const (
	// turnFlow is the flow below which a run counts as still, m³/s.
	turnFlow = 1e-8
	// maxTurns limits how often runs are turned round in one solve.
	maxTurns = 30
)

func newGeneral(n *Network, set *Settings) *general {
	g := &general{base: n, variants: map[string]*variant{}, key: make([]byte, len(n.spec.Runs)),
		set: mesh.Settings{PressureTol: set.PressureTol, MassTol: set.MassTol, MaxIterations: 2 * set.MaxIterations}}
	g.now = g.variant(make([]bool, len(n.spec.Runs)))
	return g
}

// variant returns the network with these runs turned round.
func (g *general) variant(turned []bool) *variant {
	for i, t := range turned {
		g.key[i] = '0'
		if t {
			g.key[i] = '1'
		}
	}
	if v, ok := g.variants[string(g.key)]; ok {
		return v
	}
	n := g.base
	if slices.Contains(turned, true) {
		var err error
		if n, err = compile(g.base.turn(turned), slices.Clone(turned), true); err != nil {
			panic("network: turned round: " + err.Error()) // the base compiled
		}
	}
	v := newVariant(n, &g.set)
	v.turned = slices.Clone(turned)
	g.variants[string(g.key)] = v
	return v
}

// turn returns the spec with these runs the other way round. Overrides stand
// on the last piece, which is then another one: they keep their pressure.
func (n *Network) turn(turned []bool) Spec {
	s := clone(n.spec)
	for i, t := range turned {
		if !t {
			continue
		}
		r := &s.Runs[i]
		r.From, r.To, r.Main = r.To, r.From, false
		r.Via = nil
		if path := n.routes[i].Path; len(path) > 2 {
			r.Via = slices.Clone(path[1 : len(path)-1])
			slices.Reverse(r.Via)
		}
		first, last := circle(r.Pieces[0].Diameter), circle(lastPiece(r).Diameter)
		slices.Reverse(r.Pieces)
		scale := func(k *float64) *float64 {
			if k == nil {
				return nil
			}
			return Override(*k * (first / last) * (first / last))
		}
		r.K = Overrides{scale(r.K.Bends), scale(r.K.Junction), scale(r.K.Steps)}
	}
	return s
}

// newVariant lays the network out for the mesh.
func newVariant(n *Network, set *mesh.Settings) *variant {
	w := n.web
	v := &variant{n: n, gate: make([]float64, len(n.spec.Runs)), movers: make([]mover, len(n.spec.Collectors))}
	v.net.Nodes = w.nodes
	for i := range w.from {
		link := mesh.Link{From: w.from[i], To: w.to[i]}
		switch {
		case i < len(n.spec.Runs):
			link.Law = &runLaw{n.pieces[i], n.spec.Friction, &v.gate[i]}
			link.Guess = startVelocity * n.pieces[i][0].area
		case i < w.inner:
			link.Law = &v.movers[slices.Index(w.fans, i)]
		default:
			link.Law = still{}
		}
		v.net.Links = append(v.net.Links, link)
	}
	v.inlets = len(v.net.Links)
	for i := range n.inlets {
		in := &n.inlets[i]
		v.net.Links = append(v.net.Links, mesh.Link{From: mesh.Room, To: in.node, Law: in, Guess: 0.1})
	}
	for i, j := range w.joints {
		if l := &n.legs[i]; l.kind != legNone {
			v.net.Pairs = append(v.net.Pairs, mesh.Pair{Link: j.link, Common: j.common, Law: l})
		}
	}
	rho := float64(n.spec.Air.Density)
	for i := range n.leaks {
		l := &n.leaks[i]
		p := l.point
		v.net.Seeps = append(v.net.Seeps, mesh.Seep{Node: l.node, Link: w.leaving[p], C: n.leaveC[p], Law: seep{l, rho}})
	}
	v.net.Demand = make([]float64, w.nodes)
	v.mask = mesh.Mask{Links: make([]bool, len(v.net.Links)), Seeps: make([]bool, len(n.leaks))}
	v.solver = mesh.NewSolver(&v.net, set)
	return v
}

// prepare puts a case into force.
func (v *variant) prepare(base *Network, c *Case) {
	n, w := v.n, v.n.web
	for i := range v.mask.Links {
		v.mask.Links[i] = true
	}
	for r := range n.spec.Runs {
		v.gate[r] = 0
		if n.gates[r] > 0 && c.gateShut(r, base.openUpstream(r, c)) {
			if v.gate[r] = n.gates[r]; math.IsInf(v.gate[r], 1) {
				v.gate[r], v.mask.Links[r] = 0, false
			}
		}
	}
	for i := range n.inlets {
		v.mask.Links[v.inlets+i] = c.Open[i]
	}
	for i := range n.leaks {
		l := &n.leaks[i]
		v.mask.Seeps[i] = l.whenShut < 0 || !c.Open[l.whenShut]
	}
	clear(v.net.Demand)
	for i := range n.spec.Collectors {
		if slices.Index(n.homes, n.homes[i]) != i {
			continue
		}
		link := w.fans[i]
		k := n.inPlace(c, i)
		if v.mask.Links[link] = k >= 0; k < 0 {
			continue
		}
		v.movers[i] = n.moverOf(k, c.Filter)
		guess := v.movers[i].fixedFlow
		if _, hi := v.movers[i].curve.Range(); !v.movers[i].fixed {
			guess = 0.9 * hi
		} else {
			v.mask.Links[link] = false
			v.net.Demand[w.from[link]] = guess
		}
		v.net.Links[link].Guess = guess
	}
}

// openUpstream reports whether an opening is open from which air can come
// through a run, as the file has the runs.
func (n *Network) openUpstream(run int, c *Case) bool {
	for i := range n.inlets {
		if c.Open[i] && slices.Contains(n.runsDown[i], run) {
			return true
		}
	}
	return false
}

// run solves a case; again starts from the answer and directions before.
func (g *general) run(ctx context.Context, c *Case, again bool) Status {
	g.contrary, g.iterations = false, 0
	g.visited = g.visited[:0]
	if !again {
		g.now = g.variant(make([]bool, len(g.base.spec.Runs)))
	}
	v := g.now
	for range maxTurns {
		v.prepare(g.base, c)
		solve := (*mesh.Solver).Run
		if again && len(g.visited) == 0 {
			solve = (*mesh.Solver).Again
		}
		status := solve(v.solver, ctx, v.mask)
		g.now = v
		g.iterations += v.solver.Iterations()
		if !status.OK() {
			return status
		}
		g.visited = append(g.visited, v)
		turned := v.backward()
		if v.miss == 0 {
			return status
		}
		if v = g.variant(turned); slices.Contains(g.visited, v) {
			break
		}
	}
	// The directions go in a circle: the least miss stands.
	g.contrary = true
	for _, o := range g.visited {
		if o.miss < g.now.miss {
			g.now = o
		}
	}
	g.now.prepare(g.base, c)
	status := g.now.solver.Run(ctx, g.now.mask)
	g.now.backward()
	return status
}

// backward notes the largest flow against a run's direction and returns which
// runs would have to be turned, as the file has them.
func (v *variant) backward() []bool {
	v.miss = 0
	for r := range v.n.spec.Runs {
		v.miss = max(v.miss, -v.solver.Flow(r))
	}
	if v.miss <= turnFlow {
		v.miss = 0
		return nil
	}
	out := slices.Clone(v.turned)
	for r := range out {
		if v.solver.Flow(r) < -turnFlow {
			out[r] = !out[r]
		}
	}
	return out
}

// flow is a run's flow the way the file has it, m³/s.
func (g *general) flow(run int) float64 {
	q := g.now.solver.Flow(run)
	if g.now.turned[run] {
		q = -q
	}
	return q
}

// inlet is the flow of an opening, m³/s.
func (g *general) inlet(k int) float64 { return g.now.solver.Flow(g.now.inlets + k) }

// fan is the flow and total suction at the point of a collector.
func (g *general) fan(i int) (q, suction float64) {
	v := g.now
	link := v.n.web.fans[i]
	at := v.n.web.from[link]
	p, _ := v.solver.Pressure(at)
	return v.solver.Flow(link) + v.net.Demand[at], -p
}
