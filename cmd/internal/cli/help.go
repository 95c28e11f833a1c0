package cli

import (
	"encoding/json"

	"github.com/spf13/cobra"
)

// writeJSON prints an answer as indented JSON.
func (a *app) writeJSON(v any) error {
	e := json.NewEncoder(a.Out)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

// newHelp replaces cobra's own, which takes unknown words for a call for help.
func newHelp() *cobra.Command {
	return &cobra.Command{
		Use:               "help [VERB or TOPIC]",
		Short:             "Explain a verb or a topic",
		ValidArgsFunction: helpWords,
		RunE: func(c *cobra.Command, args []string) error {
			of, rest, err := c.Root().Find(args)
			if err != nil {
				return badFlag(c, err)
			}
			if err := aVerb(of, rest); err != nil {
				return err
			}
			of.InitDefaultHelpFlag()
			return of.Help()
		},
	}
}
