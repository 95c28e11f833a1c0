package project

import (
	"fmt"
	"math"
	"slices"

	"wyewright/network"
	"wyewright/network/calibrate"
	"wyewright/network/shopfile"
	"wyewright/network/units"
)

// slotted are the findings in the order of the fit's parameters; the wrong
// readings and the released priors come last.
func slotted(r *calibrate.Report) []*calibrate.Finding {
	slot := func(f *calibrate.Finding) int {
		k := slices.IndexFunc(r.Estimates, func(e calibrate.Estimate) bool { return f.Reading < 0 && e.Kind.Fault() && e.Name == f.Name })
		if k < 0 {
			return len(r.Estimates)
		}
		return k
	}
	var out []*calibrate.Finding
	for i := range r.Findings {
		out = append(out, &r.Findings[i])
	}
	slices.SortStableFunc(out, func(a, b *calibrate.Finding) int { return slot(a) - slot(b) })
	return out
}

// seen is the share of its prior's doubt below which a parameter counts as seen
// by the readings, moved how far it must be from 1 to be written where it is
// not.
const (
	seen  = 0.9
	moved = 0.02
	// leastShut is the least factor on shut gates that a file tells from none.
	leastShut = 1e-3
)

// FitEdits are the changes that a fit makes to the text of the shop file, and
// what of it is no matter of the file.
func (p *Project) FitEdits(r *calibrate.Report, head string) (shopfile.Edits, []string) {
	base := &p.File.Spec
	t := fittedOf(base, r)
	e := shopfile.Edits{Head: head, DropReadings: true, Fitted: &t}
	spec := t.Apply(*base)
	var notes []string
	changed := map[int]bool{}
	for _, f := range slotted(r) {
		switch {
		case f.Reading >= 0:
			notes = append(notes, "the reading "+r.Readings[f.Reading].Name+" was left out")
		case f.Kind == calibrate.LeakArea:
			e.Openings = append(e.Openings, network.Leak{ID: p.freeName(f.Name), At: base.Points[f.Index].ID, Area: units.Area(math.Round(f.Value*1e5) / 1e5)})
		case f.Kind == calibrate.GateLeft:
			notes = append(notes, "the gate of "+base.Tools[f.Index].ID+" is taken as shut again: look at it")
		case f.Kind == calibrate.ExtraLoss:
			f.Mar(&spec, round(f.Value))
			changed[f.Index] = true
			notes = append(notes, "the extra loss in "+base.Runs[f.Index].ID+" is written into the run: take it out once the run is cleared")
		case f.Kind == calibrate.Bore:
			f.Mar(&spec, round(f.Value))
			changed[f.Index] = true
			notes = append(notes, "the width of "+base.Runs[f.Index].ID+" is written as fitted: measure it and correct it")
		case f.Kind == calibrate.Reckoned:
			notes = append(notes, f.Name+" with another width: a matter of the notebook, not of the shop")
		}
	}
	for i := range spec.Runs {
		if changed[i] {
			e.Runs = append(e.Runs, shopfile.RunEdit{Run: spec.Runs[i].ID, Pieces: spec.Runs[i].Pieces, Keep: true})
		}
	}
	return e, notes
}

// fittedOf gathers the factors that the readings saw or moved, rounded.
func fittedOf(s *network.Spec, r *calibrate.Report) network.Factors {
	var ps []calibrate.Param
	var x []float64
	for i := range r.Estimates {
		e := &r.Estimates[i]
		v := round(e.Value)
		if math.Abs(v-1) < moved && !(e.Sigma < seen*e.Doubt) || v == 1 {
			continue
		}
		if e.Kind == calibrate.Shut {
			v = max(v, leastShut)
		}
		ps, x = append(ps, e.Param), append(x, v)
	}
	return calibrate.Factors(s, ps, x, "")
}

// round leaves three decimals: finer is no reading.
func round(x float64) float64 { return math.Round(x*1e3) / 1e3 }

// freeName is a name that no part of the shop has.
func (p *Project) freeName(name string) string {
	s := &p.File.Spec
	taken := func(x string) bool {
		return slices.ContainsFunc(s.Leaks, func(l network.Leak) bool { return l.ID == x }) ||
			slices.ContainsFunc(s.Runs, func(l network.Run) bool { return l.ID == x }) ||
			slices.ContainsFunc(s.Tools, func(l network.Tool) bool { return l.ID == x }) ||
			slices.ContainsFunc(s.Bleeds, func(l network.Bleed) bool { return l.ID == x })
	}
	out := name
	for k := 2; taken(out); k++ {
		out = fmt.Sprintf("%s %d", name, k)
	}
	return out
}
