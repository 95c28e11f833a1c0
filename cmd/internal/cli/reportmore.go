package cli

import (
	"bytes"
	"context"
	"fmt"
	"slices"

	"wyewright/cmd/internal/report"
	"wyewright/network"
	"wyewright/network/fan"
	"wyewright/optimize"
)

// conflictBlock says what cannot be met together, and the ways out.
func (o *outcome) conflictBlock() report.Block {
	c := o.answers.conflict
	if c == nil {
		return report.Block{}
	}
	out := report.Block{ID: "conflict", Title: "What cannot be met"}
	if c.Status != optimize.Infeasible {
		out.Lead = []string{conflictLead(c)}
		return out
	}
	out.Lists = []report.List{{Lead: conflictLead(c), Items: o.conflictItems()}}
	if len(o.answers.ways) == 0 {
		out.Notes = []string{o.noWayOut()}
		return out
	}
	out.Tables = []report.Table{tableOf("Nearest ways out, each by itself, all else kept", o.wayOutTable())}
	return out
}

// moreBlocks answer what was asked beside the plan.
func (o *outcome) moreBlocks() []report.Block {
	var out []report.Block
	if s := o.certain; s != nil {
		out = append(out, report.Block{ID: "confidence", Title: "Confidence", Lead: []string{sentence(s.heldLine()), o.certaintyCost()},
			Tables: []report.Table{slim(fmt.Sprintf("Held against %d other shops drawn from the same doubt", proofShops), o.certaintyTable())},
			Notes:  append(sentences(s.notes), certaintyRest)})
	}
	if l := o.life; l != nil {
		out = append(out, report.Block{ID: "energy", Title: "Energy over the years", Lead: []string{sentence(l.terms(o.p.Currency))},
			Tables: []report.Table{slim("Cost over the years", o.lifeTable())}, Notes: []string{o.lifeCompared(), basis(l.energy, l.use) + "; " + l.note + "."}})
	}
	if o.power != nil {
		out = append(out, report.Block{ID: "power", Title: "Money against fan power",
			Tables: []report.Table{slim("Each plan draws clearly less than the one before", o.powerTable())}, Notes: []string{powerEnd(o.power.Ends) + "."}})
	}
	if o.answers.savings != nil {
		out = append(out, report.Block{ID: "savings", Title: "What each requirement costs",
			Tables: []report.Table{tableOf("The least cost without it, all else kept", o.savingsTable())}})
	}
	if o.answers.within > 0 {
		out = append(out, report.Block{ID: "others", Title: "Plans of another kind", Lead: []string{sentence(o.othersLead())},
			Lists: []report.List{{Items: o.otherLines()}}})
	}
	return out
}

// sheetAfter is the form for measuring the shop after the work.
func (o *outcome) sheetAfter(ctx context.Context) (*report.Sheet, error) {
	f, err := o.formAfter(ctx)
	if f == nil {
		return nil, err
	}
	out := &report.Sheet{Lead: "What to read when the work is done, with what the model expects of the redesigned shop. Meter: " + f.Meter + ".",
		Blanks: sheetBlanks, Cautions: f.Cautions, Notes: slices.Concat(f.Short(), f.Notes)}
	out.Holes = report.Table{Caption: "Holes, from the collector outward", Columns: []report.Column{{Name: "hole"}, {Name: "place"}, {Name: "duct"}, {Name: "drill"},
		{Name: "straight, diameters"}, {Name: "traverse depths", Unit: f.Depth}}}
	for _, h := range f.Holes {
		out.Holes.Rows = append(out.Holes.Rows, report.Row{Cells: []string{fmt.Sprint(h.Number), h.Place, h.Diameter, h.Drill, joined("; ", h.Straight, h.Mark), h.Depths}})
	}
	for _, b := range f.Blocks {
		s := report.SheetState{Title: b.Title, Set: b.Set, Mind: b.Mind}
		for _, r := range b.Rows {
			s.Readings = append(s.Readings, report.SheetReading{Hole: fmt.Sprint(r.Hole), Place: r.Name(), Expected: r.Expected, Mark: r.Mark})
		}
		out.States = append(out.States, s)
	}
	return out, nil
}

// formAfter is the form for measuring the redesigned shop with the usual meter,
// nil where there is nothing to read.
func (o *outcome) formAfter(ctx context.Context) (*sheetForm, error) {
	m, err := parseMeter(usualMeter)
	if err != nil {
		return nil, err
	}
	m.sys, m.least, m.most = o.sys, m.low.Text(o.sys), m.high.Text(o.sys)
	n, states := o.result.Network, slices.Clone(o.result.States)
	named := slices.ContainsFunc(states, func(s optimize.StateResult) bool { return s.State.Name == allShut })
	if !named && !slices.ContainsFunc(n.Spec().Collectors, fixedFlow) {
		shut, err := solveStates(ctx, n, []network.State{{Name: allShut}}, o.problem.Limits)
		if err != nil {
			return nil, err
		}
		states = append(shut, states...)
	}
	f := m.form(n, o.p.File.Name, states, sheetRows)
	if len(f.Blocks) == 0 {
		return nil, nil
	}
	return f, nil
}

// putSheet writes the form as a page to print.
func (o *outcome) putSheet(f *folder) error {
	form, err := o.formAfter(context.Background())
	if form == nil {
		return err
	}
	var b bytes.Buffer
	err = sheetHTML.Execute(&b, form)
	return f.put(sheetName, b.Bytes(), err)
}

// sheetRows is the most readings of the form in a report, as of sheet.
const sheetRows = 30

// fixedFlow reports whether a collector is a fan of one flow, which says nothing
// of gates that are shut.
func fixedFlow(c network.Collector) bool { _, fixed := c.Curve.(fan.Fixed); return fixed }
