package calibrate

import (
	"slices"

	"wyewright/network"
	"wyewright/network/units"
)

// apply returns the shop with parameters in force, as it was on a date.
func apply(base *network.Spec, ps []Param, x []float64, date string) network.Spec {
	s := *base
	s.Runs, s.Collectors, s.Leaks = slices.Clone(s.Runs), slices.Clone(s.Collectors), slices.Clone(s.Leaks)
	for i := range s.Runs {
		s.Runs[i].Pieces = slices.Clone(s.Runs[i].Pieces)
	}
	s.Tools = slices.Clone(s.Tools)
	for i := range s.Tools {
		s.Tools[i].Ports = slices.Clone(s.Tools[i].Ports)
	}
	for i := range ps {
		p := &ps[i]
		if p.Date != "" && p.Date != date && date != "" {
			continue
		}
		switch p.Kind {
		case Hose, Rough:
			duct(&s, p, x[i])
		case Entry:
			for k := range s.Tools[p.Index].Ports {
				s.Tools[p.Index].Ports[k].Entry *= x[i]
			}
		case Known:
			s.Leaks[p.Index].Area *= units.Area(x[i])
		case Shut, GateLeft:
			gates(&s, p, x[i])
		case FanSpeed:
			s.Collectors[p.Index].Spin(x[i])
		case Filter:
			f := &s.Collectors[p.Index].Filter
			f.Clean, f.Loaded = base.Collectors[p.Index].Filter.Clean*x[i], base.Collectors[p.Index].Filter.Loaded*x[i]
		case LeakArea:
			if x[i] > 0 {
				s.Leaks = append(s.Leaks, network.Leak{ID: p.leakID(), At: s.Points[p.Index].ID, Area: units.Area(x[i])})
			}
		case ExtraLoss:
			pieces := s.Runs[p.Index].Pieces
			pieces[len(pieces)-1].K += x[i]
		case Bore:
			for k := range s.Runs[p.Index].Pieces {
				s.Runs[p.Index].Pieces[k].Diameter *= units.Length(x[i])
			}
		}
	}
	return s
}

// leakID is the name of a fitted opening in the shop.
func (p *Param) leakID() string { return "fitted " + p.Name }

// duct changes what a family's duct is like.
func duct(s *network.Spec, p *Param, x float64) {
	for r := range s.Runs {
		for k := range s.Runs[r].Pieces {
			m := &s.Runs[r].Pieces[k].Make
			switch {
			case m.Family != p.Family || m.Hose() != (p.Kind == Hose):
			case p.Kind == Hose:
				m.Multiple = max(1.001, m.Multiple*x)
			default:
				m.Roughness *= units.Length(x)
			}
		}
	}
}

// gates changes the free areas of shut gates: all by a factor, or one.
func gates(s *network.Spec, p *Param, x float64) {
	change := func(g **network.Gate, factor, more float64) {
		if *g != nil {
			own := **g
			own.Leak = units.Area(float64(own.Leak)*factor + more)
			*g = &own
		}
	}
	if p.Kind == GateLeft {
		change(&s.Tools[p.Index].Ports[p.Port].Gate, 1, x)
		return
	}
	for i := range s.Runs {
		change(&s.Runs[i].Gate, x, 0)
	}
	for i := range s.Tools {
		for k := range s.Tools[i].Ports {
			change(&s.Tools[i].Ports[k].Gate, x, 0)
		}
	}
}
