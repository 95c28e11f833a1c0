package shopfile

import (
	"fmt"
	"slices"

	"wyewright/network"
)

// connect checks how the runs join up, and what needs more than one part of
// the file to judge. In a shop without loops and with one collector every run
// goes toward it, and one that does not is a slip; where runs form a loop, or
// collectors stand apart, the air finds its own way and every point only has to
// be joined to a collector.
func (d *decoder) connect() {
	s := &d.file.Spec
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
	w := &walker{d: d, out: out}
	if len(d.rootNodes) > 0 {
		w.root = d.rootNodes[0].text
	}
	switch {
	case d.joins():
		if before := len(d.faults); w.root != "" && !misdirected {
			if d.islands(); len(d.faults) == before {
				d.slips()
			}
		}
	default:
		w.toward(misdirected)
	}
	for i := range s.Runs {
		d.runLength(i)
	}
	d.portsAndHoses(out)
}

// joins reports whether two ways join any two points of the shop, or collectors
// stand at different points.
func (d *decoder) joins() bool {
	for _, n := range d.rootNodes {
		if n.text != d.rootNodes[0].text {
			return true
		}
	}
	group := map[string]string{}
	var find func(p string) string
	find = func(p string) string {
		if up, ok := group[p]; ok {
			group[p] = find(up)
			return group[p]
		}
		return p
	}
	for _, r := range d.file.Spec.Runs {
		if r.From == "" || r.To == "" || r.From == r.To {
			continue
		}
		a, b := find(r.From), find(r.To)
		if a == b {
			return true
		}
		group[a] = b
	}
	return false
}

// slips reports what is written the wrong way round although the shop has
// loops.
func (d *decoder) slips() {
	s := &d.file.Spec
	for _, slip := range network.Slips(s) {
		if slip.Run >= 0 {
			d.fault(d.runNodes[slip.Run], "exchange its from and to: runs go toward the collector",
				"run %q leads away from the collector", s.Runs[slip.Run].ID)
			continue
		}
		id := s.Points[slip.Point].ID
		d.fault(d.named[id].at, "exchange from and to of the run that leads on from there", "no run leaves point %s", id)
	}
}

// islands reports each point in use that no way joins to a collector.
func (d *decoder) islands() {
	reached := map[string]bool{}
	for _, n := range d.rootNodes {
		reached[n.text] = true
	}
	for grown := true; grown; {
		grown = false
		for _, r := range d.file.Spec.Runs {
			if reached[r.From] != reached[r.To] {
				reached[r.From], reached[r.To], grown = true, true, true
			}
		}
	}
	for _, p := range d.portNodes {
		if !reached[p.point] {
			d.fault(p.at, d.nearbyPoint(p.point), "tool %q is not connected: nothing joins point %s to a collector", p.tool, p.point)
			reached[p.point] = true
		}
	}
	for _, p := range d.file.Spec.Points {
		if !reached[p.ID] {
			d.fault(d.named[p.ID].at, d.nearbyPoint(p.ID), "point %s is not connected to a collector", p.ID)
		}
	}
}

// walker follows runs toward the collector.
type walker struct {
	d    *decoder
	root string
	out  map[string][]int
}

// toward reports what does not lead to the one collector of a shop without
// loops.
func (w *walker) toward(misdirected bool) {
	d, runs := w.d, w.d.file.Spec.Runs
	before := len(d.faults)
	for i, r := range runs {
		if outlets := w.out[r.From]; len(outlets) > 1 && outlets[0] == i && r.From != w.root {
			for _, second := range outlets[1:] {
				d.fault(d.runNodes[second], "each point has one way to the collector; exchange from and to of the run that is reversed",
					"two runs leave point %s: %q and %q", r.From, r.ID, runs[second].ID)
			}
		}
	}
	if w.root == "" {
		return
	}
	for _, i := range w.out[w.root] {
		d.fault(d.runNodes[i], "runs go toward the collector: from the machine, to the fan",
			"run %q leads away from the collector", runs[i].ID)
	}
	if len(d.faults) == before && !misdirected {
		d.unconnected(w)
	}
}

// end is the point at which the way from a point ends, by the first outlet of
// each point.
func (w *walker) end(point string) string {
	for len(w.out[point]) > 0 && point != w.root {
		point = w.d.file.Spec.Runs[w.out[point][0]].To
	}
	return point
}

// unconnected reports each point at which a way ends short of the collector:
// once, however many tools and runs lead there.
func (d *decoder) unconnected(w *walker) {
	if !slices.ContainsFunc(d.file.Spec.Runs, func(r network.Run) bool { return r.To == w.root }) {
		hint := "let the last run end there"
		if near := Nearest(w.root, d.otherPoints(w.root)); near != "" {
			hint = fmt.Sprintf("did you mean %q? or %s", near, hint)
		}
		d.fault(d.rootNodes[0], hint, "no run leads to %s, the point of the collector", w.root)
		return
	}
	used, told := d.usedPoints(), map[string]bool{w.root: true}
	dead := func(point string) (end string, is bool) {
		end = w.end(point)
		is = !told[end]
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
	if near := Nearest(name, d.otherPoints(name)); near != "" && len([]rune(name)) > 1 {
		return fmt.Sprintf("did you mean %q? or %s", near, hint)
	}
	return hint
}

// otherPoints are the points that may have been meant by a name: not those of
// other tools.
func (d *decoder) otherPoints(name string) []string {
	return slices.DeleteFunc(d.known(isPoint), func(p string) bool {
		return p == name || slices.ContainsFunc(d.portNodes, func(n portNode) bool { return n.point == p })
	})
}
