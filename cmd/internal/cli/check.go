package cli

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"wyewright/cmd/internal/project"
	"wyewright/cmd/internal/ui"
	"wyewright/network"
	"wyewright/network/shopfile"
	"wyewright/network/units"
)

type checkOptions struct{ file, out string }

func newCheck(a *app, run runFunc[checkOptions]) *cobra.Command {
	var o checkOptions
	c := &cobra.Command{
		Use:   "check FILE",
		Short: "Read a shop file, list every fault, and sum up what it says",
		Long: "check lists every fault of a shop file at once, each with its line and a hint, and ends in\n" +
			"exit code 3 where there is one. Else it sums up the shop, what a redesign may do, and what\n" +
			"is taken where the file is silent.",
		Args: takes(1, 1),
		RunE: a.onFile(&o.file, &o.out, func(ctx context.Context) error { return run.or(a.check)(ctx, &o) }),
	}
	outFlag(c, &o.out)
	return c
}

func (a *app) check(ctx context.Context, o *checkOptions) error {
	if a.json {
		return a.checkJSON(ctx, o.file)
	}
	p, err := a.openWhole(o.file)
	if err == nil {
		p, err = p.Today()
	}
	if err != nil {
		return err
	}
	sys, err := a.units(p.File)
	if err != nil {
		return err
	}
	return a.printCheck(ctx, p, sys)
}

// The JSON of check: names are stable, every quantity has its unit in its name.
type (
	jsonCheck struct {
		Valid      bool        `json:"valid"`
		Name       string      `json:"name,omitempty"`
		Points     int         `json:"points"`
		Runs       int         `json:"runs"`
		Tools      int         `json:"tools"`
		Leaks      int         `json:"leaks"`
		Collectors int         `json:"collectors"`
		Corridors  int         `json:"corridors"`
		Options    int         `json:"collector_options"`
		States     []string    `json:"states"`
		Density    float64     `json:"density_kg_m3,omitempty"`
		InForce    []string    `json:"in_force"`
		Faults     []jsonFault `json:"faults"`
		Warnings   []jsonFault `json:"warnings"`
		// Collapse is what the ducts bear with all gates shut.
		Collapse *jsonCollapse `json:"collapse,omitempty"`
	}
	jsonFault struct {
		Line    int    `json:"line"`
		Column  int    `json:"column"`
		Path    string `json:"path"`
		Message string `json:"message"`
		Hint    string `json:"hint,omitempty"`
	}
)

// faults of a file for programs; none is an empty list.
func faults(ds []*shopfile.Diagnostic) []jsonFault {
	out := []jsonFault{}
	for _, d := range ds {
		out = append(out, jsonFault{d.Line, d.Column, d.Path, d.Msg, d.Hint})
	}
	return out
}

// checkJSON prints the summary, or the faults where the file has some.
func (a *app) checkJSON(ctx context.Context, path string) error {
	p, err := load(path)
	if err == nil {
		p, err = p.Today()
	}
	var d shopfile.Diagnostics
	if errors.As(err, &d) {
		if err := a.writeJSON(jsonCheck{States: []string{}, InForce: []string{}, Faults: faults(d), Warnings: []jsonFault{}}); err != nil {
			return err
		}
		return fail(FileInvalid, nil, "")
	}
	if err != nil {
		return err
	}
	s := &p.File.Spec
	out := jsonCheck{Valid: true, Name: p.File.Name, Points: len(s.Points), Runs: len(s.Runs), Tools: len(s.Tools), Leaks: len(s.Leaks),
		Collectors: len(s.Collectors), Corridors: len(p.File.Corridors), Options: len(p.File.CollectorOptions), States: []string{}, Density: float64(s.Air.Density), InForce: inForce(p, units.SI),
		Faults: []jsonFault{}, Warnings: faults(p.File.Warnings)}
	bears := strains(ctx, p, p.Network)
	out.Collapse = bears.json(p.Network)
	for _, st := range p.File.States {
		out.States = append(out.States, st.Name)
	}
	return a.writeJSON(out)
}

func (a *app) printCheck(ctx context.Context, p *project.Project, sys units.System) error {
	s := &p.File.Spec
	parts := []string{count(len(s.Points), "point"), count(len(s.Runs), "run"), count(len(s.Tools), "tool"), count(len(s.Leaks), "leak")}
	if n := len(p.File.Corridors); n > 0 {
		parts = append(parts, count(n, "corridor"))
	}
	if n := len(p.File.CollectorOptions); n > 0 {
		parts = append(parts, count(n, "collector option"))
	}
	parts = append(parts, count(len(p.File.States), "operating state"), count(len(p.File.Warnings), "warning"))
	fmt.Fprintf(a.Out, "%s: %s\n", p.File.Name, strings.Join(parts, ", "))
	for _, t := range []*ui.Table{needTable(p, sys), madeTable(p, sys), stateTable(p)} {
		fmt.Fprintln(a.Out)
		if _, err := t.WriteTo(a.Out); err != nil {
			return err
		}
	}
	fmt.Fprintf(a.Out, "\nA redesign\n  %s\n", strings.Join(asked(p, sys), "\n  "))
	bears := strains(ctx, p, p.Network)
	_, err := fmt.Fprintf(a.Out, "\nIn force\n  %s\n", strings.Join(append(inForce(p, sys), bears.lines(p.Network, sys)...), "\n  "))
	return err
}

// needTable lists the tools and what they need.
func needTable(p *project.Project, sys units.System) *ui.Table {
	t := ui.NewTable(ui.Word("tool"), ui.Num("needs", units.Flow(0).Unit(sys)), ui.Word("basis"), ui.Word("dust"),
		ui.Num("transport", units.Velocity(0).Unit(sys)), ui.Num("ports", ""))
	for _, tool := range p.File.Spec.Tools {
		t.Row(tool.ID, number(tool.Flow.In(sys), 0), tool.Basis, tool.Dust, velocity(tool.Transport, sys), fmt.Sprint(len(tool.Ports)))
	}
	return t
}

// madeTable lists the runs and what they are made of.
func madeTable(p *project.Project, sys units.System) *ui.Table {
	t := ui.NewTable(ui.Word("run"), ui.Word("from"), ui.Word("to"), ui.Word("made of"), ui.Num("length", units.Length(0).Unit(sys)), ui.Num("bends", ""))
	for i, r := range p.Network.Spec().Runs {
		var made []string
		length := units.Length(0)
		for _, pc := range r.Pieces {
			made = append(made, pc.Size+" "+pc.Make.Family)
			length += pc.Length
		}
		bends := fmt.Sprint(len(p.Network.Route(i).Corners))
		if r.K.Bends != nil {
			bends = fmt.Sprintf("K %.2f", *r.K.Bends)
		}
		t.Row(r.ID, r.From, r.To, strings.Join(made, " + "), number(length.In(sys), 1), bends)
	}
	return t
}

// stateTable lists the operating states.
func stateTable(p *project.Project) *ui.Table {
	t := ui.NewTable(ui.Word("state"), ui.Word("running"), ui.Word("open as well"))
	for _, st := range p.File.States {
		var open []string
		if s := settings(&st, ""); s != "" {
			open = append(open, s)
		}
		if st.Collector != "" {
			open = append(open, "(collector "+st.Collector+")")
		}
		if st.Filter == network.Clean {
			open = append(open, "(filter clean)")
		}
		t.Row(st.Name, strings.Join(st.Running, ", "), strings.Join(open, ", "))
	}
	return t
}
