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

// topics are help pages that are no verbs.
func topics() []*cobra.Command {
	page := func(use, short, long string) *cobra.Command {
		return &cobra.Command{Use: use, Short: short, Long: long}
	}
	return []*cobra.Command{
		page("exit-codes", "What the exit codes mean", `Exit codes:
  0    done; also when a time limit ended a search that has a plan (its status says so)
  1    something inside went wrong
  2    wrong usage: unknown verb or flag, missing file, a file that would be overwritten
  3    the shop file is invalid; every fault was printed
  4    requirements not met: by "solve" as the shop stands; by "redesign" when no plan can,
       or when a limit ended the search before it found one ("undecided")
  5    the network did not settle; no answer was given
  130  interrupted; the best plan so far was written`),
		page("units", "Which units are read and printed", `Every quantity in a shop file carries its unit:
  length    4 in, 6 ft 3 in, 127 mm, 3 cm, 1.2 m
  flow      500 cfm, 850 m3/h, 0.25 m3/s, 250 l/s
  velocity  3500 fpm, 17.8 m/s
  pressure  6.1 in wg (conventional inch of water, 249.08891 Pa), 1520 Pa, 1.5 kPa, 15 mbar
  area      8 cm2, 1.2 in2
Printed units follow the file; --units us or --units si changes them.`),
		page("method", "How a redesign is decided", `A redesign picks one alternative for every run, leak, gate and bleed point. A plan
counts only if the full network solution meets every rule in every operating state:
each running tool at or above its flow, each run that carries dust at or above its
transport velocity, no run above the ceiling, the motor within its rating. A state may
open a second gate or a bleed inlet with its tools where the file allows companions.
The cheapest such plan is searched with valid bounds: "optimal" is a proof for this
model and these prices, "best found" comes with a bound and a gap. With a price of
energy, planning cost and energy money over the years are least together.
Not modelled: the dust itself, heat, noise, the machines' own hoods beyond one
coefficient, and whether the air is fit to breathe.`),
	}
}
