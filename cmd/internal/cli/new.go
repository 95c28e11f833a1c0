package cli

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"wyewright/network/shopfile"
)

type newOptions struct {
	file string // "" for standard output
}

func newNew(a *app, run runFunc[newOptions]) *cobra.Command {
	return &cobra.Command{
		Use:   "new [FILE]",
		Short: "Write a commented starter file to describe your shop in",
		Long: "new writes a small invented shop with a comment at every line that matters, to be changed\n" +
			"into your own: to FILE, which must not be there yet, or to standard output.",
		Args: takes(0, 1),
		RunE: func(c *cobra.Command, args []string) error {
			var o newOptions
			if len(args) > 0 {
				o.file = args[0]
			}
			return run.or(a.start)(c.Context(), &o)
		},
	}
}

func (a *app) start(_ context.Context, o *newOptions) error {
	if o.file == "" {
		_, err := a.Out.Write(shopfile.Starter())
		return err
	}
	if err := writeNew(o.file, shopfile.Starter()); err != nil {
		return err
	}
	a.note("wrote %s; edit it, then: wyewright check %s\n", o.file, o.file)
	return nil
}

// Version of the program.
const Version = "0.1"

func newVersion(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "Print the version",
		Args:  takes(0, 0),
		RunE: func(*cobra.Command, []string) error {
			if a.json {
				return a.writeJSON(map[string]string{"version": Version})
			}
			_, err := fmt.Fprintln(a.Out, "wyewright", Version)
			return err
		},
	}
}
