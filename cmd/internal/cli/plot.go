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
	"wyewright/plots"
)

// plotKinds are the pictures of a shop as it stands.
var plotKinds = []string{"plan", "isometric", "fan", "velocity", "flow", "path", "losses", "profile", "readings", "faults", "correlation"}

type plotOptions struct {
	file, kind, state, tool, collector, out string
	forget                                  bool
}

func newPlot(a *app, run runFunc[plotOptions]) *cobra.Command {
	var o plotOptions
	c := &cobra.Command{
		Use:   "plot FILE KIND",
		Short: "Draw the shop as it stands: " + strings.Join(plotKinds, ", "),
		Long: "plot draws one picture of the shop as the file has it:\n" +
			"  plan, isometric  the ducts in space, and the corridors for new ones\n" +
			"  fan              the fan's curve and where each state works on it\n" +
			"  velocity         air speed by run and state, against the transport velocity\n" +
			"  flow             flow at each tool against what it needs\n" +
			"  path             where the pressure goes between a tool and the fan (--state, --tool)\n" +
			"  losses           the same, every bend, wye and hose for itself (--state, --tool)\n" +
			"  profile          suction against the distance from the tool (--state, --tool)\n" +
			"  readings         the readings of the file against the model fitted to them\n" +
			"  faults           the openings and blockages that the fit found, on the plan, with the file's own\n" +
			"  correlation      which fitted values the readings see only together",
		Args:      takes(2, 2, "KIND is one of: "+strings.Join(plotKinds, ", ")),
		ValidArgs: plotKinds,
		RunE: func(cmd *cobra.Command, args []string) error {
			o.file, o.kind = args[0], args[1]
			if one := strings.TrimSuffix(o.kind, "s"); !slices.Contains(plotKinds, o.kind) && slices.Contains(plotKinds, one) {
				o.kind = one // flows is flow
			}
			return run.or(a.plot)(cmd.Context(), &o)
		},
	}
	f := c.Flags()
	f.StringVarP(&o.out, "out", "o", "", "`file` to write, .svg or .png (default: KIND.svg)")
	f.StringVar(&o.state, "state", "", "draw only this operating `state`; of path, losses and profile the first one if not given")
	f.StringVar(&o.tool, "tool", "", "the `tool` at which path, losses and profile start (default: the one served worst)")
	f.BoolVar(&o.forget, "forget-leaks", false, "fit as if the file's leaks were not known (readings, faults and correlation)")
	f.StringVar(&o.collector, "collector", "", "the `collector` whose fan is drawn (default: the first)")
	return c
}

func (a *app) plot(ctx context.Context, o *plotOptions) error {
	if !slices.Contains(plotKinds, o.kind) {
		return fail(Usage, fmt.Errorf("no picture %q", o.kind), "use one of: "+strings.Join(plotKinds, ", "))
	}
	if o.out == "" {
		o.out = o.kind + ".svg"
	}
	format := strings.TrimPrefix(filepath.Ext(o.out), ".")
	if !slices.Contains(plots.Formats(), format) {
		return fail(Usage, fmt.Errorf("no picture format %q", format), "end the file's name in .svg or .png")
	}
	if err := absent(o.out); err != nil {
		return err
	}
	p, sys, err := a.openIn(o.file)
	if err != nil {
		return err
	}
	fig, err := a.figure(ctx, p, o, sys)
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
	if err := writeNew(o.out, data); err != nil {
		return err
	}
	a.note("wrote %s\n", o.out)
	return nil
}

// figure draws a shop as the file has it, or its readings.
func (a *app) figure(ctx context.Context, p *project.Project, o *plotOptions, sys units.System) (*plots.Figure, error) {
	if !slices.Contains([]string{"readings", "faults", "correlation"}, o.kind) {
		return shopFigure(ctx, p, o, sys)
	}
	if o.forget {
		p.File.Spec.Leaks = nil
	}
	r, err := a.fitted(ctx, p, &fitOptions{file: o.file})
	if err != nil {
		return nil, err
	}
	switch o.kind {
	case "faults":
		return a.faultFigure(p, r, sys)
	case "correlation":
		return correlationFigure(r)
	}
	return readFigure(r, p.File.Name, sys)
}

// errNoPlan refuses a picture in space of a shop without places.
func errNoPlan() error {
	return fail(FileInvalid, fmt.Errorf("no coordinates for the collector and the runs"), "give points.at in the file")
}

// shopFigure draws a shop as the file has it.
func shopFigure(ctx context.Context, p *project.Project, o *plotOptions, sys units.System) (*plots.Figure, error) {
	if o.kind == "plan" || o.kind == "isometric" {
		d, ok := planData(p.Network, nil, bleedNames(p.File.Spec.Bleeds), sys)
		if !ok {
			return nil, errNoPlan()
		}
		d.Runs = slices.DeleteFunc(d.Runs, func(r plots.PlanRun) bool { return comes(p.File, r.Name) })
		d.Ways = append(ways(p.File, sys), comingWays(p.File, sys)...)
		if o.kind == "plan" {
			return plots.PlanView(d)
		}
		return plots.Isometric(d)
	}
	only := solveOptions{}
	if o.state != "" {
		only.states = []string{o.state}
	}
	asked, err := pickStates(p.Network, p.File.States, &only)
	if err != nil {
		return nil, err
	}
	states, err := solveStates(ctx, p.Network, asked, project.Limits(p.File))
	if err != nil {
		return nil, err
	}
	switch o.kind {
	case "fan":
		i, err := fanShown(p.Network, o.collector)
		if err != nil {
			return nil, err
		}
		return fanFigure(p.Network, states, i, sys)
	case "velocity":
		return velocityFigure([]velocities{{"", p.Network, states}}, project.Limits(p.File).Ceiling, sys)
	case "path":
		return pathFigure(p.Network, states[0], o.tool, sys)
	case "profile":
		return profileFigure(p.Network, states[0], o.tool, sys)
	case "losses":
		return lossFigure(p.Network, states[0], o.tool, "", sys)
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

// fanShown is the collector of that name, or the first.
func fanShown(n *network.Network, name string) (int, error) {
	var names []string
	for i, c := range n.Spec().Collectors {
		if name == "" || c.ID == name {
			return i, nil
		}
		names = append(names, c.ID)
	}
	return 0, fail(Usage, fmt.Errorf("no collector %q in the file", name), "the file has: "+strings.Join(names, ", "))
}
