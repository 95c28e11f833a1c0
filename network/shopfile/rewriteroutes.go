package shopfile

import (
	"slices"
	"strings"

	"wyewright/network"
)

// routes writes what the edits do to the ways of the ducts: runs that go, turn
// or come, and what went with them. Nothing of it is done where no way changes.
func (w *rewriter) routes(e *Edits, want *meant) {
	if !e.reroutes() {
		return
	}
	w.strike([]string{"runs"}, len(e.AddRuns) > 0, func(name string, _ *node) bool { return slices.Contains(e.RemoveRuns, name) })
	for i := range want.spec.Runs {
		r := &want.spec.Runs[i]
		turned := slices.Contains(e.TurnRuns, r.ID)
		old := runIndex(&w.f.Spec, r.ID)
		if w.alone(e, r.ID) && !slices.Contains(e.Mains, r.ID) && (turned || !sameK(r.K, w.f.Spec.Runs[old].K)) {
			w.run(runChange{Run: r, turned: turned})
		}
	}
	w.addRuns(e, &want.spec)
	for _, section := range []struct {
		name     string
		refilled bool
		kept     []string
	}{{"leaks", len(e.Openings) > 0, idsOf(want.spec.Leaks, func(l network.Leak) string { return l.ID })},
		{"bleeds", len(e.Bleeds) > 0, slices.Concat(want.bleedPoints, idsOf(want.spec.Bleeds, func(b network.Bleed) string { return b.ID }), idsOf(e.Bleeds, func(b network.Bleed) string { return b.At }))},
		{"corridors", false, want.corridors}} {
		w.strike([]string{section.name}, section.refilled, func(name string, _ *node) bool { return !slices.Contains(section.kept, name) })
	}
	removed := func(name string, _ *node) bool { return runIndex(&want.spec, name) < 0 }
	w.strike([]string{"redesign", "keep"}, false, removed)
	w.strike([]string{"redesign", "only"}, false, removed)
	w.strike([]string{"points", "at"}, false, func(name string, _ *node) bool { return !w.pointNeeded(name, e, want) })
}

// alone reports whether a run is neither put in nor changed by itself.
func (w *rewriter) alone(e *Edits, id string) bool {
	return !slices.ContainsFunc(e.AddRuns, func(n NewRun) bool { return n.ID == id }) &&
		!slices.ContainsFunc(e.Runs, func(x RunEdit) bool { return x.Run == id }) &&
		!slices.ContainsFunc(e.Swaps, func(x SwapEdit) bool { return x.Run == id })
}

// addRuns puts new runs at the end of the section.
func (w *rewriter) addRuns(e *Edits, s *network.Spec) {
	var more []newPart
	for _, n := range e.AddRuns {
		r := &s.Runs[runIndex(s, n.ID)]
		words := append(w.ends(r), w.pieces(r.Pieces), "new: true")
		if r.Main {
			words = append(words, "main: true")
		}
		more = append(more, newPart{r.ID, words})
	}
	w.appendParts("runs", more)
}

// ends writes from, to and via of a run.
func (w *rewriter) ends(r *network.Run) []string {
	out := []string{"from: " + quoted(r.From), "to: " + quoted(r.To)}
	if len(r.Via) > 0 {
		var via []string
		for _, v := range r.Via {
			via = append(via, w.placeText(v))
		}
		out = append(out, "via: ["+strings.Join(via, ", ")+"]")
	}
	return out
}

// placeText writes a corner: the name of the point that is there, else its
// coordinates.
func (w *rewriter) placeText(v network.Vec) string {
	for _, p := range w.f.places {
		if samePlace(p.At, v) {
			w.corners[p.ID] = true
			return quoted(p.ID)
		}
	}
	var xyz []string
	for _, x := range []float64{v.X, v.Y, v.Z} {
		xyz = append(xyz, decimal(x/float64(w.f.unit)))
	}
	return "[" + strings.Join(xyz, ", ") + "]"
}

// pointNeeded reports whether anything in the new text uses a point.
func (w *rewriter) pointNeeded(name string, e *Edits, want *meant) bool {
	if pointsOf(&want.spec)[name] || w.corners[name] {
		return true
	}
	for _, id := range want.corridors {
		n := w.member("corridors", id)
		if n.child("from").text == name || n.child("to").text == name || names(n.child("via"), name) {
			return true
		}
	}
	return slices.ContainsFunc(want.spec.Runs, func(r network.Run) bool {
		if slices.Contains(e.TurnRuns, r.ID) || slices.ContainsFunc(e.AddRuns, func(n NewRun) bool { return n.ID == r.ID }) {
			return false // its corners are written anew
		}
		return names(w.member("runs", r.ID).child("via"), name)
	})
}

// names reports whether a list has the name as an item.
func names(n *node, name string) bool {
	return slices.ContainsFunc(itemsOf(n), func(item *node) bool { return item.kind == scalar && item.text == name })
}

func idsOf[T any](list []T, id func(T) string) []string {
	var out []string
	for _, x := range list {
		out = append(out, id(x))
	}
	return out
}
