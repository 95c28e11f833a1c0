package network

import (
	"math"
	"slices"

	"wyewright/network/loss"
	"wyewright/network/units"
)

func unitsLength(x float64) units.Length { return units.Length(x) }

func circle(d units.Length) float64 { return math.Pi / 4 * float64(d) * float64(d) }

// Joints returns the joints of the network with the angles that follow from
// the families in place.
func (n *Network) Joints() []Joint {
	out := make([]Joint, len(n.joints))
	for i := range n.joints {
		out[i] = n.joint(i)
	}
	return out
}

// joint splits the turn of a branch into the wye's own angle and the bend
// before it.
func (n *Network) joint(i int) Joint {
	j := n.jointWith(i, n.commonPiece(n.point[n.joints[i].Point]).Make.WyeDegrees)
	j.Opposite = j.Opposite && n.opposed(&j)
	return j
}

// opposed reports whether a branch still enters opposite another one: a new wye
// for either stands behind the other's.
func (n *Network) opposed(j *Joint) bool {
	for i := range n.joints {
		o := &n.joints[i]
		if o.Point == j.Point && o.Branch >= 0 && o.Branch != j.Branch && n.facing(o.Branch, j.Branch) &&
			!n.spec.Runs[o.Branch].Rejoined && !n.spec.Runs[j.Branch].Rejoined {
			return true
		}
	}
	return false
}

// jointWith is joint for a common duct whose family branches at wyeDegrees (0
// means the default).
func (n *Network) jointWith(i int, wyeDegrees float64) Joint {
	j := n.joints[i]
	if j.Branch < 0 {
		return j
	}
	turn := j.BranchBend
	if j.WyeDegrees = wyeDegrees; wyeDegrees <= 0 {
		j.WyeDegrees = defaultWye
	}
	j.BranchBend = math.Abs(turn - j.WyeDegrees)
	if j.BranchBend <= straightDegrees {
		j.BranchBend = 0
	}
	return j
}

// asBuilt reports whether every run at a joint, and the joint, still is what
// it was.
func (n *Network) asBuilt(j *Joint) bool {
	for _, r := range [2]int{j.Main, j.Branch} {
		if r >= 0 && n.spec.Runs[r].remade() {
			return false
		}
	}
	return j.Common < 0 || !n.spec.Runs[j.Common].New
}

// buildJoints computes what each link loses at the joint it enters.
func (n *Network) buildJoints(rho float64) {
	if n.web != nil {
		n.buildWeb(rho)
		return
	}
	n.legs = make([]leg, len(n.parent))
	n.leaveC = make([]float64, len(n.parent))
	for i := range n.parent {
		area := n.common(n.nodePoint[i])
		n.leaveC[i] = rho / 2 / (area * area)
	}
	for i := range n.parent {
		if n.jointOf[i] < 0 {
			continue
		}
		n.buildLeg(i, n.jointOf[i], rho)
	}
}

// common is the area of the duct that leaves a point.
func (n *Network) common(p int) float64 { return circle(n.commonPiece(p).Diameter) }

// commonPiece is the duct that leaves a point, as a piece: the first of its
// run, the collector's inlet, or at a dead end the duct that comes in.
func (n *Network) commonPiece(p int) Piece {
	if o := n.out[p]; o >= 0 {
		return n.spec.Runs[o].Pieces[0]
	}
	if i := slices.Index(n.homes, p); i >= 0 {
		c := &n.spec.Collectors[i]
		return Piece{Size: c.InletSize, Diameter: c.Inlet}
	}
	return *lastPiece(&n.spec.Runs[n.in[p][0]])
}

// buildLeg computes the leg of node i's link at a joint.
func (n *Network) buildLeg(i, jointIndex int, rho float64) {
	n.legs[i] = n.meet(jointIndex, n.nodePoint[n.parent[i]], n.runOf[i], rho).leg
}

// meet computes what a link, the run or a stage, loses where it enters a joint
// of a point. Overrides and losses on the run's own velocity pressure go into
// the run's last piece.
func (n *Network) meet(jointIndex, p, run int, rho float64) endLoss {
	e := n.meeting(jointIndex, p, run, rho)
	if run >= 0 {
		n.pieces[run][len(n.pieces[run])-1].k += e.sum()
	}
	return e
}

// meeting is meet without its effect.
func (n *Network) meeting(jointIndex, p, run int, rho float64) endLoss {
	j := &n.joints[jointIndex]
	in := endInput{common: n.commonPiece(p), asBuilt: n.asBuilt(j)}
	if m := n.calmMain[p]; m >= 0 {
		in.calm = !n.spec.Runs[m].remade()
	}
	if j.Main >= 0 {
		in.main = lastPiece(&n.spec.Runs[j.Main])
	}
	if j.Branch >= 0 {
		in.branch = lastPiece(&n.spec.Runs[j.Branch])
	}
	in.role = j.role(run)
	if run >= 0 {
		in.k, in.rejoined = &n.spec.Runs[run].K, n.spec.Runs[run].Rejoined
	}
	return n.end(jointIndex, in, rho)
}

func lastPiece(r *Run) *Piece { return &r.Pieces[len(r.Pieces)-1] }

// role says which leg of a joint a link is.
type role uint8

const (
	roleMain role = iota
	roleBranch
	roleStage // the common duct from the wye before
)

func (j *Joint) role(run int) role {
	switch {
	case run < 0:
		return roleStage
	case run == j.Branch:
		return roleBranch
	}
	return roleMain
}

// endInput is what the loss at the end of a link depends on.
type endInput struct {
	role         role
	main, branch *Piece // last pieces; main is nil for a later wye
	common       Piece
	k            *Overrides // of the run that enters
	rejoined     bool       // that run has a new joint
	asBuilt      bool       // every run at the joint is as built
	calm         bool       // the main's override stands and covers the stages
}

// share is a fixed coefficient by what it stands for.
type share struct{ bend, size, joint, gate, own float64 }

func (s share) sum() float64 { return s.bend + s.size + s.joint + s.gate + s.own }

// endLoss is that loss: a share on the run's last piece, and a leg on the
// common duct.
type endLoss struct {
	share
	leg leg
	// The areas of the leg's wye: branch, main, common.
	branch, main, common float64
}

// end computes what a link loses where it enters a joint.
func (n *Network) end(jointIndex int, in endInput, rho float64) endLoss {
	j := n.jointWith(jointIndex, in.common.Make.WyeDegrees)
	var e endLoss
	if in.role == roleBranch && (in.k.Bends == nil || in.rejoined) {
		e.bend += elbow(in.branch.Make, j.BranchBend)
	}
	if in.role == roleStage && in.calm && in.asBuilt {
		return e
	}
	if in.k != nil && in.k.Junction != nil && in.asBuilt {
		e.joint += *in.k.Junction
		return e
	}
	ac := circle(in.common.Diameter)
	am := ac
	if in.main != nil {
		am = circle(in.main.Diameter)
	}
	if in.role == roleMain {
		if in.k.Bends == nil {
			e.bend += elbow(in.main.Make, j.MainBend)
		}
		// A main larger than the duct it becomes is drawn in before the wye;
		// one that only changes size has a taper. A main that grows at a wye
		// is part of the wye's own formula.
		if j.Branch < 0 || am > ac {
			small := min(am, ac)
			e.size += stepLoss(in.main, &in.common) * (am / small) * (am / small)
		}
	}
	if j.Branch < 0 {
		return e
	}
	e.leg.c = rho / 2 / (ac * ac)
	e.branch, e.main, e.common = circle(in.branch.Diameter), min(am, ac), ac
	e.leg.wye = loss.NewWye(e.branch, e.main, e.common, j.WyeDegrees)
	e.leg.kind = legThrough
	if in.role == roleBranch {
		e.leg.kind = legBranch
	}
	return e
}

// buildInlets lists the openings of the shop.
func (n *Network) buildInlets(rho float64) {
	s := &n.spec
	n.inlets, n.leaks = nil, nil
	for k := range s.Tools {
		for i := range s.Tools[k].Ports {
			n.addPort(k, i, rho)
		}
	}
	for k := range s.Bleeds {
		b := &s.Bleeds[k]
		area := circle(b.Diameter)
		in := inlet{tool: -1, bleed: k, gated: true, leak: -1, r: b.K * rho / 2 / (area * area)}
		n.addInlet(in, n.point[b.At], b.Leak)
	}
	for k := range s.Leaks {
		l := &s.Leaks[k]
		if l.Area <= 0 {
			continue
		}
		cd := l.Cd
		if cd == 0 {
			cd = loss.OrificeCd
		}
		n.leaks = append(n.leaks, leakLaw{node: n.pointNode[n.point[l.At]], point: n.point[l.At], cd: cd, area: float64(l.Area),
			whenShut: -1, spec: k, sourceRun: -1})
	}
	for i := range s.Runs {
		if c := s.Runs[i].LeakClass; c > 0 {
			wall := 0.0
			for _, p := range s.Runs[i].Pieces {
				wall += math.Pi * float64(p.Diameter) * float64(p.Length)
			}
			n.leaks = append(n.leaks, leakLaw{node: n.pointNode[n.to[i]], point: n.to[i], surface: c * wall,
				whenShut: -1, spec: -1, sourceRun: i})
		}
	}
	if n.web != nil {
		n.openingsUp = make([][]int, len(n.spec.Runs))
		for i := range n.inlets {
			n.downstream(n.inlets[i].point, func(r int) { n.openingsUp[r] = append(n.openingsUp[r], i) })
		}
		return
	}
	n.inletsAt = make([][]int, len(n.parent))
	n.leaksAt = make([][]int, len(n.parent))
	for i := range n.inlets {
		n.inletsAt[n.inlets[i].node] = append(n.inletsAt[n.inlets[i].node], i)
	}
	for i := range n.leaks {
		n.leaksAt[n.leaks[i].node] = append(n.leaksAt[n.leaks[i].node], i)
	}
}

// addPort adds a port.
func (n *Network) addPort(tool, i int, rho float64) {
	port := &n.spec.Tools[tool].Ports[i]
	var leak units.Area
	if port.Gate != nil {
		leak = port.Gate.Leak
	}
	n.addInlet(inlet{tool: tool, port: i, bleed: -1, gated: port.Gate != nil, leak: -1,
		r: n.portLoss(tool, i, rho)}, n.point[port.At], leak)
}

// portLoss is the resistance of a port, Pa/(m³/s)²: machine, gate and the
// change of size behind it.
func (n *Network) portLoss(tool, i int, rho float64) float64 {
	port := &n.spec.Tools[tool].Ports[i]
	area := circle(port.Diameter)
	k := port.Entry
	if port.Gate != nil {
		k += port.Gate.Open
	}
	p := n.point[port.At]
	if o := n.out[p]; o >= 0 && len(n.in[p]) == 0 && n.spec.Runs[o].K.Steps == nil {
		first := &n.spec.Runs[o].Pieces[0]
		step := taperLoss(float64(port.Diameter), float64(first.Diameter), first.Make.TaperDegrees)
		small := min(area, circle(first.Diameter))
		k += step * (area / small) * (area / small)
	}
	return k * rho / 2 / (area * area)
}

func (n *Network) addInlet(in inlet, p int, leak units.Area) {
	in.node, in.point = n.pointNode[p], p
	if leak > 0 {
		in.leak = len(n.leaks)
		n.leaks = append(n.leaks, leakLaw{node: in.node, point: p, cd: loss.OrificeCd, area: float64(leak),
			whenShut: len(n.inlets), spec: -1, sourceRun: -1})
	}
	n.inlets = append(n.inlets, in)
}
