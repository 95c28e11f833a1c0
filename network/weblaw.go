package network

import (
	"math"
	"slices"

	"wyewright/network/loss"
	"wyewright/network/mesh"
)

// tee is what one leg of a wye loses for any direction of the air, c = ½ρ. nil
// junctions lose nothing of their own.
type tee struct {
	junction *loss.Junction
	main     bool
	c        float64
}

// Loss implements mesh.PairLaw on the flows of the leg and of the common duct.
func (t *tee) Loss(q, qc float64) (dp, byQ, byC float64) {
	if t.main {
		d, byM, byB := t.junction.Main(q, qc-q)
		return t.c * d, t.c * (byM - byB), t.c * byB
	}
	d, byM, byB := t.junction.Branch(qc-q, q)
	return t.c * d, t.c * (byB - byM), t.c * byM
}

// converging reports whether the air goes as the wye was made for, or stands.
func (t *tee) converging(q, qc float64) bool {
	rest := qc - q
	return t.junction == nil || max(math.Abs(q), math.Abs(rest)) < stillFlow || q > -stillFlow && rest > -stillFlow
}

// stillFlow is the flow below which air counts as still, m³/s.
const stillFlow = 1e-8

// buildWeb computes what each link loses at the joints it shares.
func (n *Network) buildWeb(rho float64) {
	w := n.web
	n.tees = make([]tee, len(w.joints))
	n.leaveC = make([]float64, len(n.spec.Points))
	for p := range n.spec.Points {
		if n.out[p] < 0 && len(n.in[p]) == 0 && !slices.Contains(n.homes, p) {
			continue // nothing leads there
		}
		area := n.common(p)
		n.leaveC[p] = rho / 2 / (area * area)
	}
	for i, j := range w.joints {
		p := n.point[n.joints[j.joint].Point]
		if j.splits {
			n.tees[i] = n.leave(&j, rho)
			continue
		}
		e := n.meet(j.joint, p, j.run, rho)
		if e.leg.kind != legNone {
			degrees := n.jointWith(j.joint, n.commonPiece(p).Make.WyeDegrees).WyeDegrees
			n.tees[i] = tee{loss.NewJunction(e.branch, e.main, e.common, degrees), j.main, rho / 2}
		}
	}
}

// leave computes what a link loses at a wye where the file has the air part:
// the wye is turned round, its common duct the run in. The elbow behind it goes
// into the run's first piece.
func (n *Network) leave(w *webJoint, rho float64) tee {
	common, j := n.fork(w)
	area := func(run int) float64 {
		if run < 0 {
			return circle(common.Diameter)
		}
		return circle(n.spec.Runs[run].Pieces[0].Diameter)
	}
	if w.run == j.Branch {
		n.pieces[w.run][0].k += n.leaveBend(w)
	}
	ac := circle(common.Diameter)
	return tee{loss.NewJunction(area(j.Branch), min(area(j.Main), ac), ac, j.WyeDegrees), w.main, rho / 2}
}

// fork is the common duct of a joint at which the air parts, as wide as the main
// that leaves, and the joint.
func (n *Network) fork(w *webJoint) (common Piece, j Joint) {
	common = n.commonPiece(n.point[n.joints[w.joint].Point])
	return common, n.jointWith(w.joint, common.Make.WyeDegrees)
}

// leaveBend is the coefficient of the elbow behind a wye at which the air parts,
// for the branch.
func (n *Network) leaveBend(w *webJoint) float64 {
	_, j := n.fork(w)
	if w.run != j.Branch || n.spec.Runs[w.run].K.Bends != nil {
		return 0
	}
	return elbow(n.spec.Runs[w.run].Pieces[0].Make, j.BranchBend)
}

// runLaw is the duct of a run, with its gate where that is shut.
type runLaw struct {
	pieces []coef
	roots  []float64 // of the pieces at the last flow
	law    Friction
	gate   *float64
}

// Loss implements mesh.Law.
func (r *runLaw) Loss(q float64) (dp, slope float64) {
	for i := range r.pieces {
		d, s := r.pieces[i].lossNear(q, r.law, &r.roots[i])
		dp += d
		slope += s
	}
	dp += *r.gate * q * math.Abs(q)
	return dp, slope + 2**r.gate*math.Abs(q)
}

// Loss implements mesh.Law for an opening.
func (i *inlet) Loss(q float64) (dp, slope float64) {
	return i.r * q * math.Abs(q), 2 * i.r * math.Abs(q)
}

// Loss implements mesh.Law for a fan: it adds what it holds.
func (m *mover) Loss(q float64) (dp, slope float64) {
	h, dh := m.suction(q)
	return -h, -dh
}

// still is the law of a zero-length link.
type still struct{}

func (still) Loss(float64) (dp, slope float64) { return 0, 0 }

// seep is a leak law at the network's density.
type seep struct {
	l   *leakLaw
	rho float64
}

// Inflow implements mesh.SeepLaw.
func (s seep) Inflow(static float64) (q, slope float64) { return s.l.inflow(static, s.rho) }

var (
	_ mesh.Law     = (*runLaw)(nil)
	_ mesh.PairLaw = (*tee)(nil)
	_ mesh.SeepLaw = seep{}
)
