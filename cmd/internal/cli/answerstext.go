package cli

import (
	"fmt"
	"math"
	"strings"

	"wyewright/cmd/internal/ui"
	"wyewright/network/units"
	"wyewright/optimize"
)

// unmet are the steps of the report that say what conflicts.
func (a *app) unmet(o *outcome) []func(*outcome) error {
	if o.answers.conflict == nil {
		return nil
	}
	return []func(*outcome) error{a.printConflict}
}

// asked are the steps that answer what was asked besides the plan.
func (a *app) asked(o *outcome) []func(*outcome) error {
	var out []func(*outcome) error
	if o.answers.savings != nil {
		out = append(out, a.printSavings)
	}
	if o.answers.within > 0 {
		out = append(out, a.printOthers)
	}
	return out
}

func (a *app) printConflict(o *outcome) error {
	c := o.answers.conflict
	fmt.Fprintln(a.Out, conflictLead(c))
	if c.Status != optimize.Infeasible {
		return nil
	}
	for _, item := range o.conflictItems() {
		fmt.Fprintf(a.Out, "  %s\n", item)
	}
	fmt.Fprintln(a.Out)
	if len(o.answers.ways) == 0 {
		fmt.Fprintln(a.Out, o.noWayOut())
		return nil
	}
	fmt.Fprintln(a.Out, "Nearest ways out: (each by itself, all else kept)")
	_, err := o.wayOutTable().WriteTo(a.Out)
	if !o.answers.waysDone {
		fmt.Fprintln(a.Out, "There may be more, or less to give up: time ran out.")
	}
	return err
}

// mostDoubtful is how many requirements are listed of which perhaps only some
// conflict; plan.json has them all.
const mostDoubtful = 8

// conflictItems are the requirements that conflict, in words.
func (o *outcome) conflictItems() []string {
	c := o.answers.conflict
	list, n := c.Requirements, len(c.Requirements)
	if !c.Irreducible && n > mostDoubtful+1 {
		list = list[:mostDoubtful]
	}
	var out []string
	for _, r := range list {
		out = append(out, o.require(r, 1))
	}
	if more := n - len(list); more > 0 {
		out = append(out, fmt.Sprintf("and %d more; with a longer --conflict-time perhaps fewer", more))
	}
	return out
}

// conflictLead says what stands in the list of what conflicts.
func conflictLead(c *optimize.Conflict) string {
	switch {
	case c.Status != optimize.Infeasible:
		return "Which requirements conflict was not found out in time."
	case len(c.Requirements) == 1:
		return "This alone cannot be met:"
	case c.Irreducible:
		return "These together cannot be met: (without any one of them the others can be)"
	}
	return "These together cannot be met: (perhaps some of them could be left out of this list; time ran out)"
}

// noWayOut says why no way out is named.
func (o *outcome) noWayOut() string {
	if o.answers.waysDone {
		return "Nearest ways out: none; to give up one requirement, or one state, is not enough."
	}
	return "Nearest ways out: none found in time."
}

// wayOutTable lists what could be given up, and what a plan then costs.
func (o *outcome) wayOutTable() *ui.Table {
	t := ui.NewTable(ui.Word("ask for"), ui.Num("of it", "%"), ui.Num("then costs", o.p.Currency.Code), ui.Word("status"))
	for _, w := range o.answers.ways {
		share := ""
		if len(w.Less) > 0 {
			share = number(math.Floor(1000*w.Share)/10, 1)
		}
		t.Row(o.wayOut(&w), share, o.p.Currency.Number(w.Plan.Cost), o.status(&w.Answer))
	}
	return t
}

// wayOut says what a way out asks for.
func (o *outcome) wayOut(w *optimize.WayOut) string {
	switch {
	case w.Drop != "":
		return fmt.Sprintf("no state %q", w.Drop)
	case len(w.Less) > 1:
		r, last := w.Less[0], w.Less[len(w.Less)-1]
		switch {
		case r.State != last.State:
			r.State = ""
			return o.require(r, w.Share) + " in every state"
		case last.Rule == optimize.TransportRule:
			return fmt.Sprintf("less of every flow and of the transport velocity in state %q", r.State)
		}
		return fmt.Sprintf("less of every flow in state %q", r.State)
	case w.Share == 0:
		return "nothing of: " + o.require(w.Less[0], 1)
	}
	return o.require(w.Less[0], w.Share)
}

// require says what a share of a requirement is.
func (o *outcome) require(r optimize.Requirement, share float64) string {
	limits := &o.problem.Limits
	in := ""
	if r.State != "" {
		in = fmt.Sprintf(" in state %q", r.State)
	}
	switch r.Rule {
	case optimize.FlowRule:
		k, _ := o.problem.Base.ToolIndex(r.Tool)
		return fmt.Sprintf("%s: %s%s", r.Tool, units.Flow(o.problem.Base.Required(k, limits)*share).Text(o.sys), in)
	case optimize.TransportRule:
		if limits.Transport == 0 && share == 1 {
			return "the transport velocity of each tool's dust" + in
		}
		if limits.Transport == 0 {
			return fmt.Sprintf("transport velocity of the dust classes × %s%s", number(share, 3), in)
		}
		return fmt.Sprintf("transport velocity of %s%s", (limits.Transport * units.Velocity(share)).Text(o.sys), in)
	case optimize.CeilingRule:
		return "no velocity above " + (limits.Ceiling / units.Velocity(share)).Text(o.sys)
	}
	if share == 1 {
		return "the motor within its rating"
	}
	return fmt.Sprintf("a motor rated at %s times its rating", number(1/share, 2))
}

// status says how sure the cost of an answer is.
func (o *outcome) status(a *optimize.Answer) string {
	if a.Status == optimize.Optimal || a.Bound == 0 {
		return a.Status.String()
	}
	return fmt.Sprintf("%s, at least %s", a.Status, o.p.Currency.Text(a.Bound))
}

func (a *app) printSavings(o *outcome) error {
	fmt.Fprintln(a.Out, "What each requirement costs (the least cost without it, all else kept)")
	_, err := o.savingsTable().WriteTo(a.Out)
	if len(o.problem.Later.Runs) > 0 {
		fmt.Fprintf(a.Out, "The duct that is bought when %s is in each of these plans.\n", o.comes())
	}
	return err
}

// savingsTable lists what is saved without each requirement.
func (o *outcome) savingsTable() *ui.Table {
	t := ui.NewTable(ui.Word("without"), ui.Num("saves", o.p.Currency.Code), ui.Num("plan costs", o.p.Currency.Code), ui.Word("status of that plan"))
	for _, v := range o.answers.savings {
		what := "the tool " + v.Tool
		if v.State != "" {
			what = fmt.Sprintf("the state %q", v.State)
		}
		t.Row(what, o.p.Currency.Number(v.Saves), o.p.Currency.Number(v.Plan.Cost), o.status(&v.Answer))
	}
	return t
}

func (a *app) printOthers(o *outcome) error {
	fmt.Fprintln(a.Out, o.othersLead())
	for _, l := range o.otherLines() {
		fmt.Fprintf(a.Out, "  %s\n", strings.ReplaceAll(l, "\n", "\n    "))
	}
	return nil
}

// othersLead says which plans of another kind are listed.
func (o *outcome) othersLead() string {
	return fmt.Sprintf("Plans of another kind that cost at most %s %% more", number(100*o.answers.within, 1))
}

// otherLines list plans of another kind, and which there are none of; what a
// plan does instead stands behind a line break.
func (o *outcome) otherLines() []string {
	var out []string
	rest := map[optimize.Status][]string{}
	for i := range o.answers.others {
		v := &o.answers.others[i]
		if v.Plan == nil {
			rest[v.Status] = append(rest[v.Status], o.kind(v))
			continue
		}
		more := "the same cost"
		if v.More > 0 {
			more = fmt.Sprintf("%s more (+%s %%)", o.p.Currency.Text(v.More), number(100*float64(v.More)/float64(o.result.Best.Cost), 1))
		}
		out = append(out, fmt.Sprintf("%s: %s, %s, %s\ninstead: %s", o.kind(v), more, count(v.Plan.Changed, "change"), o.status(&v.Answer), strings.Join(o.instead(v.Plan), "; ")))
	}
	if len(out) == 0 {
		out = []string{"none found"}
	}
	if list := rest[optimize.Infeasible]; len(list) > 0 {
		out = append(out, "ruled out for the money: "+strings.Join(list, "; "))
	}
	if list := rest[optimize.Undecided]; len(list) > 0 {
		out = append(out, "undecided, time ran out: "+strings.Join(list, "; "))
	}
	return out
}

// kind says in which way a plan differs.
func (o *outcome) kind(v *optimize.Other) string {
	switch v.Restriction {
	case optimize.NoHeight:
		return string(v.Restriction) + " (none above " + optimize.WorkHeight.Text(o.sys) + ")"
	case optimize.OneFamily:
		return "new duct of one family, " + v.Family
	case optimize.FewestChanges:
		if v.Status != optimize.Optimal { // also where there is none
			return "fewer changes"
		}
	}
	return string(v.Restriction)
}

// instead lists what a plan does otherwise than the one reported.
func (o *outcome) instead(pl *optimize.Plan) []string {
	var out []string
	for i, a := range pl.Pick {
		if c := &o.problem.Choices[i]; a != o.result.Best.Pick[i] {
			out = append(out, c.ID+": "+c.Alternatives[a].Label)
		}
	}
	return out
}
