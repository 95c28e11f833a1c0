package network

import (
	"math"
	"slices"

	"wyewright/network/units"
)

// fill copies the answer of the general solver into a Solution: everything but
// openings and collectors.
func (g *general) fill(sol *Solution, c *Case) {
	n := g.n
	sol.Unsteady = sol.Status.OK() && !g.solver.Stable()
	sol.up = g.upstream(c)
	for r := range n.spec.Runs {
		q := g.solver.Flow(r)
		lo, hi := n.areas(r)
		sol.Runs[r] = RunResult{Flow: units.Flow(q), Slow: units.Velocity(q / hi), Fast: units.Velocity(q / lo)}
		for _, k := range c.Running {
			sol.Runs[r].Dust = sol.Runs[r].Dust || sol.up[r][k]
		}
		g.lose(r, &sol.Runs[r])
	}
	for p := range n.spec.Points {
		total, ok := g.solver.Pressure(n.web.own[p])
		if !ok {
			continue // shut off: as the room
		}
		q := 0.0
		if link := n.web.leaving[p]; link >= 0 {
			q = g.solver.Flow(link)
		}
		sol.Points[p].Total = units.Pressure(total)
		sol.Points[p].Static = units.Pressure(total - n.leaveC[p]*q*math.Abs(q))
	}
	for k := range n.leaks {
		l, q := &n.leaks[k], units.Flow(g.solver.SeepFlow(k))
		if l.spec >= 0 {
			sol.Leaks[l.spec].Flow = q
		}
		sol.Points[l.point].Leak += q
		sol.Collector.Leakage += q
	}
	sol.Parting = g.parting()
}

// lose fills what a run loses, in the direction of the file: its wyes at both
// ends, and the whole.
func (g *general) lose(r int, out *RunResult) {
	junction := 0.0
	for _, p := range g.net.Pairs {
		if p.Link == r {
			by := 1.0
			if p.Back {
				by = -1
			}
			dp, _, _ := p.Law.Loss(by*g.solver.Flow(r), by*g.solver.Flow(p.Common))
			junction += by * dp
		}
	}
	own, _ := g.net.Links[r].Law.Loss(g.solver.Flow(r))
	out.Junction, out.Loss = units.Pressure(junction), units.Pressure(own+junction)
}

// parting lists the points with a wye that does not run as it was made for.
func (g *general) parting() []string {
	var out []string
	for i, j := range g.n.web.joints {
		by := 1.0
		if j.splits {
			by = -1
		}
		at := g.n.joints[j.joint].Point
		if !g.n.tees[i].converging(by*g.solver.Flow(j.link), by*g.solver.Flow(j.common)) && !slices.Contains(out, at) {
			out = append(out, at)
		}
	}
	return out
}

// upstream marks, per run, the tools whose air it carries: it follows the air
// from each running tool's ports.
func (g *general) upstream(c *Case) [][]bool {
	n := g.n
	out := make([][]bool, len(n.spec.Runs))
	for r := range out {
		out[r] = make([]bool, len(n.spec.Tools))
	}
	for k := range n.inlets {
		in := &n.inlets[k]
		if in.tool < 0 || !slices.Contains(c.Running, in.tool) {
			continue
		}
		seen := make([]bool, len(n.spec.Points))
		seen[in.point] = true
		for todo := []int{in.point}; len(todo) > 0; {
			p := todo[0]
			todo = todo[1:]
			leave := func(r, to int) {
				out[r][in.tool] = true
				if !seen[to] {
					seen[to] = true
					todo = append(todo, to)
				}
			}
			for _, r := range n.outs[p] {
				if g.solver.Flow(r) > stillFlow {
					leave(r, n.to[r])
				}
			}
			for _, r := range n.in[p] {
				if g.solver.Flow(r) < -stillFlow {
					leave(r, n.from[r])
				}
			}
		}
	}
	return out
}

// linkName names a link of the mesh.
func (g *general) linkName(i int) string {
	n, w := g.n, g.n.web
	switch {
	case i < len(n.spec.Runs):
		return n.spec.Runs[i].ID
	case i < w.inner:
		return n.spec.Collectors[slices.Index(w.fans, i)].ID
	case i >= g.inlets:
		return n.spec.Points[n.inlets[i-g.inlets].point].ID
	}
	for _, j := range w.joints {
		if j.link == i || j.common == i {
			return n.joints[j.joint].Point
		}
	}
	return ""
}
