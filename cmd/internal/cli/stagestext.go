package cli

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"wyewright/cmd/internal/ui"
	"wyewright/network"
	"wyewright/optimize"
	"wyewright/optimize/parts"
	"wyewright/optimize/price"
)

// printStages prints the stages of a plan.
func (a *app) printStages(o *outcome) error {
	fmt.Fprintf(a.Out, "%s: stages\n\n%s\n%s\n", o.p.File.Name, o.planLine(), o.orderLine(o.staged))
	for i := range o.staged.Stages {
		fmt.Fprintf(a.Out, "\n%s\n", strings.Join(o.stageLines(i), "\n  "))
	}
	for _, t := range o.stageTables() {
		fmt.Fprintf(a.Out, "\n%s\n", t.head)
		if _, err := t.WriteTo(a.Out); err != nil {
			return err
		}
	}
	for _, line := range o.otherwise() {
		fmt.Fprintf(a.Out, "\n%s\n", line)
	}
	_, err := fmt.Fprintln(a.Out, "\nThis is a planning aid for airflow, not proof of clean air; between the stages the shop runs as its card says.")
	return err
}

// headed is a table with a heading.
type headed struct {
	head string
	*ui.Table
}

func (o *outcome) stageTables() []headed {
	return []headed{
		{"What each stage brings (shares of the flow that each tool needs, for the mean no more than 100 % each; other rules: transport velocity, ceiling, direction, motor)", o.stageTable()},
		{"Share of its required flow that each tool gets, in its worst state, %", o.shareTable()},
		{"Gate cards: what to open with what, at each stage (all other gates stay shut)", o.cardTable()},
	}
}

// printStageSection is the short form that a redesign prints.
func (a *app) printStageSection(o *outcome) error {
	fmt.Fprintln(a.Out, "Stages: what first, if not all at once (in full under "+stagesName+"; the verb stages takes budgets)")
	t := ui.NewTable(ui.Word("stage"), ui.Num("cost", o.p.Currency.Code), ui.Word("then"), ui.Word("what"))
	for i := range o.staged.Stages {
		st := &o.staged.Stages[i]
		var what []string
		for _, c := range st.Changes {
			what = append(what, c.What)
		}
		d := st.Does
		t.Row(stageName(o.staged, i), o.p.Currency.Number(st.Cost),
			fmt.Sprintf("%d of %d flows met, other rules in %d of %d states", d.Met, d.Asked, d.Held, d.States), strings.Join(what, ", "))
	}
	if _, err := t.WriteTo(a.Out); err != nil {
		return err
	}
	_, err := fmt.Fprintf(a.Out, "  %s\n", o.orderLine(o.staged))
	return err
}

// planLine says which plan is parted.
func (o *outcome) planLine() string {
	line := fmt.Sprintf("The plan: %s for %s", count(o.result.Best.Changed, "change"), o.p.Currency.Text(o.result.Best.Cost))
	if o.planned != "" {
		line += " (" + o.planned + ")"
	} else if o.result.Status != optimize.NotSearched {
		line += " (" + o.result.Status.String() + ")"
	}
	ways := ""
	if o.problem.Taken.Changes() {
		ways = ", and new ways or another collector come with the first stage that buys anything"
	}
	if o.staged.Parts == 1 {
		return line + ". It can only be bought in one go: its changes share joints, or belong to one new way."
	}
	return line + fmt.Sprintf(". It can be bought in up to %s; changes that share a joint go together", count(o.staged.Parts, "part")) + ways + "."
}

// orderLine says what is promised of an order, and how sure it is.
func (o *outcome) orderLine(s *optimize.Staged) string {
	what := "if the stages last equally long"
	if s.Stages[0].Budget == 0 {
		what = "if the money comes in evenly"
	}
	line := "The order is optimal: no other in as many stages meets more for longer " + what + "."
	if s.Parts == 1 {
		line = "The order is optimal: there is no other."
	}
	if s.Status != optimize.Optimal {
		line = "The order is best found: others were not all tried."
	}
	line += " No stage makes worse what met before, and none buys what a later one throws away: together they cost what the plan costs."
	if s.Slower {
		line += " BUT there is no order in which every run keeps the transport velocity that it had: only flows, ceiling, direction and motor are kept. The runs that get slow are named below."
	}
	return line
}

// stageLines say what a stage is, does and brings.
func (o *outcome) stageLines(i int) []string {
	st, c := &o.staged.Stages[i], o.p.Currency
	name := stageName(o.staged, i)
	head := strings.ToUpper(name[:1]) + name[1:] + ": " + c.Text(st.Cost)
	switch {
	case st.Rest:
		head += ", which the budgets do not pay for"
	case st.Budget > 0:
		have := st.Budget
		if i > 0 {
			have += sumBudgets(o.staged, i) - o.staged.Stages[i-1].Spent
		}
		head += " of " + c.Text(have) + " in hand"
	}
	if st.Empty() {
		switch {
		case slices.Equal(st.Best.Pick, o.result.Best.Pick):
			head += ": nothing is left to buy"
		case st.Needs > 0:
			head += fmt.Sprintf(": buys nothing yet; the least sum that helps is %s", c.Text(st.Needs))
		default:
			head += ": buys nothing yet"
		}
		return []string{head}
	}
	out := []string{head}
	for _, ch := range st.Changes {
		out = append(out, fmt.Sprintf("%s: %s → %s", ch.What, ch.From, ch.To))
	}
	for _, t := range st.Thrown {
		out = append(out, "throws away: "+lineText(&t))
	}
	out = append(out, "then "+o.doesLine(i))
	if slow := slowLine(st.Slowed); slow != "" {
		out = append(out, slow)
	}
	if less := o.lessLine(i); less != "" {
		out = append(out, less)
	}
	return out
}

// slowLine names the runs that lose their transport velocity by a stage.
func slowLine(slowed []optimize.Slowed) string {
	var out []string
	for _, s := range slowed {
		out = append(out, fmt.Sprintf("%s in %q, %s %% of it", s.Run, s.State, percent(s.Ratio)))
	}
	if len(out) == 0 {
		return ""
	}
	return "LOSES transport velocity, dust may settle: " + strings.Join(out, "; ")
}

// lessLine names the tools that were short before a stage and get still less
// after it: no promise covers them.
func (o *outcome) lessLine(i int) string {
	was := o.staged.Before
	if i > 0 {
		was = o.staged.Stages[i-1].States
	}
	spec := o.problem.Base.Spec()
	var less []string
	for k, s := range o.staged.Stages[i].States {
		for n, t := range s.Verdict.Tools {
			before := was[k].Verdict.Tools[n].Ratio
			if !network.Meets(before) && t.Ratio < before-0.01 {
				less = append(less, fmt.Sprintf("%s in %q %s instead of %s %%", spec.Tools[t.Tool].ID, s.State.Name, percent(max(0, t.Ratio)), percent(max(0, before))))
			}
		}
	}
	if len(less) == 0 {
		return ""
	}
	return "short before, and for the time being shorter still: " + strings.Join(less, ", ")
}

// sumBudgets is the money of the stages before one.
func sumBudgets(s *optimize.Staged, i int) (sum price.Money) {
	for k := range s.Stages[:i] {
		sum += s.Stages[k].Budget
	}
	return sum
}

// lineText names a part and its place.
func lineText(l *parts.Line) string {
	if l.Qty == 1 {
		return l.Item.String() + " at " + l.Where
	}
	return fmt.Sprintf("%s × %s at %s", number(l.Qty, 0), l.Item.String(), l.Where)
}

// doesLine says what meets after a stage.
func (o *outcome) doesLine(i int) string {
	st := &o.staged.Stages[i]
	was := o.doesBefore(i)
	d := st.Does
	if d.Met == d.Asked && d.Held == d.States {
		return "everything meets"
	}
	name, state, share := leastTool(st.Problem.Base.Spec(), st.States)
	return fmt.Sprintf("%d of %d flows are met (before %d), the least is %s %% for %s in %q; the other rules hold in %d of %d states (before %d)",
		d.Met, d.Asked, was.Met, percent(share), name, state, d.Held, d.States, was.Held)
}

// doesBefore is how the shop did before a stage.
func (o *outcome) doesBefore(i int) optimize.Does {
	if i == 0 {
		return o.staged.Start
	}
	return o.staged.Stages[i-1].Does
}

// gain is what a stage adds to the mean share of the flows, in points of per
// cent for 100 units of money; false where nothing is spent.
func (o *outcome) gain(i int) (float64, bool) {
	st := &o.staged.Stages[i]
	if st.Cost <= 0 {
		return 0, false
	}
	return 100 * (st.Does.Mean - o.doesBefore(i).Mean) / (o.major(st.Cost) / 100), true
}

// otherwise says what else could be done: joints made twice, another plan for
// budgets that do not pay for this one.
func (o *outcome) otherwise() []string {
	var out []string
	if line := o.twiceLine(); line != "" {
		out = append(out, line)
	}
	if n := len(o.staged.Stages); o.staged.Stages[n-1].Rest {
		out = append(out, fmt.Sprintf("For the budgets alone another plan may do more: redesign with --budget %q finds the one that gives most air for that sum.",
			o.p.Currency.Text(sumBudgets(o.staged, n-1))))
	}
	return out
}

// twiceLine says what taking joints apart again would gain, "" where nobody
// asked.
func (o *outcome) twiceLine() string {
	s, t, c := o.staged, o.staged.Twice, o.p.Currency
	if t == nil {
		return ""
	}
	head := "If a joint could be made twice"
	if t.Worth <= s.Worth {
		if t.Status == optimize.Optimal {
			return head + ", nothing would be gained: the order is as good as any."
		}
		return head + ", no better order was found."
	}
	line := head + fmt.Sprintf(", %s could be bought apart: ", count(t.Parts, "part"))
	var costs, thrown []string
	for i := range t.Stages {
		st := &t.Stages[i]
		if st.Empty() {
			continue
		}
		costs = append(costs, fmt.Sprintf("%s for %s (then %d of %d flows met)", stageName(t, i), c.Text(st.Cost), st.Does.Met, st.Does.Asked))
		for _, l := range st.Thrown {
			thrown = append(thrown, fmt.Sprintf("%s by %s", lineText(&l), stageName(t, i)))
		}
	}
	line += strings.Join(costs, ", ") + fmt.Sprintf("; %s more in all", c.Text(t.Extra))
	if len(thrown) > 0 {
		line += "; thrown away: " + strings.Join(thrown, ", ")
	}
	return line + ". Status: " + t.Status.String() + "."
}

// writeMD is stages.md.
func (o *outcome) writeMD(w io.Writer) error {
	fmt.Fprintf(w, "# Stages: %s\n\n%s %s\n", o.p.File.Name, o.planLine(), o.orderLine(o.staged))
	for i := range o.staged.Stages {
		lines := o.stageLines(i)
		fmt.Fprintf(w, "\n## %s\n\n", lines[0])
		for _, l := range lines[1:] {
			fmt.Fprintf(w, "- %s\n", l)
		}
	}
	for _, t := range o.stageTables() {
		fmt.Fprintf(w, "\n%s:\n\n```\n", t.head)
		if _, err := t.WriteTo(w); err != nil {
			return err
		}
		fmt.Fprint(w, "```\n")
	}
	for _, line := range o.otherwise() {
		fmt.Fprintf(w, "\n%s\n", line)
	}
	return nil
}

// finite is a share for a program, 0 where nothing is asked.
func finite(x float64) float64 {
	if math.IsInf(x, 0) {
		return 0
	}
	return x
}
