package network

import (
	"context"
	"math"
	"slices"

	"wyewright/network/mesh"
)

// general solves networks of any shape.
type general struct {
	n      *Network
	net    mesh.Net
	solver *mesh.Solver
	mask   mesh.Mask
	gate   []float64 // closed resistance in force, per run
	movers []mover   // per collector
	inlets int       // link of the first opening
	// The answer that climb sets out from, and the point it tries.
	kept, keptAt, flows, pressures []float64
}

// newGeneral lays a network out for the mesh.
func newGeneral(n *Network, set *Settings) *general {
	w := n.web
	g := &general{n: n, gate: make([]float64, len(n.spec.Runs)), movers: make([]mover, len(n.spec.Collectors))}
	g.net.Nodes = w.nodes
	for i := range w.from {
		link := mesh.Link{From: w.from[i], To: w.to[i]}
		switch {
		case i < len(n.spec.Runs):
			link.Law = &runLaw{n.pieces[i], make([]float64, len(n.pieces[i])), n.spec.Friction, &g.gate[i]}
			link.Guess = startVelocity * n.pieces[i][0].area
		case i < w.inner:
			link.Law = &g.movers[slices.Index(w.fans, i)]
		default:
			link.Law = still{}
		}
		g.net.Links = append(g.net.Links, link)
	}
	g.inlets = len(g.net.Links)
	for i := range n.inlets {
		in := &n.inlets[i]
		g.net.Links = append(g.net.Links, mesh.Link{From: mesh.Room, To: in.node, Law: in, Guess: 0.1})
	}
	for i, j := range w.joints {
		if t := &n.tees[i]; t.junction != nil {
			g.net.Pairs = append(g.net.Pairs, mesh.Pair{Link: j.link, Common: j.common, Back: j.splits, CommonBack: j.splits, Law: t})
		}
	}
	rho := float64(n.spec.Air.Density)
	for i := range n.leaks {
		l := &n.leaks[i]
		g.net.Seeps = append(g.net.Seeps, mesh.Seep{Node: l.node, Link: w.leaving[l.point], C: n.leaveC[l.point], Law: seep{l, rho}})
	}
	g.net.Demand = make([]float64, w.nodes)
	g.mask = mesh.Mask{Links: make([]bool, len(g.net.Links)), Seeps: make([]bool, len(n.leaks))}
	g.solver = mesh.NewSolver(&g.net, &mesh.Settings{PressureTol: set.PressureTol, MassTol: set.MassTol, MaxIterations: 2 * set.MaxIterations})
	return g
}

// prepare puts a case into force.
func (g *general) prepare(c *Case) {
	n, w := g.n, g.n.web
	for i := range g.mask.Links {
		g.mask.Links[i] = true
	}
	for r := range n.spec.Runs {
		g.gate[r] = 0
		if n.gates[r] > 0 && c.gateShut(r, n.openUpstream(r, c)) {
			if g.gate[r] = n.gates[r]; math.IsInf(g.gate[r], 1) {
				g.gate[r], g.mask.Links[r] = 0, false
			}
		}
	}
	for i := range n.inlets {
		g.mask.Links[g.inlets+i] = c.Open[i]
	}
	for i := range n.leaks {
		l := &n.leaks[i]
		g.mask.Seeps[i] = l.whenShut < 0 || !c.Open[l.whenShut]
	}
	clear(g.net.Demand)
	for i := range n.spec.Collectors {
		if slices.Index(n.homes, n.homes[i]) == i {
			g.fanLink(w.fans[i], i, n.inPlace(c, i), c.Filter)
		}
	}
}

// fanLink puts collector k into force at the point of collector i; a fixed flow
// is a demand, and k < 0 is a fan that stands still with its inlet shut.
func (g *general) fanLink(link, i, k int, filter FilterState) {
	if g.mask.Links[link] = k >= 0; k < 0 {
		return
	}
	g.movers[i] = g.n.moverOf(k, filter)
	m := &g.movers[i]
	guess := m.fixedFlow
	if m.fixed {
		g.mask.Links[link] = false
		g.net.Demand[g.n.web.from[link]] = guess
	} else {
		_, hi := m.curve.Range()
		guess = 0.9 * hi
	}
	g.net.Links[link].Guess = guess
}

// openUpstream reports whether an opening is open from which air can come
// through a run, as the file has the runs.
func (n *Network) openUpstream(run int, c *Case) bool {
	return slices.ContainsFunc(n.openingsUp[run], func(i int) bool { return c.Open[i] })
}

// run solves a case; again starts from the answer before.
func (g *general) run(ctx context.Context, c *Case, again bool) Status {
	g.prepare(c)
	var status Status
	if again {
		status = g.solver.Again(ctx, g.mask)
	} else {
		status = g.solver.Run(ctx, g.mask)
	}
	for i := range g.n.spec.Collectors {
		if slices.Index(g.n.homes, g.n.homes[i]) != i || !status.OK() {
			continue
		}
		if k := g.n.inPlace(c, i); k >= 0 && g.n.rise[k] > 0 {
			status = g.climb(ctx, i, g.n.rise[k])
		}
	}
	return status
}

// inlet is the flow of an opening, m³/s.
func (g *general) inlet(k int) float64 { return g.solver.Flow(g.inlets + k) }

// fan is the flow and total suction at the point of a collector.
func (g *general) fan(i int) (q, suction float64) {
	link := g.n.web.fans[i]
	at := g.n.web.from[link]
	p, _ := g.solver.Pressure(at)
	// What parts before the inlet, where runs leave the fan's point too, is
	// lost to the fan.
	start, end := g.wyes(link)
	return g.solver.Flow(link) + g.net.Demand[at], start + end - p
}
