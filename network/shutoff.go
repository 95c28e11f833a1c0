package network

import (
	"context"

	"wyewright/network/fan"
	"wyewright/network/units"
)

// ShutOff is the suction that the ducts bear with all gates shut and the filter
// clean, when only leaks flow.
type ShutOff struct {
	// Pieces holds the suction at the wall of each piece, by run.
	Pieces [][]units.Pressure
	// Most is the greatest of them.
	Most units.Pressure
	// Open counts the ports that have no gate and stay open.
	Open int
	// Fixed says that a collector has a fixed flow instead of a fan curve, so
	// that nothing is known of its suction; Pieces is nil then.
	Fixed bool
}

// Raise raises what the pieces bear to what they bear in another answer for the
// same ducts, such as with another collector in place.
func (s *ShutOff) Raise(o *ShutOff) {
	if s.Fixed = s.Fixed || o.Fixed; s.Fixed {
		s.Pieces = nil
		return
	}
	for run, pieces := range o.Pieces {
		for k, p := range pieces {
			s.Pieces[run][k] = max(s.Pieces[run][k], p)
		}
	}
	s.Most = max(s.Most, o.Most)
}

// fanSamples is how finely a fan curve is searched for its highest pressure.
const fanSamples = 400

// ShutOff solves the network with all gates of the ports shut, those in runs
// once shut and once open. The suction of a piece is that of the end of its run
// which bears more, with the piece's own velocity pressure. Where the fan curve
// is anywhere higher than at the flow of the leaks, all pieces bear the
// difference as well: the leaks may be smaller than the model has them, and a
// hump is passed on the way. The error is that of a solve.
func (n *Network) ShutOff(ctx context.Context) (*ShutOff, error) {
	out := &ShutOff{}
	for i := range n.spec.Collectors {
		if _, fixed := n.spec.Collectors[i].Curve.(fan.Fixed); fixed && n.standsIn(i) {
			out.Fixed = true
			return out, nil
		}
	}
	for i := range n.inlets {
		if in := &n.inlets[i]; in.tool >= 0 && !in.gated {
			out.Open++
		}
	}
	states := []State{{Name: "all gates shut", Filter: Clean}}
	var gates []string
	for _, r := range n.spec.Runs {
		if r.Gate != nil {
			gates = append(gates, r.ID)
		}
	}
	if len(gates) > 0 {
		states = append(states, State{Name: "all ports shut", Filter: Clean, OpenGates: gates})
	}
	for i := range n.pieces {
		out.Pieces = append(out.Pieces, make([]units.Pressure, len(n.pieces[i])))
	}
	for _, st := range states {
		sol, err := NewSolver(n, nil).Solve(ctx, st)
		if err != nil {
			return nil, err
		}
		n.bear(out, sol)
	}
	return out, nil
}

// standsIn reports whether a collector is the one in place at its point.
func (n *Network) standsIn(i int) bool { return n.inPlace(&Case{}, i) == i }

// bear raises the suction of the pieces to that of a solution.
func (n *Network) bear(out *ShutOff, sol *Solution) {
	lift := n.fanLift(sol)
	for run, pieces := range out.Pieces {
		total := -min(sol.Points[n.from[run]].Total, sol.Points[n.to[run]].Total)
		for k := range pieces {
			v := float64(sol.Runs[run].Flow) / n.pieces[run][k].area
			p := total + units.Pressure(float64(n.spec.Air.Density)/2*v*v) + lift
			pieces[k] = max(pieces[k], p)
			out.Most = max(out.Most, p)
		}
	}
}

// fanLift is by how much the highest total suction of a fan exceeds the one it
// works at, the most of all collectors.
func (n *Network) fanLift(sol *Solution) units.Pressure {
	lift := units.Pressure(0)
	for _, c := range sol.Collectors {
		for _, p := range n.FanLine(c.Collector, Clean, fanSamples) {
			lift = max(lift, units.Pressure(p[1])-c.Total)
		}
	}
	return lift
}
