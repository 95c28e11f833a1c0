package cli

import (
	"context"
	"errors"
	"fmt"
	"regexp"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"wyewright/optimize"
	"wyewright/optimize/price"
)

// defaultStages is the number of stages where nothing is asked for; mostStages
// the largest that can be.
const (
	defaultStages = 3
	mostStages    = 9
	// redesignOrder is the time that a redesign has for the order.
	redesignOrder = 5 * time.Second
)

type stagesOptions struct {
	file, dir, plan string
	budgets         string
	count           int
	time, orderTime time.Duration
	force           bool
}

func newStages(a *app, run runFunc[stagesOptions]) *cobra.Command {
	var o stagesOptions
	c := &cobra.Command{
		Use:   "stages FILE",
		Short: "Buy a redesign in stages: what first, and what then meets",
		Long: "stages parts the cheapest redesign into stages that can be bought one after the other. Each\n" +
			"stage is a shop that can be built and used, with a gate card of its own; nothing that met\n" +
			"its flow or its velocity before is made to miss it, and nothing is bought that a later stage\n" +
			"throws away. What one budget leaves is there for the next stage; what the budgets do not\n" +
			"pay for is one more stage.",
		Args: takes(1, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			o.file = args[0]
			return run.or(a.stages)(cmd.Context(), &o)
		},
	}
	f := c.Flags()
	f.StringVar(&o.budgets, "budgets", "", "the `sums` of the stages in order, such as \"400 EUR, 600 EUR\"")
	f.IntVar(&o.count, "count", 0, fmt.Sprintf("the `number` of stages, for money that comes in evenly (default: %d, or as many as can be bought apart)", defaultStages))
	f.StringVar(&o.plan, "plan", "", "`plan.json` of a redesign of this file, or its folder, instead of a search")
	f.StringVarP(&o.dir, "out", "o", "", "`folder` to write shop files, gate cards, bills and a picture of the stages into")
	f.DurationVar(&o.time, "time", 10*time.Minute, "limit of the search for the plan")
	f.DurationVar(&o.orderTime, "order-time", time.Minute, "limit of the search for the order")
	f.BoolVar(&o.force, "force", false, "write into a folder that has files in it")
	return c
}

func (a *app) stages(ctx context.Context, o *stagesOptions) error {
	if err := o.check(); err != nil {
		return err
	}
	p, sys, err := a.openWholeIn(o.file)
	if err != nil {
		return err
	}
	if len(p.File.Later) > 0 {
		return fail(Usage, fmt.Errorf("stages and a tool that comes later (%s) do not go together yet", p.File.Later[0].Tool), "redesign says what is bought now and what when it comes; or take later: true out of a copy of the file")
	}
	budgets, err := parseBudgets(o.budgets, p.Currency)
	if err != nil {
		return err
	}
	if err := freeFolder(o.dir, o.force, "an order of stages", inputs(o.file, p), stageNames()); err != nil {
		return err
	}
	out, err := a.toStage(ctx, p, o)
	if err != nil {
		return err
	}
	out.sys = sys
	if len(optimizeChanges(out)) == 0 {
		fmt.Fprintln(a.Out, "Nothing to part into stages: the shop meets the flows and velocities you set in every state as it stands.")
		return nil
	}
	if n := optimize.StageParts(out.problem, out.result.Best); o.count > n {
		return fail(Usage, fmt.Errorf("--count %d: the plan has only %s that can be bought apart (changes that share a joint go together)", o.count, count(n, "part")),
			fmt.Sprintf("give at most --count %d", n))
	}
	if err := a.stage(ctx, out, budgets, o.count, o.orderTime); err != nil {
		return err
	}
	var files []string
	if o.dir != "" {
		if files, err = out.writeStages(o.dir, true); err != nil {
			return err
		}
	}
	if a.json {
		err = a.writeJSON(out.stagesJSON())
	} else {
		err = a.printStages(out)
	}
	if err != nil || ctx.Err() == nil {
		if len(files) > 0 {
			a.note("wrote into %s: %s\n", o.dir, strings.Join(files, ", "))
		}
		return err
	}
	return fail(Interrupted, nil, "")
}

// check refuses options that do not go together.
func (o *stagesOptions) check() error {
	switch {
	case o.budgets != "" && o.count != 0:
		return fail(Usage, errors.New("--budgets and --count do not go together"), "the number of budgets is the number of stages")
	case o.count < 0 || o.count > mostStages:
		return fail(Usage, fmt.Errorf("--count %d: no such number of stages", o.count), fmt.Sprintf("from 1 to %d", mostStages))
	case o.time < 0 || o.orderTime < 0:
		return fail(Usage, errors.New("--time and --order-time cannot be negative"), "0 means no limit")
	}
	return nil
}

// inSum is a comma that may part thousands or sums.
var inSum = regexp.MustCompile(`[0-9],[0-9]`)

// parseBudgets reads the sums of the stages.
func parseBudgets(text string, c price.Currency) ([]price.Money, error) {
	if text == "" {
		return nil, nil
	}
	example := fmt.Sprintf("write it like --budgets \"%s, %s\"", c.Text(40000), c.Text(60000))
	if inSum.MatchString(text) {
		return nil, fail(Usage, fmt.Errorf("--budgets %q: is the comma within a sum or between two?", text), example+", without commas within a sum and with a space between two")
	}
	var out []price.Money
	for _, part := range strings.Split(text, ",") {
		m, err := parseSum("--budgets", strings.TrimSpace(part), example, c)
		if err != nil {
			return nil, err
		}
		if m == 0 {
			return nil, fail(Usage, errors.New("--budgets: a stage of nothing"), "leave it out: what a stage does not spend is there for the next")
		}
		out = append(out, m)
	}
	if len(out) > mostStages {
		return nil, fail(Usage, fmt.Errorf("--budgets: %d stages", len(out)), fmt.Sprintf("give at most %d", mostStages))
	}
	return out, nil
}

// stageName is what a stage is called.
func stageName(s *optimize.Staged, i int) string {
	if s.Stages[i].Rest {
		return "the rest"
	}
	return fmt.Sprintf("stage %d", i+1)
}
