package network

import (
	"context"
	"math"

	"wyewright/network/units"
)

// Score solves a case as often as the limits need and returns the least
// ratios. On a tree it allocates nothing after the first
// call.
func (s *Solver) Score(ctx context.Context, c *Case, l *Limits) Scores {
	out := freshScores()
	if s.n.web != nil {
		s.generalScores(ctx, c, l, &out)
		return out
	}
	if out.Status = s.Run(ctx, c); !out.Status.OK() {
		return out
	}
	out.Total = s.Total()
	s.loadedScores(c, l, &out)
	if s.n.NeedsClean(c, l) {
		s.clean = *c
		s.clean.Filter = Clean
		if out.Status = s.Run(ctx, &s.clean); !out.Status.OK() {
			return out
		}
	}
	s.cleanScores(c, l, &out)
	return out
}

// generalScores takes the scores of a network that is no tree from its verdict.
func (s *Solver) generalScores(ctx context.Context, c *Case, l *Limits, out *Scores) {
	sol, v, err := s.Check(ctx, c, l)
	if out.Status = s.status; err != nil {
		return
	}
	out.Total = float64(sol.Collector.Flow)
	out.Flow, out.Dust, out.Backward = v.FlowRatio(), v.DustRatio(), len(v.Backward)+len(v.Blown) > 0
	for _, d := range v.Fast {
		out.Ceiling = min(out.Ceiling, d.Ratio)
	}
	if v.Motor.Checked && v.Motor.Load > 0 {
		out.Motor = float64(v.Motor.Rating / v.Motor.Load)
	}
}

// Scores is the quick form of a verdict, for a search that judges many
// plans: the least ratio of each kind, 1 meaning just met.
type Scores struct {
	Flow, Dust, Ceiling, Motor float64
	// Total is the flow at the case's collector with the case's own filter,
	// m³/s.
	Total float64
	// Backward says that air runs away from the collector somewhere.
	Backward bool
	Status   Status
}

// OK reports whether everything is met and the solve can be trusted.
func (x Scores) OK() bool {
	return x.Status.OK() && !x.Backward && Meets(x.Flow) && Meets(x.Dust) && Meets(x.Ceiling) && Meets(x.Motor)
}

// loadedScores fills flow and dust from the last Run of a solver.
func (s *Solver) loadedScores(c *Case, l *Limits, out *Scores) {
	n := s.n
	for _, k := range c.Running {
		out.Flow = min(out.Flow, ratio(s.ToolFlow(k), n.Required(k, l)))
		for i := range n.inlets {
			in := &n.inlets[i]
			if in.tool == k {
				out.Flow = min(out.Flow, ratio(s.inletFlow(i), n.leastFlow(k, in.port, l)))
			}
		}
	}
	for r := range n.spec.Runs {
		out.Backward = out.Backward || backward(s.RunFlow(r))
		if limit := n.TransportLimit(c, r, l); limit > 0 {
			_, wide := n.areas(r)
			out.Dust = min(out.Dust, s.RunFlow(r)/(wide*limit))
		}
	}
}

// cleanScores fills ceiling and motor from the last Run of a solver.
func (s *Solver) cleanScores(c *Case, l *Limits, out *Scores) {
	n := s.n
	if l.Ceiling > 0 {
		for r := range n.spec.Runs {
			if q := s.RunFlow(r); q > 0 {
				narrow, _ := n.areas(r)
				out.Ceiling = min(out.Ceiling, float64(l.Ceiling)*narrow/q)
			}
		}
	}
	if m := n.spec.Collectors[c.Collector].Motor; m != nil {
		p, _ := n.spec.Collectors[c.Collector].Curve.Pressure(s.Total())
		if load, ok := m.Load(units.Flow(s.Total()), units.Pressure(p)); ok && load > 0 {
			out.Motor = min(out.Motor, float64(m.Rating)/float64(load))
		}
	}
}

// freshScores is a verdict about nothing.
func freshScores() Scores {
	inf := math.Inf(1)
	return Scores{Flow: inf, Dust: inf, Ceiling: inf, Motor: inf, Status: Converged}
}
