package cli

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/spf13/cobra"
)

type compareOptions struct {
	file   string
	others []string
	// trunk, family and collector are lists as typed; bleed asks for with and
	// without.
	trunk, family, collector string
	// runs are those that trunk is about, as typed; empty for those that serve
	// more than one tool.
	runs  string
	bleed bool
	sets  []string
	// each combines the lists, instead of one after the other.
	each bool
	// optimise searches for the cheapest redesign around each option, for time
	// each.
	optimise  bool
	time      time.Duration
	noAsFound bool
	dir       string
	force     bool
}

func newCompare(a *app, run runFunc[compareOptions]) *cobra.Command {
	var o compareOptions
	c := &cobra.Command{
		Use:   "compare FILE [FILE|FOLDER…]",
		Short: "Hold options side by side: trunk sizes, families, bleed, collectors, files",
		Long: "compare solves options for a shop in every operating state and sets them side by side: the\n" +
			"flow of each tool, the slowest dust run, what each costs and what it misses. Options are\n" +
			"what the flags list, other shop files, and folders that redesign wrote. Nothing else is\n" +
			"changed, unless --optimise asks for the cheapest redesign around each option. What is\n" +
			"compared may go beyond what the file lets a redesign do; that is then said. The exit code\n" +
			"is 0 whatever the options meet.",
		Example: "  wyewright compare shop.yaml --trunk \"4 in, 5 in, 6 in\"\n" +
			"  wyewright compare shop.yaml --trunk \"160 mm, 200 mm\" --bleed --optimise --time 1m\n" +
			"  wyewright compare shop.yaml --set 'main 2.size=160 mm; main 3.size=160 mm' --set 'cap.area=0 cm2'\n" +
			"  wyewright compare shop.yaml shop-redesign other.yaml -o side-by-side",
		Args: takes(1, mostRivals),
		RunE: func(c *cobra.Command, args []string) error {
			o.file, o.others = args[0], args[1:]
			if err := checkCompare(c, &o); err != nil {
				return err
			}
			return run.or(a.compare)(c.Context(), &o)
		},
	}
	f := c.Flags()
	f.StringVar(&o.trunk, "trunk", "", "`sizes` for the whole trunk (the runs that serve more than one tool), such as \"4 in, 5 in\"")
	f.StringVar(&o.runs, "runs", "", "the `runs` that --trunk is about, such as \"main 1, main 2\" (default: those that serve more than one tool)")
	f.StringVar(&o.family, "family", "", "`families` of rigid duct, such as \"US spiral, snap-lock\"")
	f.BoolVar(&o.bleed, "bleed", false, "with a bleed inlet and without")
	f.StringVar(&o.collector, "collector", "", "`collectors` that the file describes, or what it offers for one, such as \"old unit, new unit\"")
	f.StringArrayVar(&o.sets, "set", nil, "one option with `changes` as solve takes them, several by semicolons: 'main 2.size=160 mm; cap.area=0 cm2' (may be repeated)")
	f.BoolVar(&o.each, "each", false, "combine the lists: each trunk size with each collector and so on")
	f.BoolVar(&o.optimise, "optimise", false, "find the cheapest redesign around each option")
	f.BoolVar(&o.optimise, "optimize", false, "the same as --optimise")
	f.DurationVar(&o.time, "time", time.Minute, "with --optimise: limit of the search for each option, 0 for none")
	f.BoolVar(&o.noAsFound, "no-as-found", false, "leave out the shop as found")
	f.StringVarP(&o.dir, "out", "o", "", "write compare.json, compare.md and the picture into this new `folder` as well")
	f.BoolVar(&o.force, "force", false, "write into a folder that has files in it")
	_ = f.MarkHidden("optimize")
	return c
}

// mostRivals is the largest number of options side by side.
const mostRivals = 12

// checkCompare refuses flags that do not go together, and lists with nothing in
// them.
func checkCompare(c *cobra.Command, o *compareOptions) error {
	given := false
	for _, x := range []struct{ flag, value, example string }{
		{"trunk", o.trunk, `"4 in, 5 in, 6 in"`}, {"family", o.family, `"US spiral, snap-lock"`}, {"collector", o.collector, `"old unit, new unit"`},
		{"runs", o.runs, `"main 1, main 2"`},
	} {
		if !c.Flags().Changed(x.flag) {
			continue
		}
		if len(list(x.value)) == 0 {
			return fail(Usage, fmt.Errorf("--%s: nothing is listed", x.flag), "write it like: --"+x.flag+" "+x.example)
		}
		given = given || x.flag != "runs"
	}
	switch {
	case !given && !o.bleed && len(o.sets) == 0 && len(o.others) == 0:
		return fail(Usage, errors.New("nothing to compare with"), `list options, such as --trunk "4 in, 5 in", --family, --bleed, --collector or --set, or name other files and folders`)
	case o.runs != "" && o.trunk == "":
		return fail(Usage, errors.New("--runs says which runs --trunk is about"), `add --trunk with the sizes`)
	case c.Flags().Changed("time") && !o.optimise:
		return fail(Usage, errors.New("--time limits a search, and nothing is searched"), "add --optimise")
	case o.time < 0:
		return fail(Usage, errors.New("--time cannot be negative"), "0 means no limit")
	case o.force && o.dir == "":
		return fail(Usage, errors.New("--force is about a folder to write into"), "name it with -o")
	}
	return nil
}

func (a *app) compare(ctx context.Context, o *compareOptions) error {
	p, sys, err := a.openIn(shopIn(o.file))
	if err != nil {
		return err
	}
	plans, err := wanted(p, o)
	if err != nil {
		return err
	}
	reads := inputs(shopIn(o.file), p)
	for _, other := range o.others {
		reads = append(reads, shopIn(other))
	}
	if err := freeFolder(o.dir, o.force, "a comparison", reads, compareFiles()); err != nil {
		return err
	}
	s := &comparison{p: p, sys: sys, o: o}
	for i := range plans {
		if err := a.add(ctx, s, &plans[i]); err != nil {
			return err
		}
	}
	if err := s.some(); err != nil {
		return err
	}
	s.finish()
	if a.json {
		err = a.writeJSON(s.json())
	} else {
		err = a.printCompare(s)
	}
	if err == nil && o.dir != "" {
		err = a.writeCompare(s)
	}
	switch {
	case err != nil:
		return err
	case ctx.Err() != nil:
		return fail(Interrupted, nil, "")
	}
	return nil
}
