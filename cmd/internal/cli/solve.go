package cli

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"wyewright/cmd/internal/project"
	"wyewright/cmd/internal/ui"
	"wyewright/network"
	"wyewright/network/units"
)

type solveOptions struct {
	file      string
	states    []string
	open      []string
	collector string
}

func newSolve(a *app) *cobra.Command {
	var o solveOptions
	c := &cobra.Command{
		Use:   "solve FILE",
		Short: "Compute flows, velocities and pressures in every operating state",
		Long:  "solve computes the shop as the file has it. Exit code 4 says that a requirement is not met.",
		Args:  cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			o.file = args[0]
			return a.solve(cmd.Context(), &o)
		},
	}
	f := c.Flags()
	f.StringArrayVar(&o.states, "state", nil, "only this operating `state` (may be repeated)")
	f.StringSliceVar(&o.open, "open", nil, "open these `tools` or bleeds as well")
	f.StringVar(&o.collector, "collector", "", "the collector in place (default: the one the redesign assumes, else the first)")
	return c
}

// solved is a state with its answer.
type solved struct {
	sol *network.Solution
	v   *network.Verdict
}

func (a *app) solve(ctx context.Context, o *solveOptions) error {
	p, err := a.open(o.file)
	if err != nil {
		return err
	}
	sys, err := a.units(p.File)
	if err != nil {
		return err
	}
	n := p.Network
	if o.collector != "" {
		i := slices.IndexFunc(n.Spec().Collectors, func(c network.Collector) bool { return c.ID == o.collector })
		if i < 0 {
			return fail(Usage, fmt.Errorf("no collector %q in the file", o.collector), "")
		}
		n = n.WithCollector(i)
	}
	states, err := pickStates(p.File.States, o)
	if err != nil {
		return err
	}
	limits := project.Limits(p.File)
	var all []solved
	for _, st := range states {
		m := n
		if i := slices.IndexFunc(n.Spec().Collectors, func(c network.Collector) bool { return c.ID == st.Collector }); i > 0 {
			m = n.WithCollector(i)
		}
		st.Collector = ""
		c, err := m.Case(st)
		if err != nil {
			return fail(Usage, err, "name tools and bleeds as the file does")
		}
		sol, v, err := network.NewSolver(m, nil).Check(ctx, c, &limits)
		if err != nil {
			return err
		}
		sol.State = st
		all = append(all, solved{sol, v})
	}
	met := !slices.ContainsFunc(all, func(s solved) bool { return !s.v.Meets() })
	if a.json {
		err = a.writeJSON(solveJSON(n, all, met))
	} else {
		err = a.printSolve(n, all, met, sys)
	}
	if err == nil && !met {
		return fail(NotMet, nil, "")
	}
	return err
}

func pickStates(all []network.State, o *solveOptions) ([]network.State, error) {
	var out []network.State
	for _, name := range o.states {
		i := slices.IndexFunc(all, func(s network.State) bool { return s.Name == name })
		if i < 0 {
			var names []string
			for _, s := range all {
				names = append(names, s.Name)
			}
			return nil, fail(Usage, fmt.Errorf("no state %q", name), "the file has: "+strings.Join(names, ", "))
		}
		out = append(out, all[i])
	}
	if len(o.states) == 0 {
		out = slices.Clone(all)
	}
	for i := range out {
		out[i].Open = append(slices.Clone(out[i].Open), o.open...)
	}
	return out, nil
}

func (a *app) printSolve(n *network.Network, all []solved, met bool, sys units.System) error {
	for _, s := range all {
		if err := a.printState(n, s, sys); err != nil {
			return err
		}
	}
	fmt.Fprintln(a.Out, "Summary")
	t := ui.NewTable(ui.Word("state"), ui.Word("verdict"), ui.Num("least flow", "%"), ui.Word("slowest dust run"), ui.Num("of limit", "%"))
	for _, s := range all {
		slow, ratio := slowest(n, s.v)
		t.Row(s.sol.State.Name, verdictWords(s.v), number(100*s.v.FlowRatio(), 0), slow, ratio)
	}
	if _, err := t.WriteTo(a.Out); err != nil {
		return err
	}
	if met {
		fmt.Fprintln(a.Out, "\nThe shop meets the flows and velocities you set, in every state listed.")
	} else {
		fmt.Fprintln(a.Out, "\nThe shop misses what you set; see the lines marked short, slow or fast.")
	}
	return nil
}

func verdictWords(v *network.Verdict) string {
	if v.Meets() {
		return "meets"
	}
	return "misses"
}

// slowest names the dust run with the least velocity against its limit.
func slowest(n *network.Network, v *network.Verdict) (string, string) {
	name, least := "none", ""
	for _, d := range v.Dust {
		if d.Ratio == v.DustRatio() {
			name, least = n.Spec().Runs[d.Run].ID, number(100*d.Ratio, 0)
		}
	}
	return name, least
}

func (a *app) printState(n *network.Network, s solved, sys units.System) error {
	st := s.sol.State
	with := ""
	if len(st.Open) > 0 {
		with = " with " + strings.Join(st.Open, ", ") + " open"
	}
	fmt.Fprintf(a.Out, "State %q%s: %s what you set\n", st.Name, with, verdictWords(s.v))
	tools := ui.NewTable(ui.Word("tool"), ui.Num("flow", units.Flow(0).Unit(sys)), ui.Num("needs", units.Flow(0).Unit(sys)), ui.Num("share", "%"), ui.Word("verdict"))
	spec := n.Spec()
	for k, t := range s.sol.Tools {
		if !t.Open {
			continue
		}
		need, share, word := "", "", "companion"
		for _, tv := range s.v.Tools {
			if tv.Tool == k {
				need, share, word = number(tv.Required.In(sys), 0), number(100*tv.Ratio, 0), "meets"
				if !network.Meets(tv.Ratio) {
					word = "short"
				}
			}
		}
		tools.Row(spec.Tools[k].ID, number(t.Flow.In(sys), 0), need, share, word)
	}
	if _, err := tools.WriteTo(a.Out); err != nil {
		return err
	}
	runs := ui.NewTable(ui.Word("run"), ui.Num("flow", units.Flow(0).Unit(sys)), ui.Num("velocity", units.Velocity(0).Unit(sys)),
		ui.Num("limit", units.Velocity(0).Unit(sys)), ui.Num("loss", units.Pressure(0).Unit(sys)), ui.Word("verdict"))
	for i, r := range s.sol.Runs {
		if r.Flow == 0 {
			continue
		}
		limit, word := runWords(s.v, i, sys)
		runs.Row(spec.Runs[i].ID, number(r.Flow.In(sys), 0), velocity(r.Slow, sys), limit, pressure(r.Loss, sys), word)
	}
	if _, err := runs.WriteTo(a.Out); err != nil {
		return err
	}
	a.printCollector(s, sys)
	return nil
}

// runWords are the limit of a run and the word for how it does.
func runWords(v *network.Verdict, run int, sys units.System) (limit, word string) {
	word = "no dust"
	for _, d := range v.Dust {
		if d.Run == run {
			limit, word = velocity(d.Limit, sys), "ok"
			if !network.Meets(d.Ratio) {
				word = "slow: dust may settle"
			}
		}
	}
	for _, d := range v.Fast {
		if d.Run == run {
			word = "fast: above the ceiling"
		}
	}
	if slices.Contains(v.Backward, run) {
		word = "air runs backward"
	}
	return limit, word
}

func (a *app) printCollector(s solved, sys units.System) {
	c := &s.sol.Collector
	motor := "motor not checked"
	if m := s.v.Motor; m.Checked {
		motor = fmt.Sprintf("motor %s of %s", m.Load.Text(sys), m.Rating.Text(sys))
		if !m.OK() {
			motor += ": overloaded"
		}
	}
	fmt.Fprintf(a.Out, "  collector %s: %s, suction at the inlet's wall %s, filter %s, %s\n", c.ID, c.Flow.Text(sys), c.Static.Text(sys), c.Filter.Text(sys), motor)
	if c.Beyond {
		fmt.Fprintln(a.Out, "  note: the flow lies beyond the last point of the fan curve, which was drawn on downward")
	}
	if c.Hump {
		fmt.Fprintln(a.Out, "  note: the fan curve has a hump; the steady point with the most flow is given")
	}
	fmt.Fprintf(a.Out, "  leakage %s; residuals %.1g Pa, %.1g m3/s\n\n", c.Leakage.Text(sys), s.sol.Residual, s.sol.Mass)
}
