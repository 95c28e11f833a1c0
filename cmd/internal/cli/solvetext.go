package cli

import (
	"fmt"
	"slices"
	"strings"

	"wyewright/cmd/internal/ui"
	"wyewright/network"
	"wyewright/network/fan"
	"wyewright/network/units"
	"wyewright/optimize"
	"wyewright/plots"
)

func (a *app) printSolve(n *network.Network, all []optimize.StateResult, met bool, sys units.System) error {
	for _, s := range all {
		if err := a.printState(n, s, sys); err != nil {
			return err
		}
	}
	fmt.Fprintln(a.Out, "Summary")
	t := ui.NewTable(ui.Word("state"), ui.Word("verdict"), ui.Num("least flow", "%"), ui.Word("slowest dust run"), ui.Num("of limit", "%"))
	for _, s := range all {
		slow, ratio := slowest(n, s.Verdict)
		t.Row(s.State.Name, verdictWord(s.Verdict), percent(s.Verdict.FlowRatio()), slow, ratio)
	}
	if _, err := t.WriteTo(a.Out); err != nil {
		return err
	}
	if met {
		fmt.Fprintln(a.Out, "\nThe shop meets the flows and velocities you set, in every state listed.")
	} else {
		fmt.Fprintln(a.Out, "\nThe shop misses what you set; see the lines marked short, slow, fast, backward or overloaded.")
	}
	return nil
}

func verdictWord(v *network.Verdict) string {
	if len(v.Tools) == 0 && v.Meets() {
		return "nothing is asked"
	}
	if v.Meets() {
		return "meets"
	}
	return "misses"
}

// flowWord is the word for a tool's flow against its need.
func flowWord(tv network.ToolVerdict) string {
	if network.Meets(tv.Ratio) {
		return "meets"
	}
	return "short"
}

// slowest names the dust run with the least velocity against its limit.
func slowest(n *network.Network, v *network.Verdict) (string, string) {
	for _, d := range v.Dust {
		if d.Ratio == v.DustRatio() {
			return n.Spec().Runs[d.Run].ID, percent(d.Ratio)
		}
	}
	return "none", ""
}

func (a *app) printState(n *network.Network, s optimize.StateResult, sys units.System) error {
	with := ""
	if len(s.State.Open) > 0 {
		with = " with " + strings.Join(s.State.Open, ", ") + " open"
	}
	tables := []*ui.Table{toolTable(n, s, sys), runTable(n, s, sys)}
	if len(s.State.Running) > 0 {
		fmt.Fprintf(a.Out, "State %q%s: %s what you set\n", s.State.Name, with, verdictWord(s.Verdict))
	} else {
		fmt.Fprintf(a.Out, "State %q%s: nothing runs\n", s.State.Name, with)
		tables = tables[1:]
	}
	for _, t := range tables {
		if _, err := t.WriteTo(a.Out); err != nil {
			return err
		}
	}
	a.printCollectors(n, s, sys)
	a.printBalance(n, s, sys)
	a.printPath(n, s, sys)
	_, err := fmt.Fprintln(a.Out)
	return err
}

// toolTable lists the open tools and bleeds.
func toolTable(n *network.Network, s optimize.StateResult, sys units.System) *ui.Table {
	unit := units.Flow(0).Unit(sys)
	t := ui.NewTable(ui.Word("tool"), ui.Num("flow", unit), ui.Num("needs", unit), ui.Num("share", "%"), ui.Word("verdict"))
	spec := n.Spec()
	for k, tool := range s.Solution.Tools {
		if !tool.Open {
			continue
		}
		need, share, word := "", "", "only open"
		for _, tv := range s.Verdict.Tools {
			if tv.Tool == k {
				need, share, word = number(tv.Required.In(sys), 0), percent(tv.Ratio), flowWord(tv)
			}
		}
		t.Row(spec.Tools[k].ID, number(tool.Flow.In(sys), 0), need, share, word)
	}
	for k, flow := range s.Solution.Bleeds {
		if slices.Contains(s.State.Open, spec.Bleeds[k].ID) {
			t.Row(spec.Bleeds[k].ID, number(flow.In(sys), 0), "", "", "clean air")
		}
	}
	return t
}

// runTable lists the runs that carry air.
func runTable(n *network.Network, s optimize.StateResult, sys units.System) *ui.Table {
	t := ui.NewTable(ui.Word("run"), ui.Num("flow", units.Flow(0).Unit(sys)), ui.Num("velocity", units.Velocity(0).Unit(sys)),
		ui.Num("limit", units.Velocity(0).Unit(sys)), ui.Num("loss", units.Pressure(0).Unit(sys)), ui.Word("verdict"))
	for i, r := range s.Solution.Runs {
		if r.Flow != 0 {
			limit, word := runWords(s.Verdict, i, sys)
			t.Row(n.Spec().Runs[i].ID, number(r.Flow.In(sys), 0), velocity(speed(n, s.Solution, i), sys), limit, pressure(r.Loss, sys), word)
		}
	}
	return t
}

// runVerdict is the limit of a run, 0 where it has none, and the words for how
// it does; a run of two widths can be both slow and fast.
func runVerdict(v *network.Verdict, run int) (limit units.Velocity, words []string) {
	is := func(d network.RunVerdict) bool { return d.Run == run }
	if slices.Contains(v.Backward, run) {
		words = append(words, "backward")
	}
	d := slices.IndexFunc(v.Dust, is)
	if d >= 0 {
		if limit = v.Dust[d].Limit; !network.Meets(v.Dust[d].Ratio) && len(words) == 0 {
			words = append(words, "slow")
		}
	}
	if slices.ContainsFunc(v.Fast, is) {
		words = append(words, "fast")
	}
	switch {
	case len(words) > 0:
		return limit, words
	case d >= 0:
		return limit, []string{"ok"}
	}
	return limit, []string{"no dust"}
}

// runWords are the limit of a run and how it does, as printed. The speed that
// is too fast is that of the narrowest piece with the clean filter.
func runWords(v *network.Verdict, run int, sys units.System) (limit, words string) {
	l, list := runVerdict(v, run)
	if l > 0 {
		limit = velocity(l, sys)
	}
	for i, word := range list {
		switch word {
		case "slow":
			list[i] = "slow: dust may settle"
		case "backward":
			list[i] = "backward: air runs the wrong way"
		case "fast":
			f := v.Fast[slices.IndexFunc(v.Fast, func(d network.RunVerdict) bool { return d.Run == run })]
			list[i] = "fast: " + velocity(f.Velocity, sys) + " is above the ceiling of " + velocity(f.Limit, sys)
		}
	}
	return limit, strings.Join(list, ", ")
}

// printCollectors says how each running collector works.
func (a *app) printCollectors(n *network.Network, s optimize.StateResult, sys units.System) {
	for i := range s.Solution.Collectors {
		c := &s.Solution.Collectors[i]
		m := s.Verdict.Motor // with the clean filter
		if len(s.Solution.Collectors) > 1 {
			m = n.Motor(c)
		}
		fmt.Fprintf(a.Out, "  collector %s: %s, suction at the inlet's wall %s, filter %s, %s\n", c.ID, c.Flow.Text(sys), c.Static.Text(sys), c.Filter.Text(sys), motorWord(m, sys))
		if c.Flow < 0 {
			fmt.Fprintln(a.Out, "  warning: another collector pulls air backward through this one, with the dust of its filter: switch it off and shut its inlet in this state")
			continue
		}
		fmt.Fprintf(a.Out, "  %s\n", fanWord(n, c, sys))
		if c.Beyond {
			fmt.Fprintln(a.Out, "  note: the flow lies beyond the last point of the fan curve, which was drawn on downward")
		}
		if c.Hump {
			fmt.Fprintln(a.Out, "  note: the fan curve has a hump; the steady point with the most flow is given")
		}
		if c.Rising {
			fmt.Fprintln(a.Out, "  warning: the fan works where its curve rises: it may surge; open more, or ask its maker")
		}
	}
	if len(s.Solution.Collectors) == 0 {
		fmt.Fprintln(a.Out, "  no collector runs")
	}
	if s.Solution.Unsteady {
		fmt.Fprintln(a.Out, "  warning: the fans would not stay at this point: the flows swing or tip over to others")
	}
	if p := s.Solution.Parting; len(p) > 0 {
		fmt.Fprintf(a.Out, "  note: air parts, or runs against its wye, at %s: the coefficients there were not held against measurements\n", strings.Join(p, ", "))
	}
}

func motorWord(m network.MotorVerdict, sys units.System) string {
	if !m.Checked {
		return "motor not checked"
	}
	word := fmt.Sprintf("motor %s of %s", m.Load.Text(sys), m.Rating.Text(sys))
	if !m.OK() {
		word += ": overloaded"
	}
	return word
}

// fanWord says how far a fan is from its free air, and from the flow at which
// its pressure peaks.
func fanWord(n *network.Network, c *network.CollectorResult, sys units.System) string {
	curve := n.Spec().Collectors[c.Collector].Curve
	if _, ok := curve.(fan.Fixed); ok {
		return "fan: a fixed flow"
	}
	peak, free := network.Working(curve)
	word := fmt.Sprintf("fan: %s %% of its free air (%s)", number(100*float64(c.Flow/free), 0), free.Text(sys))
	if peak > 0 {
		word += fmt.Sprintf(", %s %% of the flow at which its pressure peaks (%s)", number(100*float64(c.Flow/peak), 0), peak.Text(sys))
	} else {
		word += ", its pressure falls from shut-off on: no stall in the curve"
	}
	return word
}

// balance splits the air at the collector by where it came in, m³/s: open
// tools, open bleeds, and what entered by leaks and shut gates.
func balance(n *network.Network, s optimize.StateResult) (tools, bleeds, leakage units.Flow) {
	for _, t := range s.Solution.Tools {
		if t.Open {
			tools += t.Flow
		}
	}
	for k, b := range n.Spec().Bleeds {
		if slices.Contains(s.State.Open, b.ID) {
			bleeds += s.Solution.Bleeds[k]
		}
	}
	return tools, bleeds, s.Solution.Collector.Leakage
}

// total is the flow of all collectors.
func total(s optimize.StateResult) units.Flow {
	sum := units.Flow(0)
	for i := range s.Solution.Collectors {
		sum += s.Solution.Collectors[i].Flow
	}
	return sum
}

func (a *app) printBalance(n *network.Network, s optimize.StateResult, sys units.System) {
	tools, bleeds, leakage := balance(n, s)
	from := "tools " + tools.Text(sys)
	if bleeds != 0 {
		from += " + bleeds " + bleeds.Text(sys)
	}
	fmt.Fprintf(a.Out, "  air in: %s + leaks and shut gates %s = %s; solved to %.1g Pa, %.1g m3/s\n", from, leakage.Text(sys),
		total(s).Text(sys), s.Solution.Residual, s.Solution.Mass)
}

// printPath says in one line where the pressure goes for the tool that is
// served worst.
func (a *app) printPath(n *network.Network, s optimize.StateResult, sys units.System) {
	tool := worst(s)
	if tool < 0 {
		return
	}
	if len(n.Way(s.Solution, tool, 0).Steps) == 0 {
		fmt.Fprintf(a.Out, "  no air goes into %s\n", n.Spec().Tools[tool].ID)
		return
	}
	var words []string
	most := step{}
	for _, st := range pressurePath(n, s.Solution, tool) {
		words = append(words, st.name+" "+pressure(st.loss, sys))
		if st.kind == plots.PathRun && st.loss > most.loss {
			most = st
		}
	}
	fmt.Fprintf(a.Out, "  %s governs; pressure goes to (%s): %s\n", n.Spec().Tools[tool].ID, units.Pressure(0).Unit(sys), strings.Join(words, ", "))
	if most.loss > 0 {
		fmt.Fprintf(a.Out, "  the run that takes most on its way: %s, %s\n", most.name, most.loss.Text(sys))
	}
}
