package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"wyewright/network/shopfile"
)

func newNew(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "new [FILE]",
		Short: "Write a commented starter file to describe your shop in",
		Args:  cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				_, err := a.Out.Write(shopfile.Starter())
				return err
			}
			if err := writeNew(args[0], shopfile.Starter()); err != nil {
				return err
			}
			fmt.Fprintf(a.Err, "wrote %s; edit it, then: wyewright check %s\n", args[0], args[0])
			return nil
		},
	}
}

// Version of the program.
const Version = "0.1"

func newVersion(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "Print the version",
		Args:  cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			if a.json {
				return a.writeJSON(map[string]string{"version": Version})
			}
			_, err := fmt.Fprintln(a.Out, "wyewright", Version)
			return err
		},
	}
}
