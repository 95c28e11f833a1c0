package network

import (
	"fmt"
	"slices"
)

// topology is what a redesign never changes: who joins whom, the ways the
// runs take, and the expanded tree. It is shared by all variants of a
// network.
type topology struct {
	point, run, tool, leak, bleed map[string]int
	from, to                      []int // point of each run's ends
	in                            [][]int
	out                           []int // run leaving a point, the main one of several, −1 for none
	outs                          [][]int
	homes                         []int // point of each collector
	// web is set where the network is no tree; the fields of the expanded
	// tree are then empty.
	web    *web
	ties   []int // points of a web at which the file's order says what is straight
	root   int   // the first collector's point
	routes []Route
	joints []Joint
	// jointOf is the joint each node's link enters, −1 for none.
	jointOf []int

	// The expanded tree: node i has one link to parent[i] > i, the last node
	// is the root. A point with several branches is a chain of nodes.
	parent    []int
	runOf     []int // run of the link that leaves the node, −1 inside a point
	pointNode []int // the node at which a point's own inlets stand
	nodePoint []int
	runNode   []int // node whose link is the run
	// calmMain is, per point, the main whose as-built override stands for all
	// it loses there, −1 where there is none: while that main stays, as-built
	// wyes after the first lose nothing more.
	calmMain []int
	// toolsUp marks the tools upstream of each run.
	toolsUp [][]bool
}

// index fills the name tables and reports repeated names.
func (t *topology) index(s *Spec, f *faults) {
	table := func(kind string, n int, id func(int) string) map[string]int {
		m := make(map[string]int, n)
		for i := range n {
			name := id(i)
			if name == "" {
				f.add(fmt.Sprintf("%s/%d", kind, i), "has no name", "give it one")
			} else if _, ok := m[name]; ok {
				f.add(kind+"/"+name, "name used twice", "give each its own name")
			}
			m[name] = i
		}
		return m
	}
	t.point = table("points", len(s.Points), func(i int) string { return s.Points[i].ID })
	t.run = table("runs", len(s.Runs), func(i int) string { return s.Runs[i].ID })
	t.tool = table("tools", len(s.Tools), func(i int) string { return s.Tools[i].ID })
	t.leak = table("leaks", len(s.Leaks), func(i int) string { return s.Leaks[i].ID })
	t.bleed = table("bleeds", len(s.Bleeds), func(i int) string { return s.Bleeds[i].ID })
}

// connect resolves the ends of the runs and finds the root.
func (t *topology) connect(s *Spec, f *faults) {
	find := func(path, id string) int {
		p, ok := t.point[id]
		if !ok {
			f.add(path, fmt.Sprintf("no point %q", id), "name a point of the shop")
			return -1
		}
		return p
	}
	t.in = make([][]int, len(s.Points))
	t.outs = make([][]int, len(s.Points))
	t.out = make([]int, len(s.Points))
	for i := range t.out {
		t.out[i] = -1
	}
	for i := range s.Runs {
		r := &s.Runs[i]
		a, b := find("runs/"+r.ID, r.From), find("runs/"+r.ID, r.To)
		t.from, t.to = append(t.from, a), append(t.to, b)
		if a < 0 || b < 0 {
			continue
		}
		if a == b {
			f.add("runs/"+r.ID, "starts and ends at the same point", "")
			continue
		}
		if t.out[a] < 0 {
			t.out[a] = i
		}
		t.outs[a] = append(t.outs[a], i)
		t.in[b] = append(t.in[b], i)
	}
	t.root = -1
	for i := range s.Collectors {
		c := &s.Collectors[i]
		p := find("collectors/"+c.ID, c.At)
		t.homes = append(t.homes, p)
		if t.root < 0 {
			t.root = p
		}
	}
	if len(s.Collectors) == 0 {
		f.add("collectors", "there is none", "describe the collector")
	}
}

// connected reports runs and ports that no way joins to a collector.
func (t *topology) connected(s *Spec, f *faults) {
	seen := make([]bool, len(s.Points))
	var todo []int
	mark := func(p int) {
		if !seen[p] {
			seen[p] = true
			todo = append(todo, p)
		}
	}
	for _, p := range t.homes {
		mark(p)
	}
	for len(todo) > 0 {
		p := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for _, r := range t.in[p] {
			mark(t.from[r])
		}
		for _, r := range t.outs[p] {
			mark(t.to[r])
		}
	}
	for i := range s.Runs {
		if !seen[t.from[i]] {
			f.add("runs/"+s.Runs[i].ID, "does not reach the collector", "connect it")
		}
	}
	opening := func(path, at string) {
		if p, ok := t.point[at]; ok && !seen[p] {
			f.add(path, fmt.Sprintf("point %q is not connected to the collector", at), "add a run from it")
		}
	}
	for i := range s.Leaks {
		opening("leaks/"+s.Leaks[i].ID, s.Leaks[i].At)
	}
	for i := range s.Bleeds {
		opening("bleeds/"+s.Bleeds[i].ID, s.Bleeds[i].At)
	}
	for i := range s.Tools {
		for k, port := range s.Tools[i].Ports {
			if p, ok := t.point[port.At]; !ok {
				f.add(fmt.Sprintf("tools/%s/ports/%d", s.Tools[i].ID, k), fmt.Sprintf("no point %q", port.At), "")
			} else if !seen[p] {
				f.add(fmt.Sprintf("tools/%s/ports/%d", s.Tools[i].ID, k),
					fmt.Sprintf("point %q is not connected to the collector", port.At), "add a run from it")
			}
		}
	}
}

// order returns the points of a tree from the leaves to the root.
func (t *topology) order() []int {
	var post []int
	var visit func(p int)
	visit = func(p int) {
		for _, r := range t.in[p] {
			visit(t.from[r])
		}
		post = append(post, p)
	}
	visit(t.root)
	return post
}

// expand numbers the nodes and makes the joints, leaves first.
func (t *topology) expand(s *Spec, order []int) {
	t.pointNode = make([]int, len(s.Points))
	t.runNode = make([]int, len(s.Runs))
	t.calmMain = make([]int, len(s.Points))
	for i := range t.pointNode {
		t.pointNode[i] = -1
	}
	node := func(p int) int {
		t.parent = append(t.parent, -1)
		t.runOf = append(t.runOf, -1)
		t.jointOf = append(t.jointOf, -1)
		t.nodePoint = append(t.nodePoint, p)
		return len(t.parent) - 1
	}
	for _, p := range order {
		legs := t.legs(s, p)
		t.calmMain[p] = -1
		if len(legs) > 0 && s.Runs[legs[0]].K.Junction != nil {
			t.calmMain[p] = legs[0]
		}
		stages := max(1, len(legs)-1)
		prev := -1
		for k := range stages {
			n := node(p)
			var enter []int
			if prev >= 0 {
				enter = append(enter, prev)
			}
			joint := Joint{Point: s.Points[p].ID, Main: -1, Branch: -1, Common: t.out[p]}
			if k == 0 && len(legs) > 0 {
				joint.Main = legs[0]
				enter = append(enter, t.pointNode[t.from[legs[0]]])
			}
			if len(legs) > 1 {
				joint.Branch = legs[k+1]
				enter = append(enter, t.pointNode[t.from[legs[k+1]]])
			}
			for _, up := range enter {
				t.parent[up] = n
				t.jointOf[up] = len(t.joints)
			}
			if len(enter) > 0 {
				t.bend(s, &joint, legs)
				t.joints = append(t.joints, joint)
			}
			prev = n
		}
		t.pointNode[p] = prev
		if r := t.out[p]; r >= 0 {
			t.runOf[prev] = r
			t.runNode[r] = prev
		}
	}
}

// legs returns the runs into a point, the main first, then the branches in
// the order of the file. The main is the run that says so, else the
// straightest; equals are settled by diameter, then by order.
func (t *topology) legs(s *Spec, p int) []int {
	legs := slices.Clone(t.in[p])
	if len(legs) < 2 {
		return legs
	}
	best := 0
	for k := 1; k < len(legs); k++ {
		if t.straighter(s, p, legs[k], legs[best]) {
			best = k
		}
	}
	main := legs[best]
	return append([]int{main}, slices.Delete(legs, best, best+1)...)
}

// straighter reports whether run a is rather the main at p than run b.
func (t *topology) straighter(s *Spec, p, a, b int) bool {
	if s.Runs[a].Main != s.Runs[b].Main {
		return s.Runs[a].Main
	}
	if o := t.out[p]; o >= 0 && t.routes[o].Placed && t.routes[a].Placed && t.routes[b].Placed {
		ta, tb := angle(t.routes[a].End, t.routes[o].Start), angle(t.routes[b].End, t.routes[o].Start)
		if d := ta - tb; d < -straightDegrees || d > straightDegrees {
			return d < 0
		}
	}
	return lastDiameter(&s.Runs[a]) > lastDiameter(&s.Runs[b])
}

func lastDiameter(r *Run) float64 {
	if len(r.Pieces) == 0 {
		return 0
	}
	return float64(r.Pieces[len(r.Pieces)-1].Diameter)
}

// oppositeDegrees is the angle between two branches above which they count
// as entering opposite each other.
const oppositeDegrees = 150

// defaultTurn is the angle between branch and main where the file gives no
// coordinates: square to it.
const defaultTurn = 90

// bend fills the angles of a joint from the ways of its runs. WyeDegrees and
// BranchBend hold the whole turn here; build splits it when it knows the
// family's wye.
func (t *topology) bend(s *Spec, j *Joint, legs []int) {
	turn := func(r int, unknown float64) float64 {
		if j.Common < 0 || !t.routes[r].Placed || !t.routes[j.Common].Placed {
			return unknown
		}
		return angle(t.routes[r].End, t.routes[j.Common].Start)
	}
	if j.Main >= 0 {
		if j.MainBend = turn(j.Main, 0); j.MainBend <= straightDegrees {
			j.MainBend = 0
		}
	}
	if j.Branch < 0 {
		return
	}
	j.BranchBend = turn(j.Branch, defaultTurn)
	for _, o := range legs[1:] {
		if o != j.Branch && t.facing(o, j.Branch) {
			j.Opposite = true
		}
	}
}

// facing reports whether two runs end opposite each other.
func (t *topology) facing(a, b int) bool {
	return t.routes[a].Placed && t.routes[b].Placed && angle(t.routes[a].End, t.routes[b].End) > oppositeDegrees
}

// upstream fills toolsUp.
func (t *topology) upstream(s *Spec) {
	t.toolsUp = make([][]bool, len(s.Runs))
	for i := range t.toolsUp {
		t.toolsUp[i] = make([]bool, len(s.Tools))
	}
	for k := range s.Tools {
		for _, port := range s.Tools[k].Ports {
			t.downstream(t.point[port.At], func(r int) { t.toolsUp[r][k] = true })
		}
	}
}

// downstream visits every run that air from a point can pass on its way, as the
// file has the runs.
func (t *topology) downstream(p int, visit func(run int)) {
	seen := map[int]bool{p: true}
	for todo := []int{p}; len(todo) > 0; {
		p, todo = todo[len(todo)-1], todo[:len(todo)-1]
		for _, r := range t.outs[p] {
			visit(r)
			if to := t.to[r]; !seen[to] {
				seen[to] = true
				todo = append(todo, to)
			}
		}
	}
}
