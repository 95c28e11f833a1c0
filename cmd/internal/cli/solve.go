package cli

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"wyewright/cmd/internal/project"
	"wyewright/network"
)

type solveOptions struct {
	file      string
	states    []string
	open      []string
	collector string
	out       string
	// confident asks with what probability each tool meets its flow, over
	// draws shops drawn from the doubt of a fit to the readings.
	confident bool
	draws     int
	// set are values tried in the place of the file's: "main 2.size=160 mm".
	set []string
}

func newSolve(a *app, run runFunc[solveOptions]) *cobra.Command {
	var o solveOptions
	c := &cobra.Command{
		Use:   "solve FILE",
		Short: "Compute flows, velocities and pressures in every operating state",
		Long: "solve computes the shop as the file has it, state by state, and holds it against the flows\n" +
			"and velocities you set. Exit code 4 says that something is missed, 5 that the network did\n" +
			"not settle.",
		Args: takes(1, 1),
		RunE: a.onFile(&o.file, &o.out, func(ctx context.Context) error { return run.or(a.solve)(ctx, &o) }),
	}
	f := c.Flags()
	f.StringArrayVar(&o.states, "state", nil, "only this operating `state` (may be repeated)")
	f.StringSliceVar(&o.open, "open", nil, "open these `tools` or bleeds as well")
	f.StringVar(&o.collector, "collector", "", "the `collector` in place in every state (default: what the state names, else what the redesign assumes, else the first)")
	f.BoolVar(&o.confident, "confidence", false, "fit the shop to its readings first, and say with what probability each tool meets its flow")
	f.IntVar(&o.draws, "draws", 400, "how many shops --confidence `draws` from the doubt of the fit")
	f.StringArrayVar(&o.set, "set", nil, "try one `change` without touching the file: 'main 2.size=160 mm', 'cap.area=0 cm2' (may be repeated)")
	outFlag(c, &o.out)
	return c
}

func (a *app) solve(ctx context.Context, o *solveOptions) error {
	p, sys, err := a.openIn(o.file)
	if err == nil && len(o.set) > 0 {
		p, err = a.trySet(p, o.set)
	}
	if err != nil {
		return err
	}
	n, err := pickCollector(p.Network, o.collector)
	if err != nil {
		return err
	}
	for _, name := range o.states {
		if slices.Contains(p.File.Waiting(), name) {
			return fail(Usage, fmt.Errorf("state %q waits for a tool that comes later", name), "take later: true out of a copy of the file to solve it")
		}
	}
	states, err := pickStates(n, p.File.States, o)
	if err != nil {
		return err
	}
	a.sayCollector(p, n, states, o)
	if o.confident {
		return a.confidence(ctx, p, o, states, sys)
	}
	all, err := solveStates(ctx, n, states, project.Limits(p.File))
	if err != nil {
		return err
	}
	met := allMeet(all)
	if ties := n.Ties(); len(ties) > 0 {
		a.note("at %s two runs come in or lead on alike: the first in the file counts as the straight one (main: true on a run that comes in says otherwise), and the flows depend on that\n", strings.Join(ties, ", "))
	}
	bears := strains(ctx, p, n)
	if a.json {
		err = a.writeJSON(solveJSON(n, all, met, &bears))
	} else {
		err = a.printSolve(n, all, met, sys)
		fmt.Fprintf(a.Out, "\n%s\n", strings.Join(bears.lines(n, sys), "\n"))
	}
	if err == nil && !met {
		return fail(NotMet, nil, "")
	}
	return err
}

// pickCollector puts the collector of that name in place.
func pickCollector(n *network.Network, name string) (*network.Network, error) {
	if name == "" {
		return n, nil
	}
	var names []string
	for i, c := range n.Spec().Collectors {
		if c.ID == name {
			return n.WithCollector(i), nil
		}
		names = append(names, c.ID)
	}
	return nil, fail(Usage, fmt.Errorf("no collector %q in the file", name), "the file has: "+strings.Join(names, ", "))
}

// sayCollector says so where states are solved with a collector that stands in
// the shop only after the redesign.
func (a *app) sayCollector(p *project.Project, n *network.Network, states []network.State, o *solveOptions) {
	first, used := p.File.Spec.Collectors[0].ID, n.Spec().Collectors[0].ID
	silent := slices.ContainsFunc(states, func(s network.State) bool { return s.Collector == "" })
	if o.collector == "" && first != used && silent {
		a.note("solved with %q, the collector that the redesign assumes; for the one that stands there first: --collector %q\n", used, first)
	}
}

// pickStates are the states asked for, all where none is named, with what is
// to be opened with them.
func pickStates(n *network.Network, all []network.State, o *solveOptions) ([]network.State, error) {
	for _, name := range o.open {
		_, tool := n.ToolIndex(name)
		_, bleed := n.BleedIndex(name)
		if !tool && !bleed {
			return nil, fail(Usage, fmt.Errorf("no tool or bleed %q in the file", name), "name tools and bleeds as the file does; check lists them")
		}
	}
	var out []network.State
	for _, name := range o.states {
		i := slices.IndexFunc(all, func(s network.State) bool { return s.Name == name })
		if i < 0 {
			var names []string
			for _, s := range all {
				names = append(names, s.Name)
			}
			return nil, fail(Usage, fmt.Errorf("no state %q in the file", name), "the file has: "+strings.Join(names, ", "))
		}
		out = append(out, all[i])
	}
	if len(o.states) == 0 {
		out = slices.Clone(all)
	}
	for i := range out {
		if out[i].Open = slices.Clone(out[i].Open); o.collector != "" {
			out[i].Collector = "" // the flag goes before what a state names
		}
		for _, name := range o.open {
			if !slices.Contains(out[i].Running, name) && !slices.Contains(out[i].Open, name) {
				out[i].Open = append(out[i].Open, name)
			}
		}
	}
	return out, nil
}
