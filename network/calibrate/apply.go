package calibrate

import (
	"wyewright/network"
	"wyewright/network/units"
)

// Factors are what a point of a fit says of the shop beside its faults, as it was
// on a date; without one, of several sessions with a filter each the last counts.
func Factors(s *network.Spec, ps []Param, x []float64, date string) network.Factors {
	f := network.Factors{Friction: map[string]float64{}, Roughness: map[string]float64{}, Entry: map[string]float64{}, Leaks: map[string]float64{},
		FanSpeed: map[string]float64{}, Filter: map[string]float64{}}
	for i := range ps {
		p := &ps[i]
		if p.Date != "" && p.Date != date && date != "" {
			continue
		}
		switch p.Kind {
		case Hose:
			f.Friction[p.Family] = x[i]
		case Rough:
			f.Roughness[p.Family] = x[i]
		case Entry:
			f.Entry[s.Tools[p.Index].ID] = x[i]
		case Known:
			f.Leaks[s.Leaks[p.Index].ID] = x[i]
		case Shut:
			f.ShutGates = max(x[i], tight)
		case FanSpeed:
			f.FanSpeed[s.Collectors[p.Index].ID] = x[i]
		case Filter:
			f.Filter[s.Collectors[p.Index].ID] = x[i]
		}
	}
	return f
}

// tight is a factor that tells gates which shut tight from one that is missing.
const tight = 1e-9

// apply returns the shop with parameters in force, as it was on a date.
func apply(base *network.Spec, ps []Param, x []float64, date string) network.Spec {
	f := Factors(base, ps, x, date)
	s := f.Apply(*base)
	for i := range ps {
		p := &ps[i]
		if p.Kind == LeakArea && x[i] > 0 {
			s.Leaks = append(s.Leaks, network.Leak{ID: p.leakID(), At: s.Points[p.Index].ID, Area: units.Area(x[i])})
		}
		p.Mar(&s, x[i])
	}
	return s
}

// leakID is the name of a fitted opening in the shop.
func (p *Param) leakID() string { return "fitted " + p.Name }

// Mar brings a fault of a run or of a gate to a shop, whose runs, pieces, tools
// and ports are the caller's own. Other parameters change nothing.
func (p *Param) Mar(s *network.Spec, x float64) {
	switch p.Kind {
	case GateLeft:
		g := &s.Tools[p.Index].Ports[p.Port].Gate
		own := **g
		own.Leak += units.Area(x)
		*g = &own
	case ExtraLoss:
		pieces := s.Runs[p.Index].Pieces
		pieces[len(pieces)-1].K += x
	case Bore:
		for k := range s.Runs[p.Index].Pieces {
			s.Runs[p.Index].Pieces[k].Diameter *= units.Length(x)
		}
	}
}
