package network

import (
	"context"
	"math"
	"slices"

	"wyewright/network/units"
)

// Solution is the answer of one solve. Flows count toward the collector;
// pressures are gauge against the room.
type Solution struct {
	State      State
	Status     Status
	Iterations int
	// Residual and Mass are the largest pressure and mass residual, Pa and
	// m³/s; Worst names the run that has the first.
	Residual, Mass float64
	Worst          string

	Runs   []RunResult
	Points []PointResult
	Tools  []ToolResult
	Leaks  []LeakResult
	// Bleeds holds the flow of each bleed, open or shut.
	Bleeds []units.Flow
	// Collector is that of the case, Collectors are all that run.
	Collector  CollectorResult
	Collectors []CollectorResult
	// Unsteady says that the fans would not stay at this point. Parting names
	// the points at which the air parts or runs against its wye: the
	// coefficients there were not held against measurements.
	Unsteady bool
	Parting  []string

	// up marks the tools whose air each run carries, in a network that is no
	// tree.
	up [][]bool
}

// RunResult is one run of a Solution.
type RunResult struct {
	Flow units.Flow
	// Slow and Fast are the velocities in the widest and narrowest piece.
	Slow, Fast units.Velocity
	// Loss is the drop of total pressure over the run and its end; Junction
	// is the part lost at the wye it enters (negative where the other stream
	// drives it).
	Loss, Junction units.Pressure
	// Start and End are what is lost at the wyes of its two ends, the later
	// ones of a point included, in the direction of the file; only in a
	// network that is no tree.
	Start, End units.Pressure
	// Dust says that a running tool lies upstream.
	Dust bool
}

// PointResult is one point of a Solution.
type PointResult struct {
	Total, Static units.Pressure
	// Leak is the air that enters by leaks and closed gates at the point.
	Leak units.Flow
}

// ToolResult is one tool of a Solution.
type ToolResult struct {
	Running, Open bool
	Flow          units.Flow
	Ports         []units.Flow
}

// LeakResult is the inflow of one leak of the Spec.
type LeakResult struct{ Flow units.Flow }

// CollectorResult is the fan side.
type CollectorResult struct {
	// Collector is the index into Spec.Collectors.
	Collector int
	ID        string
	Flow      units.Flow
	// Total is the total suction at the inlet, Static the suction a gauge on
	// the inlet's wall shows.
	Total, Static units.Pressure
	// Filter is what the filter takes beyond what the curve includes.
	Filter units.Pressure
	// Curve is the pressure of the curve at this flow, before filter and
	// separator.
	Curve units.Pressure
	// Beyond says that the flow lies past the last point of the curve; Hump
	// that the curve rises somewhere.
	Beyond, Hump bool
	// Rising says that the curve rises at this flow: the fan may surge there.
	Rising bool
	// Leakage is the air that entered by leaks and closed gates.
	Leakage units.Flow
}

// Network returns the solver's network.
func (s *Solver) Network() *Network { return s.n }

// Status of the last Run.
func (s *Solver) Status() Status { return s.status }

// RunFlow is the flow of a run in the last Run, m³/s.
func (s *Solver) RunFlow(run int) float64 {
	if s.g != nil {
		return s.g.solver.Flow(run)
	}
	if i := s.n.runNode[run]; s.active[i] {
		return s.q[i]
	}
	return 0
}

// ToolFlow is the flow of a tool over all its ports, m³/s.
func (s *Solver) ToolFlow(tool int) float64 {
	sum := 0.0
	for k := range s.n.inlets {
		if s.n.inlets[k].tool == tool {
			sum += s.inletFlow(k)
		}
	}
	return sum
}

// inletFlow is the flow of an opening, m³/s.
func (s *Solver) inletFlow(k int) float64 {
	if s.g != nil {
		return s.g.inlet(k)
	}
	if s.run.Open[k] && s.active[s.n.inlets[k].node] {
		return s.in[k]
	}
	return 0
}

// Total is the flow at the case's collector, m³/s.
func (s *Solver) Total() float64 {
	q, _ := s.fan(s.run.Collector)
	return q
}

// TotalSuction is the total suction at that collector's inlet, Pa.
func (s *Solver) TotalSuction() float64 {
	_, h := s.fan(s.run.Collector)
	return h
}

// fan is the flow and the total suction at the inlet of a collector that runs.
func (s *Solver) fan(collector int) (q, suction float64) {
	if s.g != nil {
		return s.g.fan(collector)
	}
	return s.q[len(s.q)-1], -s.p[len(s.p)-1]
}

// Solve solves a state once, with the collector that the state names. A solve
// that does not converge returns the partial Solution and a
// *ConvergenceError.
func Solve(ctx context.Context, n *Network, st State) (*Solution, error) {
	for i := range n.spec.Collectors {
		if i > 0 && n.spec.Collectors[i].ID == st.Collector {
			n = n.WithCollector(i)
			break
		}
	}
	return NewSolver(n, nil).Solve(ctx, st)
}

// Solve resolves and solves a state and returns the full answer.
func (s *Solver) Solve(ctx context.Context, st State) (*Solution, error) {
	c, err := s.n.Case(st)
	if err != nil {
		return nil, err
	}
	sol, err := s.answer(ctx, c)
	sol.State = st
	return sol, err
}

// answer runs a case and copies the workspace.
func (s *Solver) answer(ctx context.Context, c *Case) (*Solution, error) {
	s.Run(ctx, c)
	sol := s.Snapshot(c)
	if !s.status.OK() {
		return sol, &ConvergenceError{State: c.Name, Status: s.status, Iterations: s.iterations,
			Pressure: s.worst, Mass: s.mass, Worst: sol.Worst}
	}
	return sol, nil
}

// Snapshot copies the workspace into a Solution. c is the case of the last
// Run.
func (s *Solver) Snapshot(c *Case) *Solution {
	n := s.n
	sol := &Solution{Status: s.status, Iterations: s.iterations, Residual: s.worst, Mass: s.mass,
		Worst:  s.worstName(),
		Runs:   make([]RunResult, len(n.spec.Runs)),
		Points: make([]PointResult, len(n.spec.Points)),
		Tools:  make([]ToolResult, len(n.spec.Tools)),
		Leaks:  make([]LeakResult, len(n.spec.Leaks)),
		Bleeds: make([]units.Flow, len(n.spec.Bleeds)),
	}
	if s.g != nil {
		s.g.fill(sol, c)
		s.openings(c, sol)
		s.collectors(c, sol)
		return sol
	}
	s.fillStill()
	for i := range n.spec.Runs {
		sol.Runs[i] = s.runResult(i, c)
	}
	for p := range n.spec.Points {
		if i := n.pointNode[p]; i >= 0 {
			q := s.flowAt(i)
			sol.Points[p].Total = units.Pressure(s.p[i])
			sol.Points[p].Static = units.Pressure(s.p[i] - n.leaveC[i]*q*math.Abs(q))
		}
	}
	s.openings(c, sol)
	s.leaks(c, sol)
	s.collectors(c, sol)
	return sol
}

// worstName names the run with the largest residual, or its point.
func (s *Solver) worstName() string {
	n, i := s.n, s.worstNode
	if s.g != nil {
		return s.g.linkName(i)
	}
	if r := n.runOf[i]; r >= 0 {
		return n.spec.Runs[r].ID
	}
	return n.spec.Points[n.nodePoint[i]].ID
}

func (s *Solver) flowAt(i int) float64 {
	if s.active[i] {
		return s.q[i]
	}
	return 0
}

// fillStill gives the nodes without flow the pressure of the duct they hang
// on, with what a still leg sees at its joint.
func (s *Solver) fillStill() {
	n := s.n
	for i := len(n.parent) - 2; i >= 0; i-- {
		if !s.active[i] {
			dp, _, _ := s.link(i, 0, s.flowAt(n.parent[i]))
			s.p[i] = s.p[n.parent[i]] + dp
		}
	}
}

func (s *Solver) runResult(run int, c *Case) RunResult {
	n := s.n
	i := n.runNode[run]
	q := s.flowAt(i)
	dp, _, _ := s.link(i, q, s.flowAt(n.parent[i]))
	own, _, _ := s.link(i, q, 0)
	lo, hi := n.areas(run)
	return RunResult{Flow: units.Flow(q), Slow: units.Velocity(q / hi), Fast: units.Velocity(q / lo),
		Loss: units.Pressure(dp), Junction: units.Pressure(dp - own), Dust: n.CarriesDust(c, run)}
}

// areas are the smallest and largest area of a run's pieces, m².
func (n *Network) areas(run int) (lo, hi float64) {
	lo = math.Inf(1)
	for i := range n.pieces[run] {
		lo, hi = min(lo, n.pieces[run][i].area), max(hi, n.pieces[run][i].area)
	}
	return lo, hi
}

// openings fills tools, bleeds and leaks.
func (s *Solver) openings(c *Case, sol *Solution) {
	n := s.n
	for k := range n.spec.Tools {
		sol.Tools[k].Ports = make([]units.Flow, len(n.spec.Tools[k].Ports))
	}
	for _, k := range c.Running {
		sol.Tools[k].Running = true
	}
	for k := range n.inlets {
		in := &n.inlets[k]
		q := s.inletFlow(k)
		if in.tool >= 0 {
			t := &sol.Tools[in.tool]
			t.Open = t.Open || c.Open[k]
			t.Ports[in.port] = units.Flow(q)
			t.Flow += units.Flow(q)
		} else {
			sol.Bleeds[in.bleed] = units.Flow(q)
		}
	}
}

// leaks fills what enters by leaks, seams and shut gates.
func (s *Solver) leaks(c *Case, sol *Solution) {
	n := s.n
	for k := range n.leaks {
		l := &n.leaks[k]
		if l.whenShut >= 0 && c.Open[l.whenShut] {
			continue
		}
		i := l.node
		q := s.flowAt(i)
		leak, _ := l.inflow(s.p[i]-n.leaveC[i]*q*math.Abs(q), float64(n.spec.Air.Density))
		if !s.active[i] {
			leak = 0
		}
		if l.spec >= 0 {
			sol.Leaks[l.spec].Flow = units.Flow(leak)
		}
		sol.Points[n.nodePoint[i]].Leak += units.Flow(leak)
		sol.Collector.Leakage += units.Flow(leak)
	}
}

// collectors fills the fan side of every collector that runs; that of the case
// is also Solution.Collector.
func (s *Solver) collectors(c *Case, sol *Solution) {
	n := s.n
	for i := range n.spec.Collectors {
		if slices.Index(n.homes, n.homes[i]) != i {
			continue
		}
		k := n.inPlace(c, i)
		if k < 0 {
			continue
		}
		out := s.collector(k, c.Filter)
		sol.Collectors = append(sol.Collectors, out)
		if k == c.Collector || len(sol.Collectors) == 1 {
			leakage := sol.Collector.Leakage
			sol.Collector = out
			sol.Collector.Leakage = leakage
		}
	}
}

func (s *Solver) collector(k int, filter FilterState) CollectorResult {
	n := s.n
	col := &n.spec.Collectors[k]
	q, h := s.fan(k)
	out := CollectorResult{Collector: k, ID: col.ID, Flow: units.Flow(q), Total: units.Pressure(h)}
	a := circle(col.Inlet)
	out.Static = out.Total + units.Pressure(float64(n.spec.Air.Density)/2*q/a*q/a)
	out.Filter = units.Pressure(n.moverOf(k, filter).linear * q)
	p, slope := col.Curve.Pressure(q)
	out.Curve = units.Pressure(p)
	out.Rising = slope > 0
	if t, ok := col.Curve.(interface {
		Beyond(float64) bool
		Humps() bool
	}); ok {
		out.Beyond, out.Hump = t.Beyond(q), t.Humps()
	}
	return out
}
