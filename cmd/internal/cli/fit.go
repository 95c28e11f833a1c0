package cli

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"wyewright/cmd/internal/project"
	"wyewright/cmd/internal/ui"
	"wyewright/network/calibrate"
	"wyewright/network/shopfile"
	"wyewright/network/units"
	"wyewright/plots"
)

type fitOptions struct {
	file, out string
	forget    bool
}

func newFit(a *app, run runFunc[fitOptions]) *cobra.Command {
	var o fitOptions
	c := &cobra.Command{
		Use:   "fit FILE",
		Short: "Hold the shop against its readings: what fits, what is wrong, what to read next",
		Long: "fit holds the shop against the readings of its file. It says how well the model reproduces\n" +
			"them; which opening, blockage or wrong reading explains what it does not, how large it is\n" +
			"and how sure; which explanations the readings cannot tell apart; and which reading would.\n" +
			"Readings over or under the meter's range count as bounds. The file stays as it is.",
		Args: takes(1, 1),
		RunE: a.onFile(&o.file, &o.out, func(ctx context.Context) error { return run.or(a.fit)(ctx, &o) }),
	}
	c.Flags().BoolVar(&o.forget, "forget-leaks", false, "fit as if the file's leaks were not known: what do the readings alone ask for?")
	outFlag(c, &o.out)
	return c
}

func (a *app) fit(ctx context.Context, o *fitOptions) error {
	p, sys, err := a.openIn(o.file)
	if err != nil {
		return err
	}
	r, err := a.fitted(ctx, p, o)
	if err != nil {
		return err
	}
	if a.json {
		return a.writeJSON(fitJSON(r))
	}
	return a.printFit(r, sys)
}

// fitted fits the shop to its readings.
func (a *app) fitted(ctx context.Context, p *project.Project, o *fitOptions) (*calibrate.Report, error) {
	rs, err := p.Readings()
	var d shopfile.Diagnostics
	var place *fs.PathError
	switch {
	case errors.As(err, &d):
		for _, x := range d {
			fmt.Fprintln(a.Err, x.Error())
		}
		return nil, fail(FileInvalid, fmt.Errorf("%s: %s, nothing was done", p.File.ReadingsPath, count(len(d), "fault")), "")
	case errors.As(err, &place):
		return nil, fail(FileInvalid, fmt.Errorf("cannot read the readings %s: %w", p.File.ReadingsPath, place.Err), "name the file beside the shop file, or take the line out")
	case err != nil:
		return nil, err
	}
	spec := p.File.Spec
	if o.forget {
		spec.Leaks = nil
	}
	r, err := calibrate.Find(ctx, &spec, rs, calibrate.Need{States: p.File.States, Limits: project.Limits(p.File)})
	if errors.Is(err, calibrate.ErrNoReadings) {
		return nil, fail(FileInvalid, fmt.Errorf("%s: has no readings", o.file), "add readings: readings.csv, a table with the columns state, place, quantity, value")
	}
	return r, err
}

// readFigure draws the readings against the model fitted to them.
func readFigure(r *calibrate.Report, name string, sys units.System) (*plots.Figure, error) {
	d := plots.ReadData{Title: "Readings and model: " + name}
	for _, q := range []struct {
		is    calibrate.Quantity
		panel plots.ReadPanel
		in    func(x float64) float64
	}{
		{calibrate.Velocity, plots.ReadPanel{Quantity: "air speed", Unit: units.Velocity(0).Unit(sys)}, func(x float64) float64 { return units.Velocity(x).In(sys) }},
		{calibrate.Flow, plots.ReadPanel{Quantity: "flow", Unit: units.Flow(0).Unit(sys)}, func(x float64) float64 { return units.Flow(x).In(sys) }},
		{calibrate.Suction, plots.ReadPanel{Quantity: "suction", Unit: units.Pressure(0).Unit(sys)}, func(x float64) float64 { return units.Pressure(x).In(sys) }},
	} {
		for i := range r.Readings {
			x := &r.Readings[i]
			if x.Quantity != q.is {
				continue
			}
			place, _ := strings.CutSuffix(x.Name, " in "+x.State.Name)
			q.panel.Rows = append(q.panel.Rows, plots.ReadRow{State: x.State.Name, Place: place, Read: q.in(x.Value), Doubt: q.in(x.Sigma()), Model: q.in(x.Model),
				LeftOut: x.Rejected, Bound: map[calibrate.Bound]plots.ReadBound{calibrate.AtLeast: plots.ReadAtLeast, calibrate.AtMost: plots.ReadAtMost}[x.Bound]})
		}
		if len(q.panel.Rows) > 0 {
			d.Panels = append(d.Panels, q.panel)
		}
	}
	return plots.ReadChart(d)
}

func (a *app) printFit(r *calibrate.Report, sys units.System) error {
	bounds := 0
	for i := range r.Readings {
		if r.Readings[i].Bound != calibrate.Exact {
			bounds++
		}
	}
	fmt.Fprintf(a.Out, "%s, %d of them bounds. %s\n", count(len(r.Readings), "reading"), bounds, fitWord(r))
	if !r.Converged {
		fmt.Fprintln(a.Out, "A fit did not settle: do not rely on what follows.")
	}
	a.printFindings(r)
	for _, t := range []*ui.Table{estimateTable(r), readTable(r, sys)} {
		fmt.Fprintln(a.Out)
		if _, err := t.WriteTo(a.Out); err != nil {
			return err
		}
	}
	a.printNext(r, sys)
	return nil
}

// fitWord says how well the model reproduces the readings: the sum of squared
// misses is about the number of readings where the doubts are right.
func fitWord(r *calibrate.Report) string {
	n := float64(len(r.Readings))
	sum := fmt.Sprintf("sum of squared misses %.0f for %d readings", r.After, len(r.Readings))
	if len(r.Findings) > 0 {
		sum += fmt.Sprintf(", %.0f before the findings", r.Before)
	}
	switch {
	case r.After > n+4*math.Sqrt(2*n):
		return "The model does not reproduce them (" + sum + ")."
	case len(r.Findings) > 0:
		return "With the findings below the model reproduces them (" + sum + ")."
	}
	return "The model reproduces them (" + sum + ")."
}

func (a *app) printFindings(r *calibrate.Report) {
	if len(r.Findings) == 0 {
		fmt.Fprintln(a.Out, "\nNothing is wrong with the shop that these readings could show, beyond what the file says.")
		return
	}
	fmt.Fprintln(a.Out, "\nFound, the strongest evidence first (10 is strong)")
	air := false
	for i := range r.Findings {
		f := &r.Findings[i]
		if f.Reading >= 0 {
			fmt.Fprintf(a.Out, "  %d. %s: contradicts the others and was left out; evidence %.0f\n", i+1, f.Name, f.Evidence)
			if f.Hint != "" {
				fmt.Fprintf(a.Out, "     %s\n", f.Hint)
			}
		} else {
			fmt.Fprintf(a.Out, "  %d. %s: %s ± %s; evidence %.0f\n", i+1, f.Name, f.Text(f.Value), f.Text(f.Sigma), f.Evidence)
			air = air || f.Kind == calibrate.LeakArea
		}
		if len(f.Rivals) > 0 {
			var names []string
			for k := range f.Rivals {
				names = append(names, f.Rivals[k].Name)
			}
			fmt.Fprintf(a.Out, "     the readings cannot tell it from: %s\n", strings.Join(names, "; "))
		}
	}
	if air {
		fmt.Fprintln(a.Out, "  Where less air flows toward the machine than toward the fan it comes in between: friction takes pressure,\n  never air.")
	}
}

// estimateTable lists what is never quite known, and the faults.
func estimateTable(r *calibrate.Report) *ui.Table {
	t := ui.NewTable(ui.Word("fitted"), ui.Num("value", ""), ui.Num("±", ""), ui.Num("expected", ""), ui.Num("±", ""))
	for i := range r.Estimates {
		e := &r.Estimates[i]
		sigma, prior, doubt := "not seen", "", ""
		if !math.IsInf(e.Sigma, 0) {
			sigma = e.Text(e.Sigma)
		}
		if e.AtBound != 0 {
			sigma = "at its bound"
		}
		if e.Doubt > 0 {
			prior, doubt = e.Text(e.Prior), e.Text(e.Doubt)
		}
		t.Row(e.Name, e.Text(e.Value), sigma, prior, doubt)
	}
	return t
}

// readTable holds each reading against the model.
func readTable(r *calibrate.Report, sys units.System) *ui.Table {
	t := ui.NewTable(ui.Word("reading"), ui.Num("read", ""), ui.Num("model", ""), ui.Num("miss", "σ"), ui.Word(""))
	for i := range r.Readings {
		x := &r.Readings[i]
		mark := map[calibrate.Bound]string{calibrate.AtLeast: ">", calibrate.AtMost: "<"}[x.Bound]
		t.Row(x.Name, mark+readText(&x.Reading, x.Value, sys), readText(&x.Reading, x.Model, sys), number(x.Miss, 1), missWord(x))
	}
	return t
}

// readText prints a value of a reading's quantity with its unit.
func readText(r *calibrate.Reading, x float64, sys units.System) string {
	switch r.Quantity {
	case calibrate.Flow:
		return units.Flow(x).Text(sys)
	case calibrate.Suction:
		return units.Pressure(x).Text(sys)
	}
	return units.Velocity(x).Text(sys)
}

// missWord says how a reading fits.
func missWord(x *calibrate.Shown) string {
	switch z := math.Abs(x.Miss); {
	case x.Rejected:
		return "left out"
	case z >= 3:
		return "odd"
	case z >= 2:
		return "doubtful"
	case x.Bound != calibrate.Exact:
		return "holds"
	}
	return "fits"
}

// printNext says which reading would tell the rivals apart.
func (a *app) printNext(r *calibrate.Report, sys units.System) {
	if len(r.Next) == 0 {
		return
	}
	fmt.Fprintln(a.Out, "\nTo tell them apart, read next")
	for i := range r.Next {
		n := &r.Next[i]
		state := fmt.Sprintf("in state %q", n.State.Name)
		if len(n.State.Running)+len(n.State.Open) == 0 {
			state = "with all gates shut"
		}
		// Explanations that predict the same stand together.
		var values, words []string
		for _, u := range n.Under {
			v := readText(&n.Reading, u.Value, sys)
			if k := slices.Index(values, v); k >= 0 {
				words[k] += ", " + u.Name
				continue
			}
			values, words = append(values, v), append(words, v+" if "+u.Name)
		}
		fmt.Fprintf(a.Out, "  %d. %s %s: %s\n", i+1, n.Name, state, strings.Join(words, "; "))
	}
	fmt.Fprintln(a.Out, "  Velocities are those on the centre line. Keep one gate open on thin pipe; lock the fan off before drilling.")
}
