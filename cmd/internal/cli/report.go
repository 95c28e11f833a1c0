package cli

import (
	"fmt"
	"slices"
	"strings"

	"wyewright/cmd/internal/ui"
	"wyewright/network"
	"wyewright/network/units"
	"wyewright/optimize"
)

// verdictLine says in one sentence what came out.
func (o *outcome) verdictLine() string {
	if o.budget != nil {
		return o.budget.line(o.p.Currency)
	}
	money := o.p.Currency.Text(o.result.Best.Cost)
	r := o.result
	verb := "meet"
	if r.Best.Changed == 1 {
		verb = "meets"
	}
	plan := fmt.Sprintf("%s for %s %s the flows and velocities you set in every state", count(r.Best.Changed, "change"), money, verb)
	if o.life != nil {
		if r.Best.Changed == 0 {
			plan = "Change nothing: the shop meets the flows and velocities you set in every state"
		}
		return plan + ". " + o.lifeLine()
	}
	switch r.Status {
	case optimize.Optimal:
		if r.Best.Changed == 0 {
			return "Change nothing: the shop meets the flows and velocities you set in every state (optimal)."
		}
		return plan + ". Status: optimal, no cheaper plan does."
	case optimize.Feasible:
		if r.Bound == 0 {
			return plan + ". Status: best found; no lower bound was proved, so a cheaper plan is not ruled out."
		}
		return fmt.Sprintf("%s. Status: best found; none can cost less than %s (gap %.1f %%).", plan, o.p.Currency.Text(r.Bound), 100*r.Gap)
	case optimize.Infeasible:
		return "No plan within what the file allows meets the flows and velocities you set. " + o.shortLine()
	}
	return "The search was stopped before it found a plan that meets everything; whether there is one is undecided. " + o.shortLine()
}

// shortLine says what the closest plan misses.
func (o *outcome) shortLine() string {
	s := o.result.Short
	if s == nil {
		return ""
	}
	what := fmt.Sprintf("%s in state %q gets %s %% of its required flow", s.Tool, s.State, percent(s.Ratio))
	switch s.Rule {
	case optimize.TransportRule:
		what = fmt.Sprintf("the air in %s in state %q runs at %s %% of its transport velocity", s.Run, s.State, percent(s.Ratio))
	case optimize.CeilingRule:
		what = fmt.Sprintf("the air in %s in state %q runs at %.1f %% of the ceiling", s.Run, s.State, 100/s.Ratio)
	case optimize.MotorRule:
		what = fmt.Sprintf("the motor in state %q carries %.1f %% of its rating", s.State, 100/s.Ratio)
	case optimize.DirectionRule:
		what = fmt.Sprintf("the air in %s in state %q runs backward", s.Run, s.State)
	}
	line := fmt.Sprintf("The plan that comes closest costs %s; with it %s.", o.p.Currency.Text(o.result.Best.Cost), what)
	switch {
	case o.result.Status != optimize.Infeasible:
	case s.Limit == 0:
		line += " Even without any required flow no plan keeps the other rules."
	case s.Limit < 1:
		line += fmt.Sprintf(" With the transport velocities held, no money can bring every tool above %.1f %% of its flow.", 100*s.Limit)
	}
	return line
}

func (a *app) printRedesign(o *outcome, dir string, files []string) error {
	fmt.Fprintf(a.Out, "%s: redesign\n\n%s\n", o.p.File.Name, o.verdictLine())
	fmt.Fprint(a.Out, o.butCapped())
	if line := nothingMay(o.p); line != "" {
		fmt.Fprintln(a.Out, line)
	}
	steps := []func(*outcome) error{a.printGateCard, a.printChanges, a.printFlows, a.printSlowest, a.printCost}
	if o.life != nil {
		steps = append(steps, a.printLife)
	}
	if o.power != nil {
		steps = append(steps, a.printPower)
	}
	if o.staged != nil {
		steps = append(steps, a.printStageSection)
	}
	for _, f := range slices.Concat(a.unmet(o), steps, a.asked(o)) {
		fmt.Fprintln(a.Out)
		if err := f(o); err != nil {
			return err
		}
	}
	fmt.Fprintf(a.Out, "\nHow sure\n  %s\n", strings.Join(o.sure(), "\n  "))
	fmt.Fprintf(a.Out, "\nMind\n  %s\n", strings.Join(cautions(o), "\n  "))
	fmt.Fprintf(a.Out, "\nWritten into %s: %s\n", dir, strings.Join(files, ", "))
	return nil
}

func (a *app) printChanges(o *outcome) error {
	fmt.Fprintln(a.Out, "Changes (the cost is that of the part itself; joints are in the split below)")
	_, err := o.changeTable().WriteTo(a.Out)
	return err
}

// changeTable lists what a plan changes, from what to what, and why.
func (o *outcome) changeTable() *ui.Table {
	t := ui.NewTable(ui.Word("what"), ui.Word("from"), ui.Word("to"), ui.Num("cost", o.p.Currency.Code), ui.Word("why"))
	for _, c := range o.changes {
		t.Row(c.What, c.From, c.To, o.p.Currency.Number(c.Cost), c.Why)
	}
	if len(o.changes) == 0 {
		t.Row("nothing")
	}
	return t
}

func (a *app) printFlows(o *outcome) error {
	u := units.Flow(0).Unit(o.sys)
	fmt.Fprintln(a.Out, "Flow per tool and state (before: as found, with the companions that serve best)")
	t := ui.NewTable(ui.Word("state"), ui.Word("tool"), ui.Num("before", u), ui.Num("after", u), ui.Num("required", u), ui.Num("share", "%"), ui.Word("verdict"))
	spec := o.problem.Base.Spec()
	for _, s := range o.result.States {
		for _, tv := range s.Verdict.Tools {
			t.Row(o.stateName(&s), spec.Tools[tv.Tool].ID, o.flowBefore(&s, spec.Tools[tv.Tool].ID), number(tv.Flow.In(o.sys), 0), number(tv.Required.In(o.sys), 0),
				percent(tv.Ratio), flowWord(tv))
		}
	}
	_, err := t.WriteTo(a.Out)
	return err
}

func (a *app) printSlowest(o *outcome) error {
	u := units.Velocity(0).Unit(o.sys)
	fmt.Fprintln(a.Out, "Slowest dust run in each state")
	t := ui.NewTable(ui.Word("state"), ui.Word("run"), ui.Num("velocity", u), ui.Num("limit", u), ui.Num("share", "%"), ui.Word("verdict"))
	spec := o.problem.Base.Spec()
	for _, s := range o.result.States {
		least := s.Verdict.DustRatio()
		for _, d := range s.Verdict.Dust {
			if d.Ratio != least {
				continue
			}
			word := "ok"
			if !network.Meets(d.Ratio) {
				word = "slow"
			}
			t.Row(o.stateName(&s), spec.Runs[d.Run].ID, velocity(d.Velocity, o.sys), velocity(d.Limit, o.sys), percent(d.Ratio), word)
			break
		}
	}
	_, err := t.WriteTo(a.Out)
	return err
}

func (a *app) printCost(o *outcome) error {
	fmt.Fprintln(a.Out, "Cost split")
	if _, err := sumTable(o.bill).WriteTo(a.Out); err != nil {
		return err
	}
	for _, line := range append([]string{o.jointLine()}, o.nowAndLater()...) {
		fmt.Fprintf(a.Out, "  %s\n", line)
	}
	return nil
}

// jointLine says what of the cost belongs to no single change.
func (o *outcome) jointLine() string {
	joints := o.bill.Planning
	for _, c := range o.changes {
		joints -= c.Cost
	}
	return o.p.Currency.Text(joints) + " of the planning cost are joints: the wyes, elbows, reducers and work where ducts meet"
}
