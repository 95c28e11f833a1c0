package cli

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"wyewright/network/shopfile"
	"wyewright/network/units"
)

type newOptions struct {
	file string // "" for standard output
}

func newNew(a *app, run runFunc[newOptions]) *cobra.Command {
	return &cobra.Command{
		Use:   "new [FILE]",
		Short: "Write a commented starter file to describe your shop in",
		Long: "new writes a small invented shop with a comment at every line that matters, to be changed\n" +
			"into your own: to FILE, which must not be there yet, or to standard output. With --units us\n" +
			"it is in inches, feet, cfm and dollars, with duct as sold in the United States.",
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
	sys, err := a.system(units.SI)
	if err != nil {
		return err
	}
	src := shopfile.Starter()
	if sys == units.US {
		src = shopfile.StarterUS()
	}
	if o.file == "" {
		_, err := a.Out.Write(src)
		return err
	}
	if err := writeNew(o.file, src); err != nil {
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
