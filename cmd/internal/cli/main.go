// Package cli holds the verbs of the command, one file each: an options
// struct, a constructor that turns flags into options, and a run.
package cli

import (
	"context"

	"github.com/spf13/cobra"

	"wyewright/cmd/internal/ui"
	"wyewright/network/shopfile"
	"wyewright/network/units"
)

// app is what all verbs share.
type app struct {
	ui.Streams
	unitFlag string
	json     bool
	quiet    bool
}

// runFunc is what a verb does with its options. A constructor takes one in
// place of the verb's own, so that flags can be tested alone; nil means the
// verb's own.
type runFunc[O any] func(context.Context, *O) error

// or returns the replacement, or the verb's own run where there is none.
func (f runFunc[O]) or(own runFunc[O]) runFunc[O] {
	if f == nil {
		return own
	}
	return f
}

// Main runs the command line and returns the exit code.
func Main(ctx context.Context, s ui.Streams, args []string) ExitCode {
	a := &app{Streams: s}
	root := a.root()
	root.SetArgs(args)
	root.SetIn(s.In)
	root.SetOut(s.Out)
	root.SetErr(s.Err)
	return a.code(root.ExecuteContext(ctx))
}

// root builds the command with its verbs.
func (a *app) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "wyewright",
		Short: "Plan the cheapest change to a workshop's dust ducts",
		Long: "wyewright plans the cheapest change to a workshop's dust ducts that gives every tool its\n" +
			"air and lets no dust settle, in every way the shop is run. It is a planning aid for\n" +
			"airflow: local codes and licensed practice come first.",
		Args: aVerb,
		PersistentPreRunE: func(*cobra.Command, []string) error {
			_, err := a.system(units.SI)
			return err
		},
		RunE:          func(c *cobra.Command, _ []string) error { return c.Help() },
		SilenceErrors: true, SilenceUsage: true, SuggestionsMinimumDistance: 2,
	}
	root.CompletionOptions.DisableDefaultCmd = true
	root.SetFlagErrorFunc(badFlag)
	f := root.PersistentFlags()
	f.StringVar(&a.unitFlag, "units", "", "print in `us|si` units (default: those of the file)")
	f.BoolVar(&a.json, "json", false, "print the answer as JSON")
	f.BoolVar(&a.quiet, "quiet", false, "no progress and no notes")
	root.AddCommand(newNew(a, nil), newCheck(a, nil), newSolve(a, nil), newFit(a, nil), newSheet(a, nil),
		newRedesign(a, nil), newCompare(a, nil), newStages(a, nil), newParts(a, nil), newReport(a, nil), newPlot(a, nil), newCompletion(a), newMan(a), newVersion(a))
	root.AddCommand(topics()...)
	root.SetHelpCommand(newHelp())
	addCompletion(root)
	return root
}

// units are those to print in.
func (a *app) units(f *shopfile.File) (units.System, error) {
	return a.system(f.Units)
}

// system is the one that the flag names, else the one given.
func (a *app) system(otherwise units.System) (units.System, error) {
	if a.unitFlag == "" {
		return otherwise, nil
	}
	s, err := units.ParseSystem(a.unitFlag)
	if err != nil {
		return s, fail(Usage, err, "--units takes us or si")
	}
	return s, nil
}
