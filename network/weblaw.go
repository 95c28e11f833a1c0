package network

import (
	"math"

	"wyewright/network/mesh"
)

// fork is a leg of a wye at which the air parts, on the velocity pressure of
// the common duct; v is the leg's velocity over the common one's:
//
//	branch  K = 1 + v² − 2v·cos α
//	through K = 0.4·(1 − v)²
//
// These are the dividing wyes of Idelchik, Handbook of Hydraulic Resistance,
// from memory; they are not scored against measurements here, and an answer
// that rests on them says so.
type fork struct{ areaRatio, cos float64 }

func (f fork) branch(x float64) (k, dk float64) {
	v := x / f.areaRatio
	return 1 + v*v - 2*v*f.cos, (2*v - 2*f.cos) / f.areaRatio
}

func (f fork) through(x float64) (k, dk float64) {
	v := x / f.areaRatio
	return 0.4 * (1 - v) * (1 - v), -0.8 * (1 - v) / f.areaRatio
}

// buildWeb computes what each link loses at the joints it shares.
func (n *Network) buildWeb(rho float64) {
	w := n.web
	n.legs = make([]leg, len(w.joints))
	n.leaveC = make([]float64, len(n.spec.Points))
	for p := range n.spec.Points {
		if n.out[p] < 0 && len(n.in[p]) == 0 {
			continue // nothing leads there
		}
		area := n.common(p)
		n.leaveC[p] = rho / 2 / (area * area)
	}
	for i, j := range w.joints {
		p := n.point[n.joints[j.joint].Point]
		if j.splits {
			n.legs[i] = n.leave(&j, p, rho)
		} else {
			n.legs[i] = n.meet(j.joint, p, j.run, rho)
		}
	}
}

// leave computes what a link loses where it leaves a joint at which the air
// parts. The elbow behind the wye goes into the run's first piece.
func (n *Network) leave(w *webJoint, p int, rho float64) leg {
	common := n.commonPiece(p)
	if len(n.in[p]) == 1 {
		common = *lastPiece(&n.spec.Runs[n.in[p][0]])
	}
	j := n.jointWith(w.joint, common.Make.WyeDegrees)
	ac := circle(common.Diameter)
	out := leg{kind: legSplitThrough, c: rho / 2 / (ac * ac), fork: fork{areaRatio: 1}}
	if w.run >= 0 {
		r := &n.spec.Runs[w.run]
		out.fork.areaRatio = circle(r.Pieces[0].Diameter) / ac
		if w.run == j.Branch {
			out.kind = legSplitBranch
			out.fork.cos = math.Cos(j.WyeDegrees * math.Pi / 180)
			if r.K.Bends == nil {
				n.pieces[w.run][0].k += elbow(r.Pieces[0].Make, j.BranchBend)
			}
		}
	}
	return out
}

// Loss implements mesh.PairLaw: what a leg loses at own flow q and common flow
// qc. Where a flow runs the other way than the wye is made for, the
// coefficient stays that of the nearest flow it is made for.
func (l *leg) Loss(q, qc float64) (dp, byQ, byC float64) {
	if l.kind == legNone || qc <= 0 {
		return 0, 0, 0
	}
	x := q / qc
	outside := x < 0 || x > 1
	x = max(0, min(1, x))
	var k, dk float64
	switch l.kind {
	case legBranch:
		k, dk = l.wye.Branch(x)
	case legThrough:
		k, dk = l.wye.Through(1 - x)
		dk = -dk // by the own share
	case legSplitBranch:
		k, dk = l.fork.branch(x)
	case legSplitThrough:
		k, dk = l.fork.through(x)
	}
	if outside {
		dk = 0
	}
	return l.c * k * qc * qc, l.c * dk * qc, l.c * (2*k*qc - dk*q)
}

// runLaw is the duct of a run, with its gate where that is shut.
type runLaw struct {
	pieces []coef
	law    Friction
	gate   *float64
}

// Loss implements mesh.Law.
func (r *runLaw) Loss(q float64) (dp, slope float64) {
	for i := range r.pieces {
		d, s := r.pieces[i].loss(q, r.law)
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
	_ mesh.PairLaw = (*leg)(nil)
	_ mesh.SeepLaw = seep{}
)
