package shopfile

import (
	"slices"

	"wyewright/network"
)

// Later is a tool that comes later: room is kept for it. Until then its branch
// is not there, and a redesign gives its joint a wye with a cap.
type Later struct {
	Tool string
	// Runs serve it alone, or with others that come later; Joints are the points
	// at which they meet duct that is there now, one for each port.
	Runs, Joints []string
}

// laterNode says where a tool is marked so.
type laterNode struct {
	tool string
	at   *node
}

// later works out which runs come with the tools that come later.
func (d *decoder) later() {
	s := &d.file.Spec
	switch {
	case len(d.laterNodes) == 0 || len(d.faults) > 0:
		return
	case len(d.laterNodes) == len(s.Tools):
		d.fault(d.laterNodes[0].at, "take the mark from the tools that are there now", "every tool comes later: there is no shop yet")
		return
	case d.joins():
		d.fault(d.laterNodes[0].at, "take the tool out until it comes", "a tool that comes later needs ducts with one way to one collector")
		return
	}
	isLater := func(tool string) bool {
		return slices.ContainsFunc(d.laterNodes, func(l laterNode) bool { return l.tool == tool })
	}
	now := map[string]bool{}
	for _, t := range s.Tools {
		for _, p := range t.Ports {
			if !isLater(t.ID) {
				for _, i := range wayOf(s, p.At) {
					now[s.Runs[i].ID] = true
				}
			}
		}
	}
	for _, l := range d.laterNodes {
		i := slices.IndexFunc(s.Tools, func(t network.Tool) bool { return t.ID == l.tool })
		one := Later{Tool: l.tool}
		for _, p := range s.Tools[i].Ports {
			joint := ""
			for _, i := range wayOf(s, p.At) {
				if r := &s.Runs[i]; !now[r.ID] {
					one.Runs, joint = append(one.Runs, r.ID), r.To
				}
			}
			if joint == "" {
				d.fault(l.at, "give it a run of its own, from its port to the joint that room is kept for", "tool %q comes later, but no run is its own: nothing would wait with a cap", l.tool)
			} else if !slices.Contains(one.Joints, joint) {
				one.Joints = append(one.Joints, joint)
			}
		}
		d.file.Later = append(d.file.Later, deadEndsOf(s, one))
		if !slices.ContainsFunc(d.file.States, func(s network.State) bool { return slices.Contains(s.Running, l.tool) }) {
			d.warn(l.at, "add a state that runs it, or: each alone", "tool %q comes later, but no state runs it: a redesign keeps no room for its flow", l.tool)
		}
	}
	if !slices.ContainsFunc(d.file.States, func(s network.State) bool { return len(s.Running) > 0 && !waits(d.file.Later, &s) }) {
		d.fault(d.laterNodes[0].at, "add a state without it, or: each alone", "every state runs a tool that comes later: none is left for now")
	}
}

// deadEndsOf adds the ducts that lead to nothing but the runs of a tool that comes
// later.
func deadEndsOf(s *network.Spec, l Later) Later {
	for _, r := range s.Runs {
		if slices.Contains(l.Runs, r.ID) {
			continue
		}
		if slices.ContainsFunc(wayOf(s, r.To), func(i int) bool { return slices.Contains(l.Runs, s.Runs[i].ID) }) && !feeds(s, r.From) {
			l.Runs = append(l.Runs, r.ID)
		}
	}
	return l
}

// feeds reports whether the air of any tool passes a point.
func feeds(s *network.Spec, point string) bool {
	for _, t := range s.Tools {
		for _, p := range t.Ports {
			if p.At == point || slices.ContainsFunc(wayOf(s, p.At), func(i int) bool { return s.Runs[i].To == point }) {
				return true
			}
		}
	}
	return false
}

// wayOf lists the runs from a point to the collector.
func wayOf(s *network.Spec, point string) []int {
	var out []int
	for len(out) <= len(s.Runs) {
		i := slices.IndexFunc(s.Runs, func(r network.Run) bool { return r.From == point })
		if i < 0 {
			break
		}
		out, point = append(out, i), s.Runs[i].To
	}
	return out
}

// LaterRuns lists the runs that come later, each once.
func (f *File) LaterRuns() []string {
	var out []string
	for _, r := range f.Spec.Runs {
		if slices.ContainsFunc(f.Later, func(l Later) bool { return slices.Contains(l.Runs, r.ID) }) {
			out = append(out, r.ID)
		}
	}
	return out
}

// LaterReady lists those of them whose wye a redesign has put there, with a cap.
func (f *File) LaterReady() []string {
	joints := f.laterJoints()
	var out []string
	for _, id := range f.LaterRuns() {
		if r := &f.Spec.Runs[runIndex(&f.Spec, id)]; r.New && slices.Contains(joints, r.To) {
			out = append(out, id)
		}
	}
	return out
}

// LaterTools lists the tools that come later.
func (f *File) LaterTools() []string { return idsOf(f.Later, func(l Later) string { return l.Tool }) }

// waits reports whether a state needs a tool that comes later, or a gate in its
// runs.
func waits(later []Later, s *network.State) bool {
	return slices.ContainsFunc(later, func(l Later) bool {
		return slices.Contains(s.Running, l.Tool) || slices.Contains(s.Open, l.Tool) ||
			slices.ContainsFunc(l.Runs, func(id string) bool { return slices.Contains(s.OpenGates, id) || slices.Contains(s.ShutGates, id) })
	})
}

// laterJoints are the points at which room is kept.
func (f *File) laterJoints() []string {
	var out []string
	for _, l := range f.Later {
		out = append(out, l.Joints...)
	}
	return out
}

// Waiting names the states that wait for a tool that comes later.
func (f *File) Waiting() []string {
	var out []string
	all := f
	if f.whole != nil {
		all = f.whole
	}
	for _, s := range all.States {
		if waits(f.Later, &s) {
			out = append(out, s.Name)
		}
	}
	return out
}

// Coming is the way of a run that comes later.
type Coming struct {
	Name     string
	From, To network.Vec
	Via      []network.Vec
}

// Coming lists the ways of the runs that come later, those whose two ends have
// coordinates.
func (f *File) Coming() []Coming {
	all := f
	if f.whole != nil {
		all = f.whole
	}
	var out []Coming
	for _, id := range all.LaterRuns() {
		r := &all.Spec.Runs[runIndex(&all.Spec, id)]
		from, ok1 := all.placeOf(r.From)
		to, ok2 := all.placeOf(r.To)
		if ok1 && ok2 {
			out = append(out, Coming{id, from, to, r.Via})
		}
	}
	return out
}

// Today is the shop without the tools that come later: their runs, what stands
// there and their states are left out. Its Rewrite and Set work on the whole
// file. A file without such tools is returned as it is.
func (f *File) Today() *File {
	if len(f.Later) == 0 || f.whole != nil {
		return f
	}
	g := *f
	g.whole = f
	s := cloneSpec(f.Spec)
	// A wye that a redesign has put there stands, with a cap: its run stays as a
	// dead end in which the air stands.
	gone, ready, tools := f.LaterRuns(), f.LaterReady(), f.LaterTools()
	had := pointsOf(&s)
	runs := slices.Clone(s.Runs)
	s.Runs = slices.DeleteFunc(s.Runs, func(r network.Run) bool { return slices.Contains(gone, r.ID) })
	s.Tools = slices.DeleteFunc(s.Tools, func(t network.Tool) bool { return slices.Contains(tools, t.ID) })
	dropLoose(&s)
	g.States = slices.DeleteFunc(slices.Clone(f.States), func(s network.State) bool { return waits(f.Later, &s) })
	ducted := ducts(&s)
	s.Runs = slices.DeleteFunc(runs, func(r network.Run) bool { return slices.Contains(gone, r.ID) && !slices.Contains(ready, r.ID) })
	used := pointsOf(&s)
	s.Points = slices.DeleteFunc(slices.Clone(s.Points), func(p network.Point) bool { return had[p.ID] && !used[p.ID] })
	g.Spec = s
	g.BleedPoints = slices.DeleteFunc(slices.Clone(f.BleedPoints), func(at string) bool { return !ducted[at] })
	left := func(id string) bool {
		return slices.ContainsFunc(s.Leaks, func(l network.Leak) bool { return l.ID == id })
	}
	g.Seals = slices.DeleteFunc(slices.Clone(f.Seals), func(x Seal) bool { return !left(x.Leak) })
	g.Repairs = slices.DeleteFunc(slices.Clone(f.Repairs), func(r Repair) bool { return slices.Contains(tools, r.Tool) || slices.Contains(gone, r.Run) })
	g.Redesign.Keep = slices.DeleteFunc(slices.Clone(f.Redesign.Keep), func(id string) bool { return slices.Contains(gone, id) })
	g.Redesign.Keep = append(g.Redesign.Keep, ready...)
	g.Redesign.Only = slices.DeleteFunc(slices.Clone(f.Redesign.Only), func(o OnlySizes) bool { return slices.Contains(gone, o.Run) })
	return &g
}
