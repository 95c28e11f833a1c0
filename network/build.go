package network

import (
	"math"

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
	j := n.joints[i]
	if j.Branch < 0 {
		return j
	}
	turn := j.BranchBend
	j.WyeDegrees = defaultWye
	if j.Common >= 0 {
		if w := n.spec.Runs[j.Common].Pieces[0].Make.WyeDegrees; w > 0 {
			j.WyeDegrees = w
		}
	}
	j.BranchBend = math.Abs(turn - j.WyeDegrees)
	if j.BranchBend <= straightDegrees {
		j.BranchBend = 0
	}
	return j
}

// asBuilt reports whether every run at a point still is what it was.
func (n *Network) asBuilt(p int) bool {
	if o := n.out[p]; o >= 0 && n.spec.Runs[o].New {
		return false
	}
	for _, r := range n.in[p] {
		if n.spec.Runs[r].New {
			return false
		}
	}
	return true
}

// overriddenMain reports whether the main at a point carries an override for
// everything it loses there: then the stages between its wyes lose nothing
// more.
func (n *Network) overriddenMain(p int) bool {
	if !n.asBuilt(p) {
		return false
	}
	for _, r := range n.in[p] {
		i := n.runNode[r]
		if j := n.jointOf[i]; n.joints[j].Main == r {
			return n.spec.Runs[r].K.Junction != nil
		}
	}
	return false
}

// buildJoints computes what each link loses at the joint it enters.
func (n *Network) buildJoints(rho float64) {
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

// common is the area of the duct that leaves a point: the first piece of its
// run, or the collector's inlet at the root.
func (n *Network) common(p int) float64 {
	if o := n.out[p]; o >= 0 {
		return n.pieces[o][0].area
	}
	return circle(n.spec.Collectors[0].Inlet)
}

// commonPiece is the duct that leaves a point, as a piece.
func (n *Network) commonPiece(p int) Piece {
	if o := n.out[p]; o >= 0 {
		return n.spec.Runs[o].Pieces[0]
	}
	c := &n.spec.Collectors[0]
	return Piece{Size: c.InletSize, Diameter: c.Inlet}
}

// buildLeg computes the leg of node i's link at a joint. Overrides and losses
// on the run's own velocity pressure go into the run's last piece.
func (n *Network) buildLeg(i, jointIndex int, rho float64) {
	j := n.joint(jointIndex)
	p := n.nodePoint[n.parent[i]]
	ac := n.common(p)
	run := n.runOf[i]
	var own *coef // the last piece of the run that enters
	am := ac
	if run >= 0 {
		r := &n.spec.Runs[run]
		own = &n.pieces[run][len(n.pieces[run])-1]
		am = own.area
		last := &r.Pieces[len(r.Pieces)-1]
		if run == j.Branch && r.K.Bends == nil {
			own.k += elbow(last.Make, j.BranchBend)
		}
		if r.K.Junction != nil && n.asBuilt(p) {
			own.k += *r.K.Junction
			return
		}
		if run == j.Main {
			own.k += elbow(last.Make, j.MainBend)
			common := n.commonPiece(p)
			// A main larger than the duct it becomes is drawn in before the
			// wye; one that only changes size has a taper. A main that grows
			// at a wye is part of the wye's own formula.
			if j.Branch < 0 || am > ac {
				step := stepLoss(last, &common)
				small := min(am, ac)
				own.k += step * (am / small) * (am / small)
			}
		}
	}
	if j.Branch < 0 || (run < 0 && n.overriddenMain(p)) {
		return
	}
	l := &n.legs[i]
	l.c = rho / 2 / (ac * ac)
	ab := n.lastArea(j.Branch)
	if j.Main >= 0 {
		am = n.lastArea(j.Main)
	} else {
		am = ac
	}
	l.wye = loss.NewWye(ab, min(am, ac), ac, j.WyeDegrees)
	l.kind = legThrough
	if run >= 0 && run == j.Branch {
		l.kind = legBranch
	}
}

func (n *Network) lastArea(run int) float64 { return n.pieces[run][len(n.pieces[run])-1].area }

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
		in := inlet{node: n.pointNode[n.point[b.At]], tool: -1, bleed: k, gated: true, leak: -1,
			r: b.K * rho / 2 / (area * area)}
		n.addInlet(in, b.Leak)
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
		n.leaks = append(n.leaks, leakLaw{node: n.pointNode[n.point[l.At]], cd: cd, area: float64(l.Area),
			whenShut: -1, spec: k, sourceRun: -1})
	}
	for i := range s.Runs {
		if c := s.Runs[i].LeakClass; c > 0 {
			wall := 0.0
			for _, p := range s.Runs[i].Pieces {
				wall += math.Pi * float64(p.Diameter) * float64(p.Length)
			}
			n.leaks = append(n.leaks, leakLaw{node: n.pointNode[n.to[i]], surface: c * wall,
				whenShut: -1, spec: -1, sourceRun: i})
		}
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

// addPort adds a port: machine, gate and the change of size behind it.
func (n *Network) addPort(tool, i int, rho float64) {
	port := &n.spec.Tools[tool].Ports[i]
	p := n.point[port.At]
	area := circle(port.Diameter)
	k := port.Entry
	var leak units.Area
	if port.Gate != nil {
		k += port.Gate.Open
		leak = port.Gate.Leak
	}
	if o := n.out[p]; o >= 0 && len(n.in[p]) == 0 && n.spec.Runs[o].K.Steps == nil {
		first := &n.spec.Runs[o].Pieces[0]
		step := taperLoss(float64(port.Diameter), float64(first.Diameter), first.Make.TaperDegrees)
		small := min(area, n.pieces[o][0].area)
		k += step * (area / small) * (area / small)
	}
	n.addInlet(inlet{node: n.pointNode[p], tool: tool, port: i, bleed: -1, gated: port.Gate != nil, leak: -1,
		r: k * rho / 2 / (area * area)}, leak)
}

func (n *Network) addInlet(in inlet, leak units.Area) {
	if leak > 0 {
		in.leak = len(n.leaks)
		n.leaks = append(n.leaks, leakLaw{node: in.node, cd: loss.OrificeCd, area: float64(leak),
			whenShut: len(n.inlets), spec: -1, sourceRun: -1})
	}
	n.inlets = append(n.inlets, in)
}
