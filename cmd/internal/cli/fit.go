package cli

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"github.com/spf13/cobra"

	"wyewright/cmd/internal/project"
	"wyewright/network/calibrate"
	"wyewright/network/shopfile"
)

type fitOptions struct {
	file, out, shop string
	forget, predict bool
}

func newFit(a *app, run runFunc[fitOptions]) *cobra.Command {
	var o fitOptions
	c := &cobra.Command{
		Use:   "fit FILE",
		Short: "Hold the shop against its readings: what fits, what is wrong, what to read next",
		Long: "fit holds the shop against the readings of its file. It says how well the model reproduces\n" +
			"them; which opening, blockage or wrong reading explains what it does not, how large it is\n" +
			"and how sure; which explanations the readings cannot tell apart; and which reading would.\n" +
			"Readings over or under the meter's range count as bounds. The file stays as it is; --shop\n" +
			"writes a new one that has in force what was found, for redesign to start from.",
		Args: takes(1, 1),
		RunE: a.onFile(&o.file, &o.out, func(ctx context.Context) error { return run.or(a.fit)(ctx, &o) }),
	}
	c.Flags().BoolVar(&o.forget, "forget-leaks", false, "fit as if the file's leaks were not known: what do the readings alone ask for?")
	c.Flags().StringVar(&o.shop, "shop", "", "write the shop with what was found and fitted into a new `file`")
	c.Flags().BoolVar(&o.predict, "predict", false, "list the flow and speed of every run and tool in every state, with what the readings leave in doubt")
	outFlag(c, &o.out)
	return c
}

func (a *app) fit(ctx context.Context, o *fitOptions) error {
	if o.shop != "" {
		if o.forget {
			return fail(Usage, errors.New("--shop does not go with --forget-leaks"), "a file with its leaks and the same leaks as found would have them twice")
		}
		if err := absent(o.shop); err != nil {
			return err
		}
	}
	p, sys, err := a.openIn(o.file)
	if err != nil {
		return err
	}
	r, err := a.fitted(ctx, p, o)
	if err != nil {
		return err
	}
	var flows []calibrate.Flowing
	if o.predict {
		if flows, err = r.Predict(p.File.States); err != nil {
			return err
		}
	}
	if a.json {
		err = a.writeJSON(fitJSON(r, &p.File.Spec, flows))
	} else {
		err = (&fitPrinter{a, p, r, sys}).print(flows)
	}
	if err != nil || o.shop == "" {
		return err
	}
	return a.writeFitted(p, r, o)
}

// writeFitted writes the shop as it was fitted.
func (a *app) writeFitted(p *project.Project, r *calibrate.Report, o *fitOptions) error {
	if !r.Converged {
		return fail(NotConverged, errors.New("the fit did not settle: no shop was written"), "look at the readings that miss most")
	}
	head := fmt.Sprintf("The shop as %s have it: written by fit from %s.\nThe section fitted holds factors on what the other lines say.", count(len(r.Readings), "reading"), filepath.Base(o.file))
	for i := range r.Findings {
		head += "\nFound: " + r.Findings[i].Name
	}
	e, notes := p.FitEdits(r, head)
	text, err := p.File.Rewrite(e)
	if err != nil {
		return err
	}
	if err := writeNew(o.shop, text); err != nil {
		return err
	}
	a.note("wrote %s\n", o.shop)
	for _, n := range notes {
		a.note("%s\n", n)
	}
	return nil
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
