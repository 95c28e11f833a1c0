package shopfile

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wyewright/network"
)

// connect checks that the runs make a tree toward the collector, and what
// needs more than one part of the file to judge.
func (d *decoder) connect() {
	s := &d.file.Spec
	root := d.root()
	out := map[string][]int{}
	misdirected := false
	for i, r := range s.Runs {
		if r.From == "" || r.To == "" {
			continue
		}
		if r.From == r.To {
			d.fault(d.runNodes[i], "", "run %q starts and ends at %s", r.ID, r.From)
			misdirected = true
			continue
		}
		out[r.From] = append(out[r.From], i)
	}
	w := &walker{d: d, root: root, out: out}
	before := len(d.faults)
	w.cycles()
	for i, r := range s.Runs {
		if first := out[r.From]; len(first) > 1 && first[0] == i && r.From != root {
			w.twoOutlets(r.From, first)
		}
	}
	if root != "" {
		for _, i := range out[root] {
			d.fault(d.runNodes[i], "runs go toward the collector: from the machine, to the fan",
				"run %q leads away from the collector", s.Runs[i].ID)
		}
		if len(d.faults) == before && !misdirected {
			d.unconnected(w)
		}
	}
	for i := range s.Runs {
		d.runLength(i)
	}
	d.portsAndHoses(out)
}

// root is the point of the collectors; all must stand at the same one.
func (d *decoder) root() string {
	root := ""
	for i, n := range d.rootNodes {
		switch {
		case i == 0:
			root = n.text
		case n.text != root:
			d.fault(n, "one collector is in place at a time; give both the same point",
				"this collector stands at %s, the first one at %s", n.text, root)
		}
	}
	return root
}

// walker follows runs toward the collector.
type walker struct {
	d    *decoder
	root string
	out  map[string][]int
}

// way lists the runs from a point on, by the first outlet of each point, until
// it ends or comes back to a run that it holds.
func (w *walker) way(point string) (runs []int, end string, cycle bool) {
	for len(w.out[point]) > 0 && point != w.root {
		next := w.out[point][0]
		if slices.Contains(runs, next) {
			return runs, point, true
		}
		runs = append(runs, next)
		point = w.d.file.Spec.Runs[next].To
	}
	return runs, point, false
}

// cycles reports every closed circle of runs once, at its first run.
func (w *walker) cycles() {
	found := map[int]bool{}
	for i, r := range w.d.file.Spec.Runs {
		if found[i] {
			continue
		}
		runs, point, cycle := w.way(r.From)
		if !cycle {
			continue
		}
		start := slices.IndexFunc(runs, func(k int) bool { return w.d.file.Spec.Runs[k].From == point })
		if circle := runs[start:]; !found[circle[0]] {
			w.loop(circle)
			for _, k := range circle {
				found[k] = true
			}
		}
	}
}

// loop refuses a loop and names its runs.
func (w *walker) loop(runs []int) {
	runs = slices.Sorted(slices.Values(runs))
	var names []string
	for _, k := range runs {
		names = append(names, fmt.Sprintf("%q", w.d.file.Spec.Runs[k].ID))
	}
	w.d.fault(w.d.runNodes[runs[0]], "loops are not solved yet: take one of these runs out, each point having one way to the collector",
		"the runs %s form a loop", strings.Join(names, ", "))
}

// twoOutlets reports a point that more than one run leaves: a loop where the
// ways meet again.
func (w *walker) twoOutlets(point string, outlets []int) {
	runs := w.d.file.Spec.Runs
	first, end, _ := w.way(point)
	for _, second := range outlets[1:] {
		other, otherEnd, _ := w.way(runs[second].To)
		other = append([]int{second}, other...)
		if end == otherEnd {
			shared := func(list []int) func(int) bool {
				return func(k int) bool { return slices.Contains(list, k) }
			}
			a := slices.DeleteFunc(slices.Clone(first), shared(other))
			b := slices.DeleteFunc(slices.Clone(other), shared(first))
			w.loop(append(a, b...))
			continue
		}
		w.d.fault(w.d.runNodes[second], "each point has one way to the collector; exchange from and to of the run that is reversed",
			"two runs leave point %s: %q and %q", point, runs[outlets[0]].ID, runs[second].ID)
	}
}

// unconnected reports each point at which a way ends short of the collector:
// once, however many tools and runs lead there.
func (d *decoder) unconnected(w *walker) {
	used, told := d.usedPoints(), map[string]bool{w.root: true}
	dead := func(point string) (end string, is bool) {
		_, end, cycle := w.way(point)
		is = !cycle && !told[end]
		told[end] = true
		return end, is
	}
	for _, p := range d.portNodes {
		if len(w.out[p.point]) > 0 {
			continue
		}
		if _, is := dead(p.point); is {
			d.fault(p.at, d.nearbyPoint(p.point), "tool %q is not connected: no run leaves point %s", p.tool, p.point)
		}
	}
	for _, p := range d.file.Spec.Points {
		end, is := dead(p.ID)
		switch {
		case !is:
		case !used[end]:
			d.fault(d.named[end].at, "take it out, or let a run start or end there", "point %s is not connected to anything", end)
		default:
			d.fault(d.named[end].at, d.nearbyPoint(end), "point %s is not connected to the collector: no run leaves it", end)
		}
	}
}

// nearbyPoint is a hint for a point that may be a mistyped other one.
func (d *decoder) nearbyPoint(name string) string {
	hint := "add a run from it toward the collector"
	if _, placed := d.placeOf(name); placed {
		return hint
	}
	if near := nearest(name, d.otherPoints(name)); near != "" {
		return fmt.Sprintf("did you mean %q? or %s", near, hint)
	}
	return hint
}

func (d *decoder) otherPoints(name string) []string {
	return slices.DeleteFunc(d.known(isPoint), func(p string) bool { return p == name })
}

// runLength checks the length of a run against the places of its points.
func (d *decoder) runLength(i int) {
	r, f := &d.file.Spec.Runs[i], d.runFields[i]
	from, ok1 := d.placeOf(r.From)
	to, ok2 := d.placeOf(r.To)
	length, open := 0.0, len(r.Pieces) == 0
	for _, p := range r.Pieces {
		length += float64(p.Length)
		open = open || p.Length == 0
	}
	placed := ok1 && ok2
	switch {
	case r.From == r.To || r.From == "" || r.To == "" || len(r.Pieces) == 0 || d.misplaced[r.From] || d.misplaced[r.To]:
		return
	case open && !placed && !f.given["length"] && !d.faultIn(f.n):
		d.fault(d.runNodes[i], "add length: 3.2 m, or give both its points coordinates", "run %q has no length", r.ID)
		return
	case !placed:
		return
	}
	straight, along := spans(from, to, r.Via)
	switch {
	case open && (along < 1e-6 || along <= length):
		d.fault(d.runNodes[i], "add a length, or correct the coordinates",
			"run %q: its points leave no length for the piece that has none", r.ID)
	case !open && length < straight*0.99:
		at := d.runNodes[i]
		if n := f.at("length"); n != nil {
			at = n
		}
		d.warn(at, "check the length and the coordinates", "run %q is %.2f m long, but its points are %.2f m apart",
			r.ID, length, straight)
	}
}

// faultIn reports whether a fault was found in the lines of a node, so that
// no other is built upon it.
func (d *decoder) faultIn(n *node) bool {
	return slices.ContainsFunc(d.faults, func(f *Diagnostic) bool { return f.Line >= n.line && f.Line <= n.endLine })
}

// spans returns the distance of two places through the corners, in a straight
// line and along the axes; with corners both are the same.
func spans(from, to network.Vec, via []network.Vec) (straight, along float64) {
	last := from
	for _, v := range append(slices.Clone(via), to) {
		dx, dy, dz := v.X-last.X, v.Y-last.Y, v.Z-last.Z
		straight += math.Sqrt(dx*dx + dy*dy + dz*dz)
		along += math.Abs(dx) + math.Abs(dy) + math.Abs(dz)
		last = v
	}
	if len(via) > 0 {
		along = straight
	}
	return straight, along
}

// portTolerance is how much narrower than its hose a port may be before it
// counts as smaller: 4 in and 100 mm go together.
const portTolerance = 0.97

// portsAndHoses warns where a hose is wider than the port it is pushed on.
func (d *decoder) portsAndHoses(out map[string][]int) {
	s := &d.file.Spec
	k := 0
	for _, t := range s.Tools {
		for _, p := range t.Ports {
			if p.At == "" || len(out[p.At]) == 0 {
				continue
			}
			r := &s.Runs[out[p.At][0]]
			if len(r.Pieces) == 0 || !r.Pieces[0].Make.Hose() || p.Diameter <= 0 {
				continue
			}
			if hose := r.Pieces[0]; float64(p.Diameter) < portTolerance*float64(hose.Diameter) {
				at := d.named[t.ID].at
				for ; k < len(d.portNodes); k++ {
					if d.portNodes[k].tool == t.ID && d.portNodes[k].point == p.At {
						at = d.portNodes[k].at
						break
					}
				}
				d.warn(at, "the step counts as a loss; check both sizes", "the port of %q (%s) is smaller than the hose on it (%s)",
					t.ID, p.Size, hose.Size)
			}
		}
	}
}
