package cli

import (
	"encoding/json"
	"errors"
	"strings"

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
			var e *exitError
			if err := aVerb(of, rest); errors.As(err, &e) {
				var names []string
				for _, t := range topics() {
					names = append(names, t.Name())
				}
				return fail(e.code, e.err, e.hint+"; topics are: "+strings.Join(names, ", "))
			}
			of.InitDefaultHelpFlag()
			return of.Help()
		},
	}
}
