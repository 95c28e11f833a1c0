package network

import "slices"

// web is the graph of a network of any shape as the general solver takes it:
// the nodes of the points, the wyes inside them as zero-length links, and who
// shares a joint with whom. It holds no coefficient and is shared by all
// variants of a network.
type web struct {
	nodes int
	// links: runs first, then fans, then zero-length links inside points.
	from, to []int
	inner    int // the first zero-length link
	joints   []webJoint
	// own is the node of a point at which its openings stand.
	own []int
	// leaving is the link whose velocity sets the static pressure at a point,
	// −1 for none.
	leaving []int
	fans    []int // link of each collector
}

// webJoint is a leg of a wye: the loss of link, at the end where it meets the
// common one.
type webJoint struct {
	link, common int
	joint        int // index into topology.joints
	run          int // the run that link is, −1 inside a point
	main         bool
	splits       bool // the file has the air part here
}

// spread makes the web. Links of runs have the numbers of the runs.
func (t *topology) spread(s *Spec) {
	w := &web{own: make([]int, len(s.Points)), leaving: make([]int, len(s.Points)), fans: make([]int, len(s.Collectors))}
	w.from, w.to = make([]int, len(s.Runs)), make([]int, len(s.Runs))
	t.calmMain = make([]int, len(s.Points))
	t.runNode = make([]int, len(s.Runs))
	standing := map[int]int{} // point → the link of the fan there
	for i := range s.Collectors {
		p := t.homes[i]
		if _, ok := standing[p]; !ok {
			standing[p] = len(w.from)
			w.from, w.to = append(w.from, -1), append(w.to, -1)
		}
		w.fans[i] = standing[p]
	}
	w.inner = len(w.from)
	t.web = w
	for p := range s.Points {
		fan := -1
		if l, ok := standing[p]; ok {
			fan = l
		}
		t.spreadPoint(s, p, fan)
	}
	t.pointNode = w.own
}

func (w *web) node() int {
	w.nodes++
	return w.nodes - 1
}

// zero adds a zero-length link.
func (w *web) zero(from, to int) int {
	w.from, w.to = append(w.from, from), append(w.to, to)
	return len(w.from) - 1
}

// spreadPoint makes the nodes and joints of a point: the runs in come together
// wye after wye, then the runs out part one after the other, the main last.
func (t *topology) spreadPoint(s *Spec, p, fan int) {
	w := t.web
	legs := t.legs(s, p)
	for k := 1; k < len(legs); k++ {
		if !t.straighter(s, p, legs[0], legs[k]) && !slices.Contains(t.ties, p) {
			t.ties = append(t.ties, p)
		}
	}
	t.calmMain[p] = -1
	if len(legs) > 0 && s.Runs[legs[0]].K.Junction != nil {
		t.calmMain[p] = legs[0]
	}
	outs := slices.DeleteFunc(slices.Clone(t.outs[p]), func(r int) bool { return r == t.out[p] })
	main := fan
	if main < 0 {
		main = t.out[p]
	}
	// The last node of the coming together; stages before it.
	stages := max(1, len(legs)-1)
	nodes := make([]int, stages)
	for k := range nodes {
		nodes[k] = w.node()
	}
	last := nodes[stages-1]
	w.own[p] = last
	for k := 1; k < stages; k++ {
		w.zero(nodes[k-1], nodes[k])
	}
	before := len(w.from) - stages + 1 // zero link from stage 0 to 1
	common := main
	if len(outs) > 0 && len(legs) > 1 {
		end := w.node()
		common = w.zero(last, end)
		last = end
	}
	for k := range stages {
		joint := Joint{Point: s.Points[p].ID, Main: -1, Branch: -1, Common: t.out[p]}
		into := common
		if k+1 < stages {
			into = before + k
		}
		if k == 0 && len(legs) > 0 {
			joint.Main = legs[0]
			w.to[legs[0]] = nodes[0]
		}
		if len(legs) > 1 {
			joint.Branch = legs[k+1]
			w.to[legs[k+1]] = nodes[k]
		}
		if len(legs) == 0 {
			break
		}
		t.bend(s, &joint, legs)
		index := len(t.joints)
		t.joints = append(t.joints, joint)
		if into < 0 { // a dead end: nothing is joined
			continue
		}
		if k > 0 {
			w.joints = append(w.joints, webJoint{link: before + k - 1, common: into, joint: index, run: -1, main: true})
		}
		for _, r := range [2]int{joint.Main, joint.Branch} {
			if r >= 0 {
				w.joints = append(w.joints, webJoint{link: r, common: into, joint: index, run: r, main: r == joint.Main})
			}
		}
	}
	if len(legs) == 1 {
		common = legs[0]
	}
	t.part(s, p, last, common, main, outs, legs)
	w.leaving[p] = common
	if len(legs) <= 1 {
		w.leaving[p] = main
	}
}

// part makes the joints where runs leave a point, from the node at which the
// common link ends.
func (t *topology) part(s *Spec, p, at, common, main int, outs, legs []int) {
	w := t.web
	if main >= 0 {
		w.from[main] = at
	}
	for k, r := range outs {
		w.from[r] = at
		through := main
		if k+1 < len(outs) {
			next := w.node()
			through = w.zero(at, next)
			at = next
			if main >= 0 {
				w.from[main] = at
			}
		}
		if len(legs) == 0 || common < 0 {
			continue // fed by openings of the point alone: no common duct
		}
		joint := Joint{Point: s.Points[p].ID, Main: -1, Branch: r, Common: legs[0], Splits: true}
		if through == t.out[p] {
			joint.Main = through
		}
		joint.BranchBend = t.leaveTurn(legs[0], r)
		index := len(t.joints)
		t.joints = append(t.joints, joint)
		w.joints = append(w.joints, webJoint{link: r, common: common, joint: index, run: r, splits: true})
		if through >= 0 {
			w.joints = append(w.joints, webJoint{link: through, common: common, joint: index, run: joint.Main, main: true, splits: true})
		}
		common = through
	}
}

// leaveTurn is the angle by which air turns from run in into run out.
func (t *topology) leaveTurn(in, out int) float64 {
	if !t.routes[in].Placed || !t.routes[out].Placed {
		return defaultTurn
	}
	return angle(t.routes[in].End, t.routes[out].Start)
}

// chooseOut makes, at each point that several runs leave, the one the main
// that turns least from the widest run in; of equals the widest, then the
// first.
func (t *topology) chooseOut(s *Spec) {
	for _, p := range t.homes {
		t.out[p] = -1 // the fan is the way on
	}
	for p, outs := range t.outs {
		if len(outs) < 2 || t.out[p] < 0 {
			continue
		}
		in := -1
		for _, r := range t.in[p] {
			if in < 0 || lastDiameter(&s.Runs[r]) > lastDiameter(&s.Runs[in]) {
				in = r
			}
		}
		turn := func(r int) float64 {
			if in < 0 {
				return 0
			}
			return t.leaveTurn(in, r)
		}
		best := outs[0]
		alike := false
		for _, r := range outs[1:] {
			d := turn(r) - turn(best)
			wider := s.Runs[r].Pieces[0].Diameter - s.Runs[best].Pieces[0].Diameter
			switch {
			case d < -straightDegrees || d < straightDegrees && wider > 0:
				best, alike = r, false
			case d < straightDegrees && wider == 0:
				alike = true
			}
		}
		if t.out[p] = best; alike {
			t.ties = append(t.ties, p)
		}
	}
}

// isTree reports whether every point has one way to the one collector.
func (t *topology) isTree() bool {
	if slices.ContainsFunc(t.homes, func(p int) bool { return p != t.root }) || t.out[t.root] >= 0 {
		return false
	}
	reached := make([]bool, len(t.out))
	reached[t.root] = true
	for todo := []int{t.root}; len(todo) > 0; {
		p := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for _, r := range t.in[p] {
			// No point comes twice: each has one run out, or the answer is
			// no anyway.
			if from := t.from[r]; !reached[from] {
				reached[from] = true
				todo = append(todo, from)
			}
		}
	}
	for p, outs := range t.outs {
		if len(outs) > 1 || !reached[p] && len(t.in[p])+len(outs) > 0 {
			return false
		}
	}
	return true
}

// Ties names the points, in a network that is no tree, at which two runs come in
// or lead on alike, by angle and width: the first in the file counts as the
// straight one, the others as branches. Where the two are opposite each other no
// published coefficient fits either.
func (n *Network) Ties() []string {
	var out []string
	for _, p := range n.ties {
		out = append(out, n.spec.Points[p].ID)
	}
	return out
}

// IsTree reports whether every point has one way to the one collector. The
// search for a redesign asks for that.
func (n *Network) IsTree() bool { return n.web == nil }
