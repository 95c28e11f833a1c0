package shopfile

import (
	"slices"

	"wyewright/network"
)

// meant is what an edited file is to say.
type meant struct {
	spec network.Spec
	// states are nil where the file keeps its own.
	states []network.State
	fitted network.Factors
	// collector is the one that the redesign assumes.
	collector                                 string
	corridors, keep, only, bleedPoints, later []string
}

// mean works out what the file says with the edits made.
func (f *File) mean(e *Edits) (*meant, error) {
	m := &meant{later: f.LaterTools(), spec: cloneSpec(f.Spec), states: e.States, fitted: f.Fitted, collector: f.Redesign.Collector, keep: f.Redesign.Keep, bleedPoints: f.BleedPoints,
		corridors: idsOf(f.Corridors, func(c Corridor) string { return c.ID }), only: idsOf(f.Redesign.Only, func(o OnlySizes) string { return o.Run })}
	if e.Fitted != nil {
		m.fitted = f.Fitted.Times(e.Fitted)
	}
	if err := e.apply(&m.spec); err != nil {
		return nil, err
	}
	if e.reroutes() {
		m.rerouted(f, e)
	}
	m.bleedPoints = slices.Clone(m.bleedPoints)
	for _, b := range e.Bleeds { // the place is taken
		if i := slices.Index(m.bleedPoints, b.At); i >= 0 {
			m.bleedPoints = slices.Delete(m.bleedPoints, i, i+1)
		}
	}
	if o := e.Collector; o != nil {
		return m, m.take(o)
	}
	return m, nil
}

// rerouted takes out of the rest of the file what went with the runs.
func (m *meant) rerouted(f *File, e *Edits) {
	gone := func(id string) bool { return runIndex(&m.spec, id) < 0 }
	m.keep = slices.DeleteFunc(slices.Clone(m.keep), gone)
	m.only = slices.DeleteFunc(slices.Clone(m.only), gone)
	ducted := ducts(&m.spec)
	m.bleedPoints = slices.DeleteFunc(slices.Clone(m.bleedPoints), func(at string) bool { return !ducted[at] })
	m.corridors = corridorsLeft(f, e, &m.spec)
	m.fitted.Leaks = only(m.fitted.Leaks, func(id string) bool {
		return slices.ContainsFunc(m.spec.Leaks, func(l network.Leak) bool { return l.ID == id })
	})
	states := e.States
	if states == nil {
		states = f.States
	}
	if pruned, changed := prunedStates(states, &m.spec); changed {
		m.states = pruned
	}
	m.spec.Points = nil
	used := pointsOf(&m.spec)
	for _, p := range f.places {
		if used[p.ID] {
			m.spec.Points = append(m.spec.Points, p)
			delete(used, p.ID)
		}
	}
	for id := range used {
		m.spec.Points = append(m.spec.Points, network.Point{ID: id})
	}
	slices.SortFunc(m.spec.Points, byID)
}

// corridorsLeft are the corridors that stay: those not used up, not on the way
// of a new run, and not cut off from all that is left.
func corridorsLeft(f *File, e *Edits, s *network.Spec) []string {
	left := slices.DeleteFunc(slices.Clone(f.Corridors), func(c Corridor) bool {
		return slices.ContainsFunc(e.AddRuns, func(r NewRun) bool {
			way := Corridor{From: r.From, To: r.To, Via: r.Via, Length: statedLength(r.run().Pieces)}
			return slices.Contains(r.Corridors, c.ID) || f.sameWay(&c, &way)
		})
	})
	used := pointsOf(s)
	for before := -1; before != len(left); {
		before = len(left)
		ends := map[string]int{}
		for _, c := range left {
			ends[c.From]++
			ends[c.To]++
		}
		stray := func(p string) bool {
			_, placed := f.placeOf(p)
			return !placed && !used[p] && ends[p] < 2
		}
		left = slices.DeleteFunc(left, func(c Corridor) bool { return stray(c.From) || stray(c.To) })
	}
	return idsOf(left, func(c Corridor) string { return c.ID })
}

// only are the factors whose name is kept.
func only(m map[string]float64, kept func(string) bool) map[string]float64 {
	var out map[string]float64
	for name, v := range m {
		if kept(name) {
			if out == nil {
				out = map[string]float64{}
			}
			out[name] = v
		}
	}
	return out
}
