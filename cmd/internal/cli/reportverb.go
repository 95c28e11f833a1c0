package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"wyewright/cmd/internal/report"
)

// reportOptions are those of the search, with what goes onto the page.
type reportOptions struct {
	redesignOptions
	out, date string
}

func newReport(a *app, run runFunc[reportOptions]) *cobra.Command {
	var o reportOptions
	c := &cobra.Command{
		Use:   "report FILE",
		Short: "Search as redesign does and write one page of HTML to hand on",
		Long: "report searches as redesign does and writes its answer as a single page of HTML: the\n" +
			"verdict with up to three plans to choose from, before and after, pictures, changes, parts,\n" +
			"cut list and measuring sheet, and how sure it all is. The page asks for nothing from\n" +
			"outside, works without scripts, and prints on A4 and Letter. redesign writes the same page\n" +
			"into its folder. Exit codes are those of redesign: the page is written all the same, and\n" +
			"says so, where no plan meets the rules.",
		Args: takes(1, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			o.file = args[0]
			return run.or(a.report)(cmd.Context(), &o)
		},
	}
	f := c.Flags()
	f.StringVarP(&o.out, "out", "o", "", "`page` to write (default: the file's name with -report.html)")
	f.StringVar(&o.date, "date", "", "`date` to print at the top, as typed (default: none, so that the same search writes the same page)")
	o.searchFlags(c)
	o.otherTime = time.Second // not asked for here; checkAnswers wants one
	return c
}

func (a *app) report(ctx context.Context, o *reportOptions) error {
	share, err := checkRedesign(&o.redesignOptions)
	if err != nil {
		return err
	}
	if info, err := os.Stat(o.file); err == nil && info.IsDir() {
		return fail(Usage, fmt.Errorf("%s is a folder", o.file), "give a shop file; the folder of a redesign holds its "+pageName+" already")
	}
	if strings.ContainsAny(o.date, "\n\r") {
		return fail(Usage, errors.New("--date has more than one line"), "write it as it is to be printed, such as --date 2026-03-14")
	}
	if o.out == "" {
		o.out = strings.TrimSuffix(filepath.Base(o.file), filepath.Ext(o.file)) + "-report.html"
	}
	if e := strings.ToLower(filepath.Ext(o.out)); e != ".html" && e != ".htm" {
		return fail(Usage, fmt.Errorf("the page would be called %s", o.out), "end its name in .html; -o takes the name of a new file")
	}
	if err := absent(o.out); err != nil {
		return err
	}
	if info, err := os.Stat(filepath.Dir(o.out)); err != nil || !info.IsDir() { // known before the search, not after
		return fail(Usage, fmt.Errorf("no folder %s to write %s into", filepath.Dir(o.out), filepath.Base(o.out)), "make it first, or give another name with -o")
	}
	p, sys, err := a.openToSearch(&o.redesignOptions)
	if err != nil {
		return err
	}
	out, err := a.search(ctx, p, &o.redesignOptions, share)
	if err != nil {
		return err
	}
	out.sys = sys
	if _, err := out.shopFile(); err != nil { // as redesign: the new shop is solved once more, with its caps on
		return err
	}
	text, err := out.page(ctx, o.date)
	if err != nil {
		return err
	}
	if err := writeNew(o.out, text); err != nil {
		return err
	}
	if a.json {
		err = a.writeJSON(out.planJSON())
	} else {
		_, err = fmt.Fprintf(a.Out, "%s: %s\n%s", out.p.File.Name, out.verdictLine(), out.butCapped())
	}
	a.note("wrote %s\n", o.out)
	return a.ended(ctx, out, err)
}

// page is the report as a page of HTML.
func (o *outcome) page(ctx context.Context, date string) ([]byte, error) {
	p, err := o.reportPage(context.WithoutCancel(ctx))
	if err != nil {
		return nil, err
	}
	p.Date = date
	var b bytes.Buffer
	err = report.Write(&b, p)
	return b.Bytes(), err
}
