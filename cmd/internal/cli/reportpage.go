package cli

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"wyewright/cmd/internal/report"
	"wyewright/cmd/internal/ui"
	"wyewright/network/units"
	"wyewright/optimize"
)

// reportPage puts an outcome into the words of a page.
func (o *outcome) reportPage(ctx context.Context) (*report.Page, error) {
	p := &report.Page{Shop: o.p.File.Name, Meets: allMeet(o.result.States) && !o.unsure() && len(o.capped) == 0, Unmet: o.unmetLine(), Verdict: o.verdictLine(),
		Facts: o.facts(), Asked: o.askedLines(), Conflict: o.conflictBlock(), Flows: o.flowRows(), Speeds: o.speedTables(), Trade: o.tradePoints(),
		Changes: o.changeBlock(), Gates: o.gateBlock(), Parts: o.partsBlock(), Cuts: o.cutBlock(), More: o.moreBlocks(), Sure: o.sureLines(), Cautions: sentences(cautions(o))}
	var err error
	if p.Options, p.OptionsNote, err = o.options(ctx); err != nil {
		return nil, err
	}
	if p.Views, err = o.views(); err != nil {
		return nil, err
	}
	if p.Pressure, err = o.pressureRows(); err != nil {
		return nil, err
	}
	if p.Stages, err = o.stageBlock(); err != nil {
		return nil, err
	}
	p.Sheet, err = o.sheetAfter(ctx)
	return p, err
}

// unmetLine says that a plan falls short of what was asked, "" where it does not.
func (o *outcome) unmetLine() string {
	switch {
	case o.unsure():
		return "This plan does NOT hold with the confidence that you asked for."
	case len(o.capped) > 0:
		return "Not yet: " + o.cappedLine() + "."
	case allMeet(o.result.States):
		return ""
	case o.budget != nil:
		return "This plan does NOT give every flow that you set: it is the most that the sum buys."
	}
	return "This plan does NOT meet what you set. It is the one that comes closest."
}

// facts are the numbers to see at first sight.
func (o *outcome) facts() []report.Fact {
	c := o.p.Currency
	share, least := leastServed(o.result)
	out := []report.Fact{
		{Name: "planning cost", Value: c.Text(o.bill.Planning), Note: o.costNote()},
		{Name: "to spend", Value: c.Text(o.bill.Shelf), Note: "with whole sticks and packs"},
		{Name: "work", Value: count1(o.bill.Hours, "hour"), Note: "reckoned, not quoted"},
		{Name: "changes", Value: fmt.Sprint(o.result.Best.Changed)},
		{Name: "least air", Value: percent(share) + " %", Note: least + asFound(leastFlow(o.before))},
	}
	if ratio, where := slowestRun(o.result.Network, o.result.States); where != "" {
		was, _ := slowestRun(o.found.Base, o.before)
		out = append(out, report.Fact{Name: "slowest dust run", Value: percent(ratio) + " %", Note: where + asFound(was)})
	}
	return append(out, report.Fact{Name: "status", Value: o.statusWord(), Note: o.statusNote()})
}

// costNote says what the planning cost is made of: where a tool comes later, what
// is spent now and what then.
func (o *outcome) costNote() string {
	l := o.laterJSON()
	if l == nil {
		return "materials and work"
	}
	return fmt.Sprintf("now %s, %s when %s", o.p.Currency.Text(l.Now), o.p.Currency.Text(l.Later), o.comes())
}

// asFound says what a share was before the redesign, "" where there was none.
func asFound(share float64) string {
	if math.IsInf(share, 1) {
		return ""
	}
	return "; as found " + percent(share) + " %"
}

// count1 prints a number with one decimal and its noun.
func count1(x float64, noun string) string { return number(x, 1) + " " + noun + "s" }

// leastServed is the least share of a flow, and whose it is.
func leastServed(r *optimize.Result) (float64, string) {
	share, where := math.Inf(1), ""
	for _, s := range r.States {
		for _, tv := range s.Verdict.Tools {
			if tv.Ratio < share {
				share, where = tv.Ratio, fmt.Sprintf("of its need: %s in %q", r.Network.Spec().Tools[tv.Tool].ID, s.State.Name)
			}
		}
	}
	return share, where
}

// statusWord is the status of the answer.
func (o *outcome) statusWord() string {
	if o.budget != nil {
		return o.budget.Status.String()
	}
	return o.result.Status.String()
}

// statusNote says in a few words what the status means here.
func (o *outcome) statusNote() string {
	r := o.result
	switch {
	case o.budget != nil:
		return "of all plans for the sum"
	case r.Status == optimize.Optimal && o.life != nil:
		return "no plan costs less with its energy"
	case r.Status == optimize.Optimal:
		return "no cheaper plan meets it"
	case r.Status == optimize.Feasible && r.Bound > 0:
		return fmt.Sprintf("no plan costs less than %s; gap %.1f %%", o.p.Currency.Text(r.Bound), 100*r.Gap)
	case r.Status == optimize.Feasible:
		return "not proved: no lower bound"
	case r.Status == optimize.Infeasible:
		return "by any plan that the file allows"
	}
	return "stopped before a plan or a proof"
}

// askedLines say what was asked, as sentences.
func (o *outcome) askedLines() []string {
	out := []string{fmt.Sprintf("Air for %s in %s.", count(len(o.result.Network.Spec().Tools), "tool"), count(len(o.result.States), "operating state"))}
	if b := o.budget; b != nil {
		out = append(out, "The most air for "+o.p.Currency.Text(b.money)+".")
	}
	if s := o.certain; s != nil {
		out = append(out, fmt.Sprintf("Every state to hold in %.3g %% of what the readings leave in doubt.", 100*s.share))
	}
	if o.life != nil {
		out = append(out, "Least cost together with energy: "+o.life.terms(o.p.Currency)+".")
	}
	for _, line := range asked(o.p, o.sys) {
		for _, w := range [][2]string{{"has corridors: ", "Corridors for new duct: "}, {"has for the collector: ", "Offered for the collector: "}} {
			if rest, ok := strings.CutPrefix(line, w[0]); ok {
				line = w[1] + rest
			}
		}
		if line[0] >= 'a' && line[0] <= 'z' {
			line = "the redesign " + line
		}
		out = append(out, sentence(line))
	}
	return out
}

// sentence begins with a capital and ends with a full stop.
func sentence(s string) string {
	if s == "" {
		return s
	}
	s = strings.ToUpper(s[:1]) + s[1:]
	if !strings.ContainsAny(s[len(s)-1:], ".!?") {
		s += "."
	}
	return s
}

// sentences makes a sentence of each line.
func sentences(lines []string) []string {
	out := make([]string, len(lines))
	for i, s := range lines {
		out[i] = sentence(s)
	}
	return out
}

// sureLines are the assumptions and doubts, without how long the search took:
// the same answer makes the same page.
func (o *outcome) sureLines() []string {
	lines := o.sure()
	lines[0] = fmt.Sprintf("status %s: holds for this model of the shop and these prices; every plan that counts was judged by the full network solver", o.statusWord())
	return sentences(append(lines, "a proof about the model is no proof about the shop: measure when the work is done"))
}

// tableOf is a table of the terminal as one of the page.
func tableOf(caption string, t *ui.Table) report.Table {
	out := report.Table{Caption: caption}
	for _, c := range t.Columns() {
		out.Columns = append(out.Columns, report.Column{Name: c.Head, Unit: c.Unit, Number: c.Number})
	}
	for _, cells := range t.Rows() {
		out.Rows = append(out.Rows, report.Row{Cells: cells})
	}
	return out
}

// slim is a table of few and short columns, which stays one on a phone.
func slim(caption string, t *ui.Table) report.Table {
	out := tableOf(caption, t)
	out.Slim = true
	return out
}

// changeBlock is the change list.
func (o *outcome) changeBlock() report.Block {
	b := report.Block{ID: "changes", Title: "Changes"}
	if len(o.changes) == 0 {
		b.Lead = []string{"Nothing is changed."}
		return b
	}
	b.Tables = []report.Table{tableOf("What to change, and what goes wrong without it", o.changeTable())}
	b.Notes = []string{"The cost is that of the part itself. " + sentence(o.jointLine())}
	return b
}

// gateBlock is the gate card.
func (o *outcome) gateBlock() report.Block {
	t := tableOf("With the running tools open what stands under \"open as well\"; all other gates stay shut", gateTable(o))
	t.Columns = append(t.Columns, report.Column{Name: "meets"})
	for i, s := range o.result.States {
		word := "yes"
		if t.Rows[i].Bad = !s.Verdict.Meets(); t.Rows[i].Bad {
			word = "no"
		}
		t.Rows[i].Cells = append(slices.Clone(t.Rows[i].Cells), word)
	}
	out := report.Block{ID: "gates", Title: "Gate card", Tables: []report.Table{t},
		Notes: []string{"\"Meets\" speaks of the flows and velocities that were set; it is no proof of clean air."}}
	if len(o.gauges) == 0 {
		return out
	}
	marks, dull := gaugeTable(o.gauges, o.sys)
	out.Tables = append(out.Tables, tableOf("What a gauge at the collector's inlet and one across the filter should show, "+units.Pressure(0).Unit(o.sys), marks))
	if dull {
		out.Notes = append(out.Notes, dullWords)
	}
	out.Notes = append(out.Notes, "Where the gauges go, and what other readings mean, stands on the gate card by itself.")
	return out
}

// flowRows are the flows before and after.
func (o *outcome) flowRows() *report.Flows {
	f := &report.Flows{Unit: units.Flow(0).Unit(o.sys), Lead: "Before is the shop as found, run with the gates that serve it best."}
	spec := o.problem.Base.Spec()
	for i := range o.result.States {
		s := &o.result.States[i]
		for _, tv := range s.Verdict.Tools {
			tool, word := spec.Tools[tv.Tool].ID, flowWord(tv)
			was, there := o.flowWas(s, tool)
			f.Rows = append(f.Rows, report.Flow{State: o.stateName(s), Tool: tool, New: !there, Before: max(0, was.In(o.sys)), After: max(0, tv.Flow.In(o.sys)), Required: tv.Required.In(o.sys),
				BeforeText: o.flowBefore(s, tool), AfterText: number(tv.Flow.In(o.sys), 0), RequiredText: number(tv.Required.In(o.sys), 0),
				Share: percent(tv.Ratio) + " %", Word: word, Short: word == "short"})
		}
	}
	if len(f.Rows) == 0 {
		return nil
	}
	return f
}
