package optimize

import (
	"fmt"
	"slices"
	"strings"

	"wyewright/network"
	"wyewright/optimize/parts"
)

// notBuildable says why a variant cannot be had.
type notBuildable struct{ err error }

func (e *notBuildable) Error() string { return e.err.Error() }

func (e *notBuildable) Unwrap() error { return e.err }

// make formulates a variant.
func (w *Ways) make(p *pending) (*Variant, error) {
	spec, v := w.shop(p)
	n, err := network.New(spec)
	if err != nil {
		return nil, &notBuildable{err}
	}
	for _, id := range v.taken.Turned {
		if !w.samePlace(n, id) {
			return nil, &notBuildable{fmt.Errorf("%s: its air the other way: it would hang elsewhere, its corners (via) are not in the file", id)}
		}
	}
	v.old = fittings(w.n)
	v.kept = w.kept(n, v.old, p.option)
	floor := p.floor
	for i := range v.taken.Left {
		l := &v.taken.Left[i]
		lines, err := w.blank(l.ID, v.kept)
		if err != nil {
			return nil, &notBuildable{err}
		}
		if w.o.TakeDown {
			i, _ := w.n.RunIndex(l.ID)
			way := w.n.Route(i)
			lines = append(lines, w.b.Run(&w.n.Spec().Runs[i], network.Run{ID: l.ID}, parts.Route{Length: way.Length, Height: highest(way)})...)
			l.Down = true
		}
		l.Cost, _ = w.b.Cost(lines)
		floor += l.Cost
		v.lines = append(v.lines, lines...)
	}
	if o := p.option; o != nil {
		v.lines = append(v.lines, parts.Lump(o.Label, spec.Collectors[0].At, o.Cost))
	}
	o := w.optionsFor(&spec)
	o.variant = v
	problem, err := Formulate(n, w.statesOf(&spec), o, w.b)
	if err != nil {
		return nil, &notBuildable{err}
	}
	return &Variant{Label: v.taken.label(), Problem: problem, Floor: floor}, nil
}

// samePlace reports whether a turned run hangs where it hung: a way without
// corners of its own may depend on where it begins.
func (w *Ways) samePlace(n *network.Network, id string) bool {
	i, _ := w.n.RunIndex(id)
	k, _ := n.RunIndex(id)
	now := slices.Clone(n.Route(k).Path)
	slices.Reverse(now)
	return slices.Equal(now, w.n.Route(i).Path)
}

// shop is the description with the ducts of a tree and a collector.
func (w *Ways) shop(p *pending) (network.Spec, *variant) {
	spec := *w.n.Spec()
	v := &variant{build: map[string]*Corridor{}}
	v.taken.Collector = p.option
	used := map[int]bool{} // edge → turned
	for _, s := range p.tree {
		used[s.Link] = s.Reverse
	}
	var runs []network.Run
	for i := range spec.Runs {
		turned, ok := used[i]
		r := spec.Runs[i]
		if !ok {
			v.taken.Left = append(v.taken.Left, LeftRun{ID: r.ID, Was: describe(r.Pieces)})
			continue
		}
		if turned {
			r.Turn()
			v.taken.Turned = append(v.taken.Turned, r.ID)
		}
		runs = append(runs, r)
	}
	for i := range w.corridors {
		turned, ok := used[len(spec.Runs)+i]
		if !ok {
			continue
		}
		c := w.corridors[i]
		v.build[c.ID] = &w.corridors[i]
		v.taken.Built = append(v.taken.Built, c)
		r := network.Run{ID: c.ID, From: c.From, To: c.To, Via: c.Via, New: true, Pieces: w.piece(&c)}
		if turned {
			r.Turn()
		}
		runs = append(runs, r)
	}
	spec.Runs = runs
	w.lapse(&spec, v)
	at := points(runs)
	spec.Leaks = slices.DeleteFunc(slices.Clone(spec.Leaks), func(l network.Leak) bool { return !at[l.At] })
	spec.Bleeds = slices.DeleteFunc(slices.Clone(spec.Bleeds), func(b network.Bleed) bool { return !at[b.At] })
	if p.option != nil {
		spec.Collectors = slices.Clone(spec.Collectors)
		spec.Collectors = slices.DeleteFunc(spec.Collectors, func(c network.Collector) bool { return c.ID == p.option.Collector.ID })
		spec.Collectors = append([]network.Collector{p.option.Collector}, spec.Collectors...)
	}
	return spec, v
}

// lapse takes out what fittings lose as built wherever a run goes, comes or
// turns: nothing is known of what is left of them.
func (w *Ways) lapse(spec *network.Spec, v *variant) {
	at := map[string]bool{}
	touch := func(r *network.Run) { at[r.From], at[r.To] = true, true }
	was := w.n.Spec().Runs
	for i := range was {
		if v.taken.leaves(was[i].ID) || slices.Contains(v.taken.Turned, was[i].ID) {
			touch(&was[i])
		}
	}
	for i := range spec.Runs {
		if v.builds(spec.Runs[i].ID) {
			touch(&spec.Runs[i])
		}
	}
	for i := range spec.Runs {
		if at[spec.Runs[i].To] {
			spec.Runs[i].K.Junction = nil
		}
	}
}

// points are those that runs join.
func points(runs []network.Run) map[string]bool {
	at := map[string]bool{}
	for i := range runs {
		at[runs[i].From], at[runs[i].To] = true, true
	}
	return at
}

// piece stands for the duct of a corridor until its alternatives are known.
func (w *Ways) piece(c *Corridor) []network.Piece {
	for _, name := range w.o.Families {
		fam, ok := w.b.Catalog.Family(name)
		if ok && !fam.Hose && len(fam.Sizes) > 0 && !slices.Contains(c.Not, name) {
			p, _ := fam.Piece(fam.Sizes[0].Name, c.Length)
			return []network.Piece{p}
		}
	}
	return nil
}

// fitting is what meets at a point: the common duct, the main and the branches,
// each run with the point that its air comes from.
type fitting struct {
	common, main string
	branches     []string
}

// fittings lists what meets at each point of a network.
func fittings(n *network.Network) map[string]*fitting {
	out := map[string]*fitting{}
	for _, j := range n.Joints() {
		f := out[j.Point]
		if f == nil {
			f = &fitting{common: legName(n, j.Common), main: legName(n, j.Main)}
			out[j.Point] = f
		}
		if j.Branch >= 0 {
			f.branches = append(f.branches, legName(n, j.Branch))
		}
	}
	return out
}

// legName names a run by what it is and where its air comes from, "" for none.
func legName(n *network.Network, run int) string {
	if run < 0 {
		return ""
	}
	r := &n.Spec().Runs[run]
	return r.ID + "\x00" + r.From
}

// kept are the points at which the line can stay: the same main goes on into
// the same duct. An inlet of another size is no longer the one that was fitted.
func (w *Ways) kept(n *network.Network, before map[string]*fitting, o *CollectorOption) map[string]bool {
	kept := map[string]bool{}
	home := &w.n.Spec().Collectors[0]
	for point, f := range fittings(n) {
		old := before[point]
		kept[point] = old != nil && old.common == f.common && old.main == f.main
		if point == home.At && o != nil && o.Collector.InletSize != home.InletSize {
			kept[point] = false
		}
	}
	return kept
}

// blank shuts the openings that a run leaves in fittings that stay.
func (w *Ways) blank(id string, kept map[string]bool) ([]parts.Line, error) {
	i, _ := w.n.RunIndex(id)
	r := &w.n.Spec().Runs[i]
	if !kept[r.To] {
		return nil, nil
	}
	last := &r.Pieces[len(r.Pieces)-1]
	families := append([]string{last.Make.Family}, w.o.Families...)
	for _, name := range families {
		if fam, ok := w.b.Catalog.Family(name); ok && !fam.Hose {
			if s, ok := fam.Mate(last.Size); ok {
				lines := w.b.Blank(s.Name, fam.Name, []string{r.To})
				if _, unpriced := w.b.Cost(lines); len(unpriced) == 0 {
					return lines, nil
				}
			}
		}
	}
	return nil, fmt.Errorf("optimize: no cap for what %q leaves open at %q", id, r.To)
}

// optionsFor are the options as far as the shop still has what they name.
func (w *Ways) optionsFor(spec *network.Spec) Options {
	o := w.o
	at := points(spec.Runs)
	run := func(id string) bool {
		return slices.ContainsFunc(spec.Runs, func(r network.Run) bool { return r.ID == id })
	}
	o.Keep = slices.DeleteFunc(slices.Clone(o.Keep), func(id string) bool { return !run(id) })
	o.Bleeds = slices.DeleteFunc(slices.Clone(o.Bleeds), func(id string) bool { return !at[id] })
	return o
}

// statesOf are the states without gates of runs that are gone.
func (w *Ways) statesOf(spec *network.Spec) []network.State {
	out := slices.Clone(w.states)
	gone := func(id string) bool {
		return !slices.ContainsFunc(spec.Runs, func(r network.Run) bool { return r.ID == id })
	}
	bleed := func(id string) bool {
		had := slices.ContainsFunc(w.n.Spec().Bleeds, func(b network.Bleed) bool { return b.ID == id })
		return had && !slices.ContainsFunc(spec.Bleeds, func(b network.Bleed) bool { return b.ID == id })
	}
	for i := range out {
		out[i].OpenGates = slices.DeleteFunc(slices.Clone(out[i].OpenGates), gone)
		out[i].ShutGates = slices.DeleteFunc(slices.Clone(out[i].ShutGates), gone)
		out[i].Open = slices.DeleteFunc(slices.Clone(out[i].Open), bleed)
	}
	return out
}

// label says in words what a variant takes as decided.
func (t *Taken) label() string {
	var words []string
	for i := range t.Built {
		words = append(words, "duct along "+t.Built[i].ID)
	}
	for _, l := range t.Left {
		words = append(words, "without "+l.ID)
	}
	if t.Collector != nil {
		words = append(words, t.Collector.Label)
	}
	return strings.Join(words, ", ")
}
