package cli

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"wyewright/network"
	"wyewright/network/shopfile"
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

// code prints an error and maps it to the exit code.
func (a *app) code(err error) ExitCode {
	if err == nil {
		return Done
	}
	code, hint := Internal, ""
	var e *exitError
	var spec *network.SpecError
	var unsettled *network.ConvergenceError
	switch {
	case errors.As(err, &e):
		if code, hint = e.code, e.hint; e.err == nil {
			return code
		}
	case errors.Is(err, context.Canceled), errors.As(err, &unsettled) && unsettled.Status == network.Interrupted:
		code = Interrupted
	case errors.Is(err, shopfile.ErrInvalid):
		code = FileInvalid
	case errors.As(err, &spec):
		code, hint = FileInvalid, spec.Hint
	case errors.Is(err, network.ErrNotConverged):
		code, hint = NotConverged, "no answer is given; look at the run named for an odd size, length or coefficient"
	}
	fmt.Fprintf(a.Err, "wyewright: error: %v\n", err)
	if hint != "" {
		fmt.Fprintf(a.Err, "hint: %s\n", hint)
	}
	return code
}

// takes checks the number of arguments of a verb. What is said of them stands
// behind the hint.
func takes(least, most int, said ...string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) >= least && len(args) <= most {
			return nil
		}
		hint := strings.Join(append([]string{"write it so: " + c.UseLine()}, said...), "; ")
		return fail(Usage, fmt.Errorf("%s got %s", c.CommandPath(), count(len(args), "argument")), hint)
	}
}

// aVerb refuses words that are no verb, with the nearest one.
func aVerb(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	root := c.Root()
	hint := "see " + root.Name() + " help"
	if near := root.SuggestionsFor(args[0]); len(near) > 0 {
		hint = fmt.Sprintf("did you mean %q? %s", near[0], hint)
	}
	return fail(Usage, fmt.Errorf("unknown verb %q", args[0]), hint)
}
