package shopfile

import (
	"fmt"
	"slices"

	"wyewright/network"
	"wyewright/network/units"
)

// NewRun is a run that a redesign puts in.
type NewRun struct {
	// ID must be free: that of a run taken out, or of a corridor that is used
	// up, is.
	ID string
	// From and To are points of the shop or of its corridors.
	From, To string
	Via      []network.Vec
	// Pieces in the order of the air. Length is that of the whole run and gives
	// the one piece without a length the rest; 0 lets it follow the route.
	Pieces []network.Piece
	Length units.Length
	// Corridors that the run lies in, by their IDs: they are used up.
	Corridors []string
}

// run is the run as network has it.
func (r *NewRun) run() network.Run {
	out := network.Run{ID: r.ID, From: r.From, To: r.To, Via: slices.Clone(r.Via), Pieces: slices.Clone(r.Pieces), New: true}
	rest, open := r.Length, -1
	for i, p := range out.Pieces {
		if rest -= p.Length; p.Length == 0 {
			open = i
		}
	}
	if open >= 0 && rest > 0 {
		out.Pieces[open].Length = rest
	}
	return out
}

// reroutes reports whether the edits change the ways of the ducts.
func (e *Edits) reroutes() bool { return len(e.RemoveRuns)+len(e.AddRuns)+len(e.TurnRuns) > 0 }

// reroute changes the ways of the ducts in a Spec.
func (e *Edits) reroute(s *network.Spec) error {
	if !e.reroutes() {
		return nil
	}
	touched := map[string]bool{}
	touch := func(r *network.Run) { touched[r.From], touched[r.To] = true, true }
	for _, id := range e.RemoveRuns {
		i := runIndex(s, id)
		if i < 0 {
			return fmt.Errorf("shopfile: run %q is to be removed: no such run", id)
		}
		touch(&s.Runs[i])
		s.Runs = slices.Delete(s.Runs, i, i+1)
	}
	for _, id := range e.TurnRuns {
		i := runIndex(s, id)
		if i < 0 {
			return fmt.Errorf("shopfile: run %q is to be turned: no such run", id)
		}
		touch(&s.Runs[i])
		s.Runs[i].Turn()
	}
	for i := range e.AddRuns {
		r := e.AddRuns[i].run()
		if runIndex(s, r.ID) >= 0 || len(r.Pieces) == 0 {
			return fmt.Errorf("shopfile: run %q is to be added: there is one of that name, or it has no pieces", r.ID)
		}
		touch(&r)
		s.Runs = append(s.Runs, r)
	}
	for i := range s.Runs {
		if r := &s.Runs[i]; touched[r.To] {
			r.K.Junction = nil
		}
	}
	dropLoose(s)
	return nil
}

func runIndex(s *network.Spec, id string) int {
	return slices.IndexFunc(s.Runs, func(r network.Run) bool { return r.ID == id })
}

// dropLoose takes out the openings at points that no duct meets any more.
func dropLoose(s *network.Spec) {
	ducted := ducts(s)
	s.Leaks = slices.DeleteFunc(s.Leaks, func(l network.Leak) bool { return !ducted[l.At] })
	s.Bleeds = slices.DeleteFunc(s.Bleeds, func(b network.Bleed) bool { return !ducted[b.At] })
}

// ducts are the points that a duct or a collector meets.
func ducts(s *network.Spec) map[string]bool {
	out := map[string]bool{}
	for _, r := range s.Runs {
		out[r.From], out[r.To] = true, true
	}
	for _, c := range s.Collectors {
		out[c.At] = true
	}
	return out
}

// prunedStates are states that name only what is left, each once; changed says
// that they are not those given.
func prunedStates(states []network.State, s *network.Spec) (out []network.State, changed bool) {
	there := map[string]bool{}
	for _, t := range s.Tools {
		there[t.ID] = true
	}
	for _, b := range s.Bleeds {
		there[b.ID] = true
	}
	for _, r := range s.Runs {
		there[r.ID] = r.Gate != nil
	}
	seen := map[string]bool{}
	for _, st := range states {
		n := len(st.Open) + len(st.OpenGates) + len(st.ShutGates)
		for _, list := range []*[]string{&st.Open, &st.OpenGates, &st.ShutGates} {
			*list = slices.DeleteFunc(slices.Clone(*list), func(id string) bool { return !there[id] })
		}
		changed = changed || len(st.Open)+len(st.OpenGates)+len(st.ShutGates) < n
		if key := stateKey(st); !seen[key] {
			seen[key] = true
			out = append(out, st)
		}
	}
	return out, changed
}
