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
	w := g.n.web
	start, end := g.wyes(r)
	own, _ := g.net.Links[r].Law.Loss(g.solver.Flow(r))
	out.Junction, out.Loss = units.Pressure(start+end), units.Pressure(own+start+end)
	at := func(node int) float64 {
		p, _ := g.solver.Pressure(node)
		return p
	}
	out.Start = units.Pressure(start + at(w.own[g.n.from[r]]) - at(w.from[r]))
	out.End = units.Pressure(end + at(w.to[r]) - at(w.own[g.n.to[r]]))
}

// wyes is what a link loses at the joints of its two ends.
func (g *general) wyes(link int) (start, end float64) {
	for i := range g.net.Pairs {
		p := &g.net.Pairs[i]
		if p.Link != link {
			continue
		}
		by := 1.0
		if p.Back {
			by = -1
		}
		dp, _, _ := p.Law.Loss(by*g.solver.Flow(link), by*g.solver.Flow(p.Common))
		if p.Back { // the file has the air part there: at its start
			start += by * dp
		} else {
			end += dp
		}
	}
	return start, end
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
	// Where an opening of the point alone feeds several runs nothing is known
	// of the parting.
	for p := range g.n.spec.Points {
		leaving := 0
		for _, r := range g.n.outs[p] {
			if g.solver.Flow(r) > stillFlow {
				leaving++
			}
		}
		if id := g.n.spec.Points[p].ID; len(g.n.in[p]) == 0 && leaving > 1 && !slices.Contains(out, id) {
			out = append(out, id)
		}
	}
	return out
}

// leastShare is the share of a tool's air from which on a run counts as
// carrying its dust (our choice: what strays round a ring by the way is not
// worth a verdict).
const leastShare = 0.01

// sharePasses bounds how often shares are handed on: as often as the air passes
// points, and a few times round a loop in which it turns.
const sharePasses = 200

// upstream marks, per run, the tools whose air it carries. The air of each
// running tool is followed from its ports; where it parts, it parts like the
// flow.
func (g *general) upstream(c *Case) [][]bool {
	n := g.n
	out := make([][]bool, len(n.spec.Runs))
	for r := range out {
		out[r] = make([]bool, len(n.spec.Tools))
	}
	// leave is what flows out of each point, fans included.
	leave := make([]float64, len(n.spec.Points))
	for i := range n.spec.Collectors {
		if slices.Index(n.homes, n.homes[i]) == i {
			q, _ := g.fan(i)
			leave[n.homes[i]] += max(0, q)
		}
	}
	for r := range n.spec.Runs {
		q := g.solver.Flow(r)
		leave[n.upEnd(r, q)] += math.Abs(q)
	}
	for _, k := range c.Running {
		for r, share := range g.shares(k, leave) {
			out[r][k] = share >= leastShare
		}
	}
	return out
}

// upEnd is the point from which a run's air comes.
func (n *Network) upEnd(run int, q float64) int {
	if q < 0 {
		return n.to[run]
	}
	return n.from[run]
}

// shares is the share of a tool's air that each run carries.
func (g *general) shares(tool int, leave []float64) []float64 {
	n := g.n
	source := make([]float64, len(n.spec.Points))
	total := 0.0
	for k := range n.inlets {
		if in := &n.inlets[k]; in.tool == tool {
			q := max(0, g.inlet(k))
			source[in.point] += q
			total += q
		}
	}
	run := make([]float64, len(n.spec.Runs))
	if total == 0 {
		return run
	}
	at := make([]float64, len(n.spec.Points))
	for range sharePasses {
		copy(at, source)
		for r := range run {
			q := g.solver.Flow(r)
			at[n.upEnd(r, -q)] += run[r] * total
		}
		most := 0.0
		for r := range run {
			q := g.solver.Flow(r)
			if p := n.upEnd(r, q); leave[p] > 0 {
				now := at[p] * math.Abs(q) / leave[p] / total
				most = max(most, math.Abs(now-run[r]))
				run[r] = now
			}
		}
		if most < leastShare/1000 {
			break
		}
	}
	return run
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
