package calibrate

import (
	"fmt"
	"math"
	"slices"

	"wyewright/network"
	"wyewright/network/fan"
	"wyewright/network/units"
)

// Kind says what a parameter means.
type Kind uint8

// Kinds of parameter.
const (
	Probe     Kind = iota // mean speed over the speed on the axis
	Hose                  // friction of a family of hose over what the file says
	FanSpeed              // speed of a collector's fan over what its curve says
	Filter                // resistance of a collector's filter over what the file says
	LeakArea              // an opening at a point, m²
	ExtraLoss             // a coefficient on a run's last piece: a blockage, a crushed hose
)

// Param is one parameter of a fit with its prior: the value expected before any
// reading, and how sure that is (one standard deviation).
type Param struct {
	Kind Kind
	// Index is the collector, point or run; Family the hose.
	Index  int
	Family string
	Name   string

	Prior, Doubt float64 // Doubt 0: nothing is known beforehand
	Lower, Upper float64
	Scale        float64 // a size at which it matters
}

// nuisance lists what is never quite known: it is fitted always, held by its
// prior. Priors: the probe factor 0.87 ± 0.05 (a power-law profile has 0.82,
// short ducts about 0.9, common practice); hose 2 to 5 times smooth pipe where 3 is assumed; fan
// and filter are our choice.
func nuisance(s *network.Spec, rs []Reading) []Param {
	var out []Param
	if slices.ContainsFunc(rs, func(r Reading) bool { return r.Centre }) {
		out = append(out, Param{Kind: Probe, Name: "probe factor", Prior: 0.87, Doubt: 0.05, Lower: 0.7, Upper: 1, Scale: 0.05})
	}
	var hoses []string
	for i := range s.Runs {
		for _, p := range s.Runs[i].Pieces {
			if p.Make.Hose() && !slices.Contains(hoses, p.Make.Family) {
				hoses = append(hoses, p.Make.Family)
				out = append(out, Param{Kind: Hose, Family: p.Make.Family, Name: "friction of " + p.Make.Family, Prior: 1, Doubt: 0.3, Lower: 0.4, Upper: 3, Scale: 0.3})
			}
		}
	}
	for i := range s.Collectors {
		c := &s.Collectors[i]
		if !slices.ContainsFunc(rs, func(r Reading) bool { return inPlace(s, r.State) == i }) {
			continue
		}
		out = append(out, Param{Kind: FanSpeed, Index: i, Name: "fan of " + c.ID, Prior: 1, Doubt: 0.03, Lower: 0.6, Upper: 1.2, Scale: 0.03})
		if c.Filter.Loaded > 0 {
			out = append(out, Param{Kind: Filter, Index: i, Name: "filter of " + c.ID, Prior: 1, Doubt: 0.3, Lower: 0, Upper: 5, Scale: 0.3})
		}
	}
	return out
}

// faults lists what may be wrong: an opening at any point, an extra loss in any
// run.
func faults(s *network.Spec) []Param {
	var out []Param
	// Openings between the ducts before those at a machine, so that of equals
	// the duct is named first.
	var machines []Param
	for i, p := range s.Points {
		f := Param{Kind: LeakArea, Index: i, Name: "opening at " + p.ID, Upper: 0.02, Scale: 5e-4}
		if tool := portAt(s, p.ID); tool != "" {
			f.Name = "leak at the gate of " + tool
			machines = append(machines, f)
			continue
		}
		out = append(out, f)
	}
	out = append(out, machines...)
	for i, r := range s.Runs {
		out = append(out, Param{Kind: ExtraLoss, Index: i, Name: "extra loss in " + r.ID, Upper: 60, Scale: 1})
	}
	return out
}

// portAt is the tool with a port at a point, if any.
func portAt(s *network.Spec, point string) string {
	for _, t := range s.Tools {
		for _, p := range t.Ports {
			if p.At == point {
				return t.ID
			}
		}
	}
	return ""
}

// inPlace is the collector in place in a state.
func inPlace(s *network.Spec, st network.State) int {
	if i := slices.IndexFunc(s.Collectors, func(c network.Collector) bool { return c.ID == st.Collector }); i > 0 {
		return i
	}
	return 0
}

// Text prints a value of the parameter.
func (p *Param) Text(x float64) string {
	switch p.Kind {
	case LeakArea:
		return fmt.Sprintf("%.1f cm2", x*1e4)
	case ExtraLoss:
		return fmt.Sprintf("K %.2f", x)
	}
	return fmt.Sprintf("%.3f", x)
}

// apply returns the shop with parameters in force.
func apply(base *network.Spec, ps []Param, x []float64) network.Spec {
	s := *base
	s.Runs, s.Collectors, s.Leaks = slices.Clone(s.Runs), slices.Clone(s.Collectors), slices.Clone(s.Leaks)
	for i := range s.Runs {
		s.Runs[i].Pieces = slices.Clone(s.Runs[i].Pieces)
	}
	for i := range ps {
		p := &ps[i]
		switch p.Kind {
		case Hose:
			for r := range s.Runs {
				for k := range s.Runs[r].Pieces {
					if m := &s.Runs[r].Pieces[k].Make; m.Hose() && m.Family == p.Family {
						m.Multiple = max(1.001, m.Multiple*x[i])
					}
				}
			}
		case FanSpeed:
			c := &s.Collectors[p.Index]
			c.Curve = &spun{c.Curve, x[i]}
		case Filter:
			f := &s.Collectors[p.Index].Filter
			f.Clean, f.Loaded = f.Clean*x[i], f.Loaded*x[i]
		case LeakArea:
			if x[i] > 0 {
				s.Leaks = append(s.Leaks, network.Leak{ID: "fitted " + p.Name, At: s.Points[p.Index].ID, Area: units.Area(x[i])})
			}
		case ExtraLoss:
			pieces := s.Runs[p.Index].Pieces
			pieces[len(pieces)-1].K += x[i]
		}
	}
	return s
}

// spun is a curve at another speed: Q ∝ N, p ∝ N² (fan laws).
type spun struct {
	fan.Curve
	by float64
}

// Pressure implements fan.Curve.
func (c *spun) Pressure(q float64) (p, dpdq float64) {
	p, dpdq = c.Curve.Pressure(q / c.by)
	return c.by * c.by * p, c.by * dpdq
}

// Range implements fan.Curve.
func (c *spun) Range() (lo, hi float64) {
	lo, hi = c.Curve.Range()
	return lo * c.by, hi * c.by
}

// logPhi is ln of the normal distribution function, also far out.
func logPhi(z float64) float64 {
	if z > -8 {
		return math.Log(0.5 * math.Erfc(-z/math.Sqrt2))
	}
	// Asymptotic: φ(z)/|z|·(1 − 1/z²).
	return -z*z/2 - math.Log(-z*math.Sqrt(2*math.Pi)) + math.Log1p(-1/(z*z))
}
