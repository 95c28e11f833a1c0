package shopfile

import (
	"fmt"
	"slices"
	"strings"
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
