package shopfile

import (
	"fmt"
	"slices"

	"wyewright/network"
	"wyewright/network/units"
)

// Edits is what a redesign changes in the text of a shop file. The zero value
// changes nothing.
type Edits struct {
	// Head is put at the top as a comment, one # line per line.
	Head string
	// Runs are replaced, in any order.
	Runs []RunEdit
	// RemoveRuns are taken out. What stood only there goes with them: leaks,
	// bleeds and places for them at points that no duct meets any more,
	// factors, gates in states, keep and only of the redesign. The readings
	// become a comment.
	RemoveRuns []string
	// TurnRuns let the air go through them the other way: their ends are
	// exchanged and their pieces in reverse order. What was known of their
	// junction and steps as built lapses. Runs has their pieces in the new order.
	TurnRuns []string
	// AddRuns are put in behind the other runs, in this order and marked new: at
	// a point of several branches the air meets them in the order of the file.
	// Corridors that they lie in are used up.
	// At every point where a run comes, goes or turns the as-built coefficient of
	// the junction lapses.
	AddRuns []NewRun
	// Collector is the option that was taken, nil for none: another collector
	// becomes the one that the redesign assumes, another speed is carried into
	// the points of the curve, and a renewed filter's law takes the place of
	// the old one, without what was fitted of that.
	Collector *CollectorOption
	// Swaps are new fittings of runs whose duct stays.
	Swaps []SwapEdit
	// Mains are runs that are marked as the main of the point they lead to,
	// where the new sizes alone would make another leg the main.
	Mains []string
	// Leaks that were sealed, wholly or in part.
	Leaks []LeakEdit
	// Gates that were repaired.
	Gates []GateEdit
	// Bleeds are built. A bare name of their point in the section bleeds
	// becomes the inlet that exists.
	Bleeds []network.Bleed
	// Openings were found: they join the section leaks, and may be sealed.
	Openings []network.Leak
	// Fitted is what a fit found on top of what the file says, the section of
	// that name included. Pieces in Runs have it in force.
	Fitted *network.Factors
	// States replaces the section of that name; nil keeps it.
	States []network.State
	// DropReadings turns the section readings into a comment: readings taken
	// before a redesign say nothing about the ducts after it.
	DropReadings bool
}

// RunEdit gives a run other pieces.
type RunEdit struct {
	Run    string
	Pieces []network.Piece
	// Keep leaves the coefficients of the run and does not mark it new: for a
	// hose that is only cut shorter.
	Keep bool
}

// LeakEdit sets the area that is left of a leak.
type LeakEdit struct {
	Leak string
	Area units.Area
}

// GateEdit sets what a closed gate leaks: that of a tool's port (an index),
// or that of a run where Tool is empty.
type GateEdit struct {
	Tool string
	Port int
	Run  string
	Leak units.Area
}

// apply makes the same changes in a Spec.
func (e *Edits) apply(s *network.Spec) error {
	if e.Fitted != nil {
		*s = e.Fitted.Apply(*s)
	}
	all := slices.Clone(s.Leaks)
	if err := e.reroute(s); err != nil {
		return err
	}
	for _, r := range e.Runs {
		i := runIndex(s, r.Run)
		if i < 0 || len(r.Pieces) == 0 {
			return fmt.Errorf("shopfile: edit of run %q: no such run, or no pieces", r.Run)
		}
		s.Runs[i].Pieces = slices.Clone(r.Pieces)
		if !r.Keep {
			s.Runs[i].K, s.Runs[i].New, s.Runs[i].Rejoined = network.Overrides{}, true, false
		}
	}
	for _, w := range e.Swaps {
		if err := w.apply(s); err != nil {
			return err
		}
	}
	for _, l := range e.Leaks {
		same := func(x network.Leak) bool { return x.ID == l.Leak }
		i := slices.IndexFunc(s.Leaks, same)
		if i < 0 && slices.ContainsFunc(all, same) {
			continue // it went with its duct
		}
		if i < 0 {
			return fmt.Errorf("shopfile: edit of leak %q: no such leak", l.Leak)
		}
		s.Leaks[i].Area = l.Area
	}
	for _, g := range e.Gates {
		gate := findGate(s, g)
		if gate == nil || *gate == nil {
			return fmt.Errorf("shopfile: edit of the gate of %q: no such gate", g.Tool+g.Run)
		}
		own := **gate
		own.Leak = g.Leak
		*gate = &own
	}
	for _, id := range e.Mains {
		i := runIndex(s, id)
		if i < 0 {
			return fmt.Errorf("shopfile: run %q is to be a main: no such run", id)
		}
		s.Runs[i].Main = true
	}
	s.Bleeds = append(s.Bleeds, e.Bleeds...)
	s.Leaks = append(s.Leaks, e.Openings...)
	return nil
}

// findGate returns the place of a gate in the Spec.
func findGate(s *network.Spec, g GateEdit) **network.Gate {
	for i := range s.Tools {
		if t := &s.Tools[i]; g.Tool != "" && t.ID == g.Tool && g.Port >= 0 && g.Port < len(t.Ports) {
			return &t.Ports[g.Port].Gate
		}
	}
	for i := range s.Runs {
		if g.Tool == "" && s.Runs[i].ID == g.Run {
			return &s.Runs[i].Gate
		}
	}
	return nil
}

// cloneSpec copies the parts of a Spec that apply changes.
func cloneSpec(s network.Spec) network.Spec {
	s.Runs, s.Leaks, s.Bleeds = slices.Clone(s.Runs), slices.Clone(s.Leaks), slices.Clone(s.Bleeds)
	for i := range s.Runs {
		s.Runs[i].Pieces = slices.Clone(s.Runs[i].Pieces)
	}
	s.Collectors, s.Leaks = slices.Clone(s.Collectors), slices.Clone(s.Leaks)
	s.Tools = slices.Clone(s.Tools)
	for i := range s.Tools {
		s.Tools[i].Ports = slices.Clone(s.Tools[i].Ports)
	}
	return s
}
