package network

import (
	"math"
	"slices"

	"wyewright/network/units"
)

// fill copies the answer of the general solver into a Solution: everything but
// openings and collectors.
func (g *general) fill(sol *Solution, c *Case) {
	v, n := g.now, g.base
	sol.Contrary, sol.Unsteady = g.contrary, sol.Status.OK() && !v.solver.Stable()
	sol.up = g.upstream(c)
	for r := range n.spec.Runs {
		q := g.flow(r)
		lo, hi := n.areas(r)
		sol.Runs[r] = RunResult{Flow: units.Flow(q), Slow: units.Velocity(q / hi), Fast: units.Velocity(q / lo)}
		for _, k := range c.Running {
			sol.Runs[r].Dust = sol.Runs[r].Dust || sol.up[r][k]
		}
		v.lose(r, &sol.Runs[r])
	}
	for p := range n.spec.Points {
		total, ok := v.solver.Pressure(v.n.web.own[p])
		if !ok {
			continue // shut off: as the room
		}
		q := 0.0
		if link := v.n.web.leaving[p]; link >= 0 {
			q = v.solver.Flow(link)
		}
		sol.Points[p].Total = units.Pressure(total)
		sol.Points[p].Static = units.Pressure(total - v.n.leaveC[p]*q*math.Abs(q))
	}
	for k := range v.n.leaks {
		l, q := &v.n.leaks[k], units.Flow(v.solver.SeepFlow(k))
		if l.spec >= 0 {
			sol.Leaks[l.spec].Flow = q
		}
		sol.Points[l.point].Leak += q
		sol.Collector.Leakage += q
	}
	sol.Parting = v.parting()
}

// lose fills what a run loses, in the direction of its air: its wyes at both
// ends, and the whole.
func (v *variant) lose(r int, out *RunResult) {
	junction, w := 0.0, v.n.web
	for i, j := range w.joints {
		if j.link == r {
			dp, _, _ := v.n.legs[i].Loss(v.solver.Flow(r), v.solver.Flow(j.common))
			junction += dp
		}
	}
	own, _ := v.net.Links[r].Law.Loss(v.solver.Flow(r))
	out.Junction, out.Loss = units.Pressure(junction), units.Pressure(own+junction)
}

// parting lists the points with a wye that has no coefficient held against
// measurements: air parts there, or runs against the wye.
func (v *variant) parting() []string {
	var out []string
	for _, j := range v.n.web.joints {
		jt := &v.n.joints[j.joint]
		against := jt.Branch >= 0 && v.n.jointWith(j.joint, 0).WyeDegrees == 90 && v.n.isTurned(jt)
		if (j.splits || against) && math.Abs(v.solver.Flow(j.link)) > turnFlow && !slices.Contains(out, jt.Point) {
			out = append(out, jt.Point)
		}
	}
	return out
}

// isTurned reports whether a run at a joint goes against the file.
func (n *Network) isTurned(j *Joint) bool {
	return slices.ContainsFunc([]int{j.Main, j.Branch, j.Common}, func(r int) bool {
		return r >= 0 && n.turned != nil && n.turned[r]
	})
}

// upstream marks, per run, the tools whose air it carries: it follows the air
// from each running tool's ports.
func (g *general) upstream(c *Case) [][]bool {
	n := g.base
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
				if g.flow(r) > turnFlow {
					leave(r, n.to[r])
				}
			}
			for _, r := range n.in[p] {
				if g.flow(r) < -turnFlow {
					leave(r, n.from[r])
				}
			}
		}
	}
	return out
}

// linkName names a link of the mesh.
func (g *general) linkName(i int) string {
	n, w := g.now.n, g.now.n.web
	switch {
	case i < len(n.spec.Runs):
		return n.spec.Runs[i].ID
	case i < w.inner:
		return n.spec.Collectors[slices.Index(w.fans, i)].ID
	case i >= g.now.inlets:
		return n.spec.Points[n.inlets[i-g.now.inlets].point].ID
	}
	for _, j := range w.joints {
		if j.link == i || j.common == i {
			return n.joints[j.joint].Point
		}
	}
	return ""
}
