package cli

import (
	"context"
	"errors"

	"github.com/spf13/cobra"
)

type sheetOptions struct {
	file, out string
	states    []string
	meter     string
	rows      int
	html, csv bool
}

func newSheet(a *app, run runFunc[sheetOptions]) *cobra.Command {
	var o sheetOptions
	c := &cobra.Command{
		Use:   "sheet FILE",
		Short: "Print a form for measuring in the shop: where to drill, what to expect, blanks to fill in",
		Long: "sheet prints a form of one page to carry into the shop: where to drill, which gates to set,\n" +
			"what the model of the shop as it stands expects on the centre line, and blanks to fill in.\n" +
			"The most useful readings come first; it says how many found no room. It comes as Markdown,\n" +
			"as a page to print (--html), or as a table of readings to fill in, which the shop file can\n" +
			"name under readings (--csv).",
		Args: takes(1, 1),
		RunE: a.onFile(&o.file, &o.out, func(ctx context.Context) error { return run.or(a.sheet)(ctx, &o) }),
	}
	f := c.Flags()
	f.StringArrayVar(&o.states, "state", nil, "only this operating `state` (may be repeated); none is all gates shut")
	f.StringVar(&o.meter, "meter", usualMeter, "the `range` of speeds that your meter shows")
	f.IntVar(&o.rows, "rows", 30, "at most this many readings, fewer where the page is full")
	f.BoolVar(&o.html, "html", false, "write a page to print, HTML")
	f.BoolVar(&o.csv, "csv", false, "write a table of readings without values, CSV")
	outFlag(c, &o.out)
	return c
}

func (a *app) sheet(ctx context.Context, o *sheetOptions) error {
	if o.html && o.csv || a.json && (o.html || o.csv) {
		return fail(Usage, errors.New("more than one of --html, --csv and --json"), "give one")
	}
	if o.rows < 1 {
		return fail(Usage, errors.New("--rows asks for no reading"), "give 1 or more; 30 without the flag")
	}
	m, err := parseMeter(o.meter)
	if err != nil {
		return err
	}
	p, sys, err := a.openIn(o.file)
	if err != nil {
		return err
	}
	if m.sys = sys; o.meter == usualMeter {
		m.least, m.most = m.low.Text(sys), m.high.Text(sys)
	}
	form, err := a.sheetForm(ctx, p, o, m)
	switch {
	case err != nil:
		return err
	case a.json:
		return a.writeJSON(form)
	case o.html:
		return sheetHTML.Execute(a.Out, form)
	case o.csv:
		return form.csv(a.Out)
	}
	return form.markdown(a.Out)
}
