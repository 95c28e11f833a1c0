package cli

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"wyewright/cmd/internal/project"
	"wyewright/network"
	"wyewright/network/units"
	"wyewright/optimize"
	"wyewright/plots"
)

// plotKinds are the pictures of a shop as it stands.
var plotKinds = []string{"plan", "isometric", "fan", "velocity", "flow"}

func newPlot(a *app) *cobra.Command {
	var out string
	c := &cobra.Command{
		Use:       "plot FILE KIND",
		Short:     "Draw the shop as it stands: " + strings.Join(plotKinds, ", "),
		Args:      cobra.ExactArgs(2),
		ValidArgs: plotKinds,
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.plot(cmd.Context(), args[0], args[1], out)
		},
	}
	c.Flags().StringVarP(&out, "out", "o", "", "`file` to write, .svg or .png (default: KIND.svg)")
	return c
}

func (a *app) plot(ctx context.Context, file, kind, out string) error {
	if !slices.Contains(plotKinds, kind) {
		return fail(Usage, fmt.Errorf("no picture %q", kind), "use one of: "+strings.Join(plotKinds, ", "))
	}
	if out == "" {
		out = kind + ".svg"
	}
	format := strings.TrimPrefix(filepath.Ext(out), ".")
	if !slices.Contains(plots.Formats(), format) {
		return fail(Usage, fmt.Errorf("no picture format %q", format), "end the file's name in .svg or .png")
	}
	p, err := a.open(file)
	if err != nil {
		return err
	}
	sys, err := a.units(p.File)
	if err != nil {
		return err
	}
	fig, err := shopFigure(ctx, p, kind, sys)
	if err != nil {
		return err
	}
	data, err := fig.SVG()
	if format == "png" {
		data, err = fig.PNG(pictureDPI)
	}
	if err != nil {
		return err
	}
	if err := writeNew(out, data); err != nil {
		return err
	}
	if !a.quiet {
		fmt.Fprintf(a.Err, "wrote %s\n", out)
	}
	return nil
}

// shopFigure draws a shop as the file has it.
func shopFigure(ctx context.Context, p *project.Project, kind string, sys units.System) (*plots.Figure, error) {
	if kind == "plan" || kind == "isometric" {
		d, ok := planData(p.Network, nil, bleedNames(p.File.Spec.Bleeds), sys)
		if !ok {
			return nil, fail(FileInvalid, fmt.Errorf("no coordinates for the collector and the runs"), "give points.at in the file")
		}
		if kind == "plan" {
			return plots.PlanView(d)
		}
		return plots.Isometric(d)
	}
	states, err := asItStands(ctx, p)
	if err != nil {
		return nil, err
	}
	switch kind {
	case "fan":
		return fanFigure(p.Network, states, sys)
	case "velocity":
		return velocityFigure(p.Network, []string{""}, [][]optimize.StateResult{states}, project.Limits(p.File).Ceiling, sys)
	}
	d := plots.FlowData{Unit: units.Flow(0).Unit(sys), NoBefore: true}
	for _, s := range states {
		for _, tv := range s.Verdict.Tools {
			d.Rows = append(d.Rows, plots.FlowRow{State: s.State.Name, Tool: p.Network.Spec().Tools[tv.Tool].ID,
				After: max(0, tv.Flow.In(sys)), Required: tv.Required.In(sys)})
		}
	}
	return plots.FlowBars(d)
}

// asItStands solves every state of the file.
func asItStands(ctx context.Context, p *project.Project) ([]optimize.StateResult, error) {
	limits := project.Limits(p.File)
	var out []optimize.StateResult
	for _, st := range p.File.States {
		st.Collector = ""
		c, err := p.Network.Case(st)
		if err != nil {
			return nil, err
		}
		sol, v, err := network.NewSolver(p.Network, nil).Check(ctx, c, &limits)
		if err != nil {
			return nil, err
		}
		sol.State = st
		out = append(out, optimize.StateResult{State: st, Solution: sol, Verdict: v})
	}
	return out, nil
}
