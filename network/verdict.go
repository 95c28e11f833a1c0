package network

import (
	"context"
	"math"

	"wyewright/network/mesh"
	"wyewright/network/units"
)

// Limits are the rules a state is held against. The zero value asks for the
// tools' own flows and transport velocities only.
type Limits struct {
	// Margin is added to every required flow.
	Margin units.Ratio
	// Transport, if set, replaces the velocity of every dust class.
	Transport units.Velocity
	// Riser is added to the transport velocity of runs that are more than
	// 60 % vertical (common practice; 0 by default).
	Riser units.Ratio
	// Ceiling is the highest velocity in a duct; 0 means none.
	Ceiling units.Velocity
	// Ease, if set, lowers what is asked.
	Ease *Ease
}

// riserShare is the vertical share above which a run is a riser.
const riserShare = 0.6

// grid is the step on which ratios are compared, so that no verdict hangs on
// the last bits of a float.
const grid = 1e-6

// Meets reports whether a ratio of what is there to what is asked reaches 1
// on the grid.
func Meets(ratio float64) bool { return OnGrid(ratio) >= 1 }

// OnGrid rounds a ratio to the grid.
func OnGrid(ratio float64) float64 { return math.Round(ratio/grid) * grid }

// Verdict is a state held against Limits: "meets" or "misses the flow you
// set", nothing more.
type Verdict struct {
	State string
	Tools []ToolVerdict
	Dust  []RunVerdict
	// Fast lists runs above the ceiling (their ratio is ceiling/velocity).
	Fast []RunVerdict
	// Backward lists runs in which the air goes the wrong way: a strong
	// stream can blow a weak one back out of its tool.
	Backward []int
	// Blown lists collectors through which another one pulls air backward.
	Blown []int
	Motor MotorVerdict
}

// ToolVerdict is one running tool: Ratio = flow / required.
type ToolVerdict struct {
	Tool           int
	Flow, Required units.Flow
	Ratio          float64
}

// RunVerdict is one run: Ratio = velocity / limit, or limit / velocity where
// the limit is a ceiling.
type RunVerdict struct {
	Run             int
	Velocity, Limit units.Velocity
	Ratio           float64
}

// MotorVerdict holds a motor's load against its rating: of several, the one
// that is loaded most. Checked is false
// where the data do not allow it: never a pass.
type MotorVerdict struct {
	Checked      bool
	Load, Rating units.Power
}

// OK reports whether a motor is known to be within its rating.
func (m MotorVerdict) OK() bool { return m.Checked && m.Load <= m.Rating }

// Meets reports whether everything asked for holds; a motor that cannot be
// checked does not count against it.
func (v *Verdict) Meets() bool {
	return Meets(v.FlowRatio()) && Meets(v.DustRatio()) && len(v.Fast) == 0 && len(v.Backward) == 0 && len(v.Blown) == 0 &&
		(!v.Motor.Checked || v.Motor.OK())
}

// FlowRatio is the least flow / required (+Inf when nothing runs).
func (v *Verdict) FlowRatio() float64 {
	r := math.Inf(1)
	for i := range v.Tools {
		r = min(r, v.Tools[i].Ratio)
	}
	return r
}

// DustRatio is the least velocity / transport velocity of a run that carries
// dust (+Inf when none does).
func (v *Verdict) DustRatio() float64 {
	r := math.Inf(1)
	for i := range v.Dust {
		r = min(r, v.Dust[i].Ratio)
	}
	return r
}

// Required is what a tool needs with the margin.
func (n *Network) Required(tool int, l *Limits) float64 {
	return float64(n.spec.Tools[tool].Flow) * (1 + float64(l.Margin)) * l.flowShare(tool)
}

// leastFlow is what one port of a tool needs, 0 where it has no such need.
func (n *Network) leastFlow(tool, port int, l *Limits) float64 {
	return float64(n.spec.Tools[tool].Ports[port].Min) * l.flowShare(tool)
}

// TransportLimit is the velocity a run must hold in a case, 0 where no
// running tool lies upstream: the strictest class among the running tools.
func (n *Network) TransportLimit(c *Case, run int, l *Limits) float64 {
	return n.transportLimit(n.toolsUp[run], c, run, l)
}

// transportLimit is TransportLimit for a run that carries the air of the tools
// in up.
func (n *Network) transportLimit(up []bool, c *Case, run int, l *Limits) float64 {
	v := 0.0
	for _, k := range c.Running {
		if up[k] {
			if l.Transport > 0 {
				v = float64(l.Transport)
			} else {
				v = max(v, float64(n.spec.Tools[k].Transport))
			}
		}
	}
	if n.routes[run].Rise > riserShare {
		v *= 1 + float64(l.Riser)
	}
	return v * l.transportShare()
}

// Judge holds solved answers of a case against limits. loaded answers for
// flow and transport velocity, clean for ceiling and motor (the same solution
// twice where the filter does not matter).
func (n *Network) Judge(c *Case, l *Limits, loaded, clean *Solution) *Verdict {
	v := &Verdict{State: c.Name}
	for _, k := range c.Running {
		need := n.Required(k, l)
		t := &loaded.Tools[k]
		tv := ToolVerdict{Tool: k, Flow: t.Flow, Required: units.Flow(need), Ratio: ratio(float64(t.Flow), need)}
		for i, q := range t.Ports {
			tv.Ratio = min(tv.Ratio, ratio(float64(q), n.leastFlow(k, i, l)))
		}
		v.Tools = append(v.Tools, tv)
	}
	for i := range loaded.Runs {
		up := n.toolsUp[i]
		if loaded.up != nil {
			up = loaded.up[i]
		}
		if n.isBackward(loaded, i) {
			v.Backward = append(v.Backward, i)
		}
		if limit := n.transportLimit(up, c, i, l); limit > 0 {
			slow := units.Velocity(math.Abs(float64(loaded.Runs[i].Slow)))
			v.Dust = append(v.Dust, RunVerdict{i, slow, units.Velocity(limit), float64(slow) / limit})
		}
		if fast := units.Velocity(math.Abs(float64(clean.Runs[i].Fast))); l.Ceiling > 0 && fast > 0 && !Meets(float64(l.Ceiling)/float64(fast)) {
			v.Fast = append(v.Fast, RunVerdict{i, fast, l.Ceiling, float64(l.Ceiling) / float64(fast)})
		}
	}
	for i := range clean.Collectors {
		out := &clean.Collectors[i]
		if backward(float64(loaded.Collectors[i].Flow)) {
			v.Blown = append(v.Blown, out.Collector)
		}
		m := n.Motor(out)
		if i == 0 || m.Checked && (!v.Motor.Checked || m.Load*v.Motor.Rating > v.Motor.Load*m.Rating) {
			v.Motor = m
		}
	}
	return v
}

// isBackward reports whether air runs away from the collector in a run: in a
// tree any flow against the run, in a loop, where each run has two ways, only
// air that blows out of an opening at the run's end.
func (n *Network) isBackward(s *Solution, run int) bool {
	if n.web == nil {
		return backward(float64(s.Runs[run].Flow))
	}
	to := n.to[run]
	if s.Runs[run].Flow < 0 {
		to = n.from[run]
	}
	for k := range n.inlets {
		if in := &n.inlets[k]; in.point == to && in.tool >= 0 && backward(float64(s.Tools[in.tool].Ports[in.port])) {
			return true
		}
	}
	return false
}

// backward reports whether a flow goes away from the collector by more than
// the solver's tolerance.
func backward(q float64) bool { return q < -10*mesh.DefaultMassTol }

// Motor holds the motor of a collector's result against its rating.
func (n *Network) Motor(c *CollectorResult) MotorVerdict {
	m := n.spec.Collectors[c.Collector].Motor
	if m == nil {
		return MotorVerdict{}
	}
	load, ok := m.Load(c.Flow, c.Curve)
	return MotorVerdict{Checked: ok && m.Rating > 0, Load: load, Rating: m.Rating}
}

// NeedsClean reports whether the clean filter gives another answer than the
// loaded one, so that a case must be solved twice.
func (n *Network) NeedsClean(c *Case, l *Limits) bool {
	if c.Filter != Loaded {
		return false
	}
	for i := range n.spec.Collectors {
		k := n.inPlace(c, i)
		if k < 0 {
			continue
		}
		if col := &n.spec.Collectors[k]; col.Filter.Clean != col.Filter.Loaded && (l.Ceiling > 0 || col.Motor != nil) {
			return true
		}
	}
	return false
}

// Check solves a case as often as the verdict needs and judges it.
func (s *Solver) Check(ctx context.Context, c *Case, l *Limits) (*Solution, *Verdict, error) {
	loaded, err := s.answer(ctx, c)
	if err != nil {
		return loaded, nil, err
	}
	clean := loaded
	if s.n.NeedsClean(c, l) {
		cc := *c
		cc.Filter = Clean
		if clean, err = s.answer(ctx, &cc); err != nil {
			return loaded, nil, err
		}
	}
	return loaded, s.n.Judge(c, l, loaded, clean), nil
}
