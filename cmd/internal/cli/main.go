// Package cli holds the verbs of the command, one file each: an options
// struct, a constructor that turns flags into options, and a run.
package cli

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"strings"

	"github.com/spf13/cobra"

	"wyewright/cmd/internal/ui"
	"wyewright/network"
	"wyewright/network/shopfile"
	"wyewright/network/units"
)

// ExitCode is what the program tells the shell.
type ExitCode int

// Exit codes, documented in "help exit-codes".
const (
	Done         ExitCode = 0
	Internal     ExitCode = 1
	Usage        ExitCode = 2
	FileInvalid  ExitCode = 3
	NotMet       ExitCode = 4
	NotConverged ExitCode = 5
	Interrupted  ExitCode = 130
)

// exitError is an error with its exit code. A nil err says that everything
// was already told.
type exitError struct {
	code ExitCode
	err  error
	hint string
}

func (e *exitError) Error() string {
	if e.err == nil {
		return fmt.Sprintf("exit code %d", e.code)
	}
	return e.err.Error()
}

func (e *exitError) Unwrap() error { return e.err }

// fail makes an error with an exit code and an optional hint.
func fail(code ExitCode, err error, hint string) error { return &exitError{code, err, hint} }

// app is what all verbs share.
type app struct {
	ui.Streams
	unitFlag string
	json     bool
	quiet    bool
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

// code prints an error and maps it to the exit code.
func (a *app) code(err error) ExitCode {
	if err == nil {
		return Done
	}
	code, hint := Internal, ""
	var e *exitError
	var spec *network.SpecError
	switch {
	case errors.As(err, &e):
		if code, hint = e.code, e.hint; e.err == nil {
			return code
		}
	case errors.Is(err, shopfile.ErrInvalid):
		code = FileInvalid
	case errors.As(err, &spec):
		code, hint = FileInvalid, spec.Hint
	case errors.Is(err, network.ErrNotConverged):
		code = NotConverged
	case errors.Is(err, fs.ErrNotExist):
		code, hint = Usage, "check the path"
	case isUsage(err):
		code, hint = Usage, "see wyewright help"
	}
	fmt.Fprintf(a.Err, "wyewright: error: %v\n", err)
	if hint != "" {
		fmt.Fprintf(a.Err, "hint: %s\n", hint)
	}
	return code
}

// isUsage recognises cobra's own complaints about the command line.
func isUsage(err error) bool {
	for _, start := range []string{"unknown command", "unknown flag", "unknown shorthand", "invalid argument", "flag needs an argument",
		"accepts ", "requires at least", "bad flag syntax"} {
		if strings.HasPrefix(err.Error(), start) {
			return true
		}
	}
	return false
}

// root builds the command with its verbs.
func (a *app) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "wyewright",
		Short: "Plan the cheapest change to a workshop's dust ducts",
		Long: "wyewright plans the cheapest change to a workshop's dust ducts that gives every tool its\n" +
			"air and lets no dust settle, in every way the shop is run. It is a planning aid for\n" +
			"airflow: local codes and licensed practice come first.",
		SilenceErrors: true, SilenceUsage: true,
	}
	root.CompletionOptions.HiddenDefaultCmd = true
	f := root.PersistentFlags()
	f.StringVar(&a.unitFlag, "units", "", "print in `us` or `si` units (default: those of the file)")
	f.BoolVar(&a.json, "json", false, "print the answer as JSON")
	f.BoolVar(&a.quiet, "quiet", false, "no progress and no notes")
	root.AddCommand(newNew(a), newCheck(a), newSolve(a), newRedesign(a), newParts(a), newPlot(a), newVersion(a))
	root.AddCommand(topics()...)
	return root
}

// units are those to print in.
func (a *app) units(f *shopfile.File) (units.System, error) {
	if a.unitFlag == "" {
		return f.Units, nil
	}
	s, err := units.ParseSystem(a.unitFlag)
	if err != nil {
		return s, fail(Usage, err, "--units takes us or si")
	}
	return s, nil
}
