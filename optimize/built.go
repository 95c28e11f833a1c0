package optimize

import (
	"fmt"
	"slices"

	"wyewright/network"
	"wyewright/optimize/parts"
	"wyewright/optimize/price"
)

// toBuild lists what a run that is still to be built may be made of, the cheapest
// first: new duct of every family and size that its corridor takes, with a hose
// at a tool's end where hose may be bought.
func (f *formulator) toBuild(run int) []Alternative {
	out := f.few(f.n.Spec().Runs[run].ID, f.newDuct(run), 0, network.MaxAlternatives)
	if len(out) > 0 { // the shop that all plans start from has the cheapest
		f.n = f.n.With(out[0].Changes...)
		f.p.Base = f.n
	}
	return out
}

// newDuct lists new duct of every family and size that a run to be built takes.
func (f *formulator) newDuct(run int) []Alternative {
	r := &f.n.Spec().Runs[run]
	way := f.o.variant.build[r.ID]
	tail := f.n.PortAt(run) != nil && slices.ContainsFunc(f.o.Families, func(name string) bool {
		fam, ok := f.b.Catalog.Family(name)
		return ok && fam.Hose
	})
	var out []Alternative
	for _, name := range f.o.Families {
		fam, ok := f.b.Catalog.Family(name)
		if !ok || fam.Hose {
			continue
		}
		for _, s := range fam.Sizes {
			if f.allowed(r.ID, s) && way.takes(name, s) {
				out = f.replace(out, run, fam, s, tail, nil)
			}
		}
	}
	return out
}

// hard adds what a corridor makes dearer or cheaper than duct elsewhere.
func (f *formulator) hard(run string, lines []parts.Line) []parts.Line {
	if !f.o.variant.builds(run) {
		return lines
	}
	factor := f.o.variant.build[run].factor()
	cost, _ := f.b.Cost(lines)
	if extra := cost.Times(factor - 1); extra != 0 {
		lines = append(lines, parts.Lump(fmt.Sprintf("allowance for the way %s (%.4g times)", run, factor), run, extra))
	}
	return lines
}

// take puts in what the problem takes as decided.
func (f *formulator) take() error {
	v := f.o.variant
	if v == nil {
		return nil
	}
	for i := range f.p.Choices {
		if c := &f.p.Choices[i]; c.Build && len(c.Alternatives) == 0 {
			return fmt.Errorf("optimize: nothing that is sold and priced may be built along %q", c.ID)
		}
	}
	f.p.Taken, f.p.fixed = v.taken, v.lines
	cost, unpriced := f.b.Cost(v.lines)
	if len(unpriced) > 0 {
		return fmt.Errorf("optimize: no price for %q", unpriced)
	}
	f.p.fixedCost = cost
	return nil
}

// variant is what a way of the ducts or another collector brings with it.
type variant struct {
	// build lists the corridors in use, by the name that their runs have.
	build map[string]*Corridor
	// kept are the points at which the line stays as built, and old what met
	// there.
	kept  map[string]bool
	old   map[string]*fitting
	lines []parts.Line
	taken Taken
	// stays says that every line stays, but for what is built into it.
	stays bool
}

// builds reports whether a run is still to be built.
func (v *variant) builds(run string) bool {
	if v == nil {
		return false
	}
	_, ok := v.build[run]
	return ok
}

// remakes says for main, branch and common of a joint whether its end there is
// made anew whatever the run is made of: all of it where the line is not the
// old one, the branch where it did not enter there before.
func (v *variant) remakes(n *network.Network, j network.Joint) (ends [3]bool) {
	if v == nil {
		return ends
	}
	switch {
	case v.stays:
	case !v.kept[j.Point]:
		return [3]bool{true, true, true}
	default:
		ends[1] = j.Branch >= 0 && !slices.Contains(v.old[j.Point].branches, legName(n, j.Branch))
	}
	for k, run := range [3]int{j.Main, j.Branch, j.Common} {
		ends[k] = ends[k] || run >= 0 && v.builds(n.Spec().Runs[run].ID)
	}
	return ends
}

// Taken is what a problem takes as decided, on top of its choices.
type Taken struct {
	// Left are runs that are left out, blanked where ducts go on without them;
	// Turned are runs whose air goes the other way; Built are corridors that
	// carry duct.
	Left   []LeftRun
	Turned []string
	Built  []Corridor
	// Collector is the one that is put in or altered, nil for none.
	Collector *CollectorOption
}

// LeftRun is a run that is left out: it stays where it is, cut off, or, with
// Down, is taken down.
type LeftRun struct {
	ID   string
	Down bool
	// Was says what it is made of; Cost is that of the blanks on what it leaves
	// open, and of taking it down.
	Was  string
	Cost price.Money
}

// Changes reports whether anything is decided.
func (t *Taken) Changes() bool {
	return len(t.Left)+len(t.Turned)+len(t.Built) > 0 || t.Collector != nil
}

// count is how many changes it is, beside those of choices.
func (t *Taken) count() int {
	n := len(t.Left) + len(t.Turned)
	if t.Collector != nil {
		n++
	}
	return n
}

func (t *Taken) leaves(run string) bool {
	return slices.ContainsFunc(t.Left, func(l LeftRun) bool { return l.ID == run })
}

// changes lists what is decided, as entries of a change list.
func (t *Taken) changes() []ChangeNote {
	var out []ChangeNote
	if c := t.Collector; c != nil {
		out = append(out, ChangeNote{Kind: CollectorChange, What: c.Collector.ID, From: "as it is", To: c.Label, Cost: c.Cost, Why: "cheaper than ducts that do without it"})
	}
	for _, l := range t.Left {
		to := "left out, cut off"
		if l.Down {
			to = "taken down"
		}
		out = append(out, ChangeNote{Kind: WayChange, What: l.ID, From: l.Was, To: to, Cost: l.Cost, Why: "its air goes another way"})
	}
	for _, id := range t.Turned {
		out = append(out, ChangeNote{Kind: WayChange, What: id, From: "as it is", To: "air the other way", Why: "belongs to the new way"})
	}
	return out
}
