package network

import (
	"slices"

	"wyewright/network/loss"
)

// SwapElbows puts other elbows into a run whose duct stays: those of its route
// and, where no coefficient known as built holds it, the one at its downstream
// end. The run's coefficient of bends lapses. Bends stand on the run's last
// piece.
type SwapElbows struct {
	Run     int
	Elbow   loss.ElbowStyle
	ElbowRD float64
}

// Rejoin makes the joint at the downstream end of a run anew with the wye of
// the family; the ducts stay. The coefficients of the as-built joint lapse for
// all its legs.
type Rejoin struct{ Run int }

func (c SwapElbows) apply(n *Network) {
	r := &n.spec.Runs[c.Run]
	r.Pieces = slices.Clone(r.Pieces)
	m := &lastPiece(r).Make
	m.Elbow, m.ElbowRD = c.Elbow, c.ElbowRD
	r.K.Bends = nil
}

func (c Rejoin) apply(n *Network) {
	r := &n.spec.Runs[c.Run]
	r.Rejoined, r.K.Junction = true, nil
}

// remade reports whether the joint at the downstream end of the run is not as
// built.
func (r *Run) remade() bool { return r.New || r.Rejoined }

// Bends are the angles, degrees, that the elbows of a run of a tree turn: the
// corners of its route and the bend at its downstream end, 0 where there is
// none or where a coefficient known as built holds it. K is what they lose on
// the velocity pressure of the run's last piece, the override where there is
// one.
func (n *Network) Bends(run int) (corners []float64, end, k float64) {
	corners = n.routes[run].Corners
	if n.web != nil {
		return corners, 0, 0
	}
	if i := n.jointOf[n.runNode[run]]; i >= 0 {
		j := n.joint(i)
		switch r := &n.spec.Runs[run]; {
		case run == j.Branch:
			end = j.BranchBend
		case r.K.Junction == nil || !n.asBuilt(&j):
			end = j.MainBend
		}
	}
	shares := n.shares(run)
	return corners, end, shares[len(shares)-1].bend
}

// Rejoinable reports whether making the joint of a branch anew lets a
// coefficient known of it as built lapse. A main's coefficient covers every wye
// of its point: where there are several, the share of one cannot be taken out
// of it, and its own joint is none that could be made anew alone. A network that
// is no tree has none.
func (n *Network) Rejoinable(branch int) bool {
	if n.web != nil || n.jointOf[n.runNode[branch]] < 0 {
		return false
	}
	j := &n.joints[n.jointOf[n.runNode[branch]]]
	if j.Branch != branch || !n.asBuilt(j) {
		return false
	}
	if j.Main >= 0 && n.spec.Runs[j.Main].K.Junction != nil {
		return len(n.in[n.point[j.Point]]) == 2
	}
	return n.spec.Runs[branch].K.Junction != nil
}
