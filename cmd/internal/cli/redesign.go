package cli

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"wyewright/cmd/internal/project"
	"wyewright/cmd/internal/ui"
	"wyewright/network/units"
	"wyewright/optimize"
	"wyewright/optimize/parts"
	"wyewright/optimize/price"
)

type redesignOptions struct {
	file, dir string
	time      time.Duration
	front     int
	frontTime time.Duration
	noPlots   bool
	force     bool
	// confidence is the probability with which every state must hold, as
	// typed; share the same as a number, 0 for none.
	confidence string
	// budget is the sum that may be spent, as typed; empty for none.
	budget string
	// whatIf is the time for what each requirement costs, 0 for none;
	// alternatives the share of cost for plans of another kind, as typed, and
	// otherTime the time for them.
	whatIf, otherTime time.Duration
	alternatives      string
	// conflictTime is for naming what conflicts, and again for the ways out.
	conflictTime time.Duration
	energy       energyOptions
	// stages is the number of stages to part the plan into, 0 for none.
	stages int
}

func newRedesign(a *app, run runFunc[redesignOptions]) *cobra.Command {
	var o redesignOptions
	c := &cobra.Command{
		Use:   "redesign FILE",
		Short: "Find the least-cost change that meets every state, and write it all out",
		Long: "redesign searches for the cheapest change to the shop that meets every rule in every\n" +
			"operating state. Into a folder it writes a page to hand on (report.html), the new shop\n" +
			"file, what to buy and how to cut it, stages, the gate card, a measuring sheet and\n" +
			"pictures. Exit code 4 says that what is written misses something: where no plan can\n" +
			"meet the rules, the one that comes closest.",
		Args: takes(1, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			o.file = args[0]
			return run.or(a.redesign)(cmd.Context(), &o)
		},
	}
	f := c.Flags()
	f.StringVarP(&o.dir, "out", "o", "", "`folder` to write into (default: the file's name with -redesign)")
	o.searchFlags(c)
	f.DurationVar(&o.whatIf, "what-if", 0, "find within this time what each tool and each state costs, 0 for not")
	f.StringVar(&o.alternatives, "alternatives", "", "list plans of another kind that cost at most this `share` more, such as 4%")
	f.DurationVar(&o.otherTime, "alternatives-time", 30*time.Second, "time for all plans of another kind together")
	f.BoolVar(&o.noPlots, "no-plots", false, "write no pictures")
	f.BoolVar(&o.force, "force", false, "write into a folder that has files in it")
	return c
}

// searchFlags are those of every verb that searches and reports as redesign
// does.
func (o *redesignOptions) searchFlags(c *cobra.Command) {
	f := c.Flags()
	f.DurationVar(&o.time, "time", 10*time.Minute, "stop the search after this long and keep the best plan")
	f.IntVar(&o.front, "front", 8, "number of `points` of the trade-off to look for, 0 for none")
	f.DurationVar(&o.frontTime, "front-time", 5*time.Second, "time for all points of the trade-off together")
	f.StringVar(&o.confidence, "confidence", "", "fit the shop to its readings first, and let every state hold with this `share` of what they leave in doubt, such as 90%")
	f.StringVar(&o.budget, "budget", "", "find the plan that gives most air for this `sum` instead, such as \"800 EUR\"")
	f.IntVar(&o.stages, "stages", defaultStages, "part the plan into this `number` of stages, or as many as can be bought apart; 0 for none (none with --confidence either)")
	f.DurationVar(&o.conflictTime, "conflict-time", 20*time.Second, "where nothing meets the rules: time for naming those that conflict, and again for the ways out; 0 for neither")
	o.energy.flags(c)
}

// outcome is a finished redesign with all that the reports need.
type outcome struct {
	p       *project.Project
	problem *optimize.Problem
	// found is the problem with ways and collector as found: problem, where
	// the file leaves neither to the redesign.
	found  *optimize.Problem
	result *optimize.Result
	// tried counts the ways and collectors searched, 0 where there was no choice.
	tried int
	// unbuildable names ways that could not be built, and why.
	unbuildable []string
	before      []optimize.StateResult
	changes     []optimize.ChangeNote
	bill        *parts.Bill
	cuts        []parts.Stick
	// bears and bore are the ducts planned and as found with all gates shut.
	bears, bore strained
	// reasons say why companions are open, by state; gauges what gauges show.
	reasons [][]optimize.Reason
	gauges  []gaugeRow
	front   []optimize.FrontPoint
	sys     units.System
	// capped names states that miss something while caps wait for a tool,
	// cappedHow the same with by how much.
	capped, cappedHow []string
	elapsed           time.Duration
	budget            *bought    // nil without --budget
	certain           *certainty // nil without --confidence
	answers           answers
	life              *lifetime // nil without energy
	// power is the front of cost against fan power, nil where it was not asked
	// for.
	power      *optimize.PowerFront
	powerBasis *optimize.Energy
	powerNote  string
	// staged is the plan in stages, nil where there are none; planned the status
	// of a plan that was read from a file.
	staged  *optimize.Staged
	planned string
}

func (a *app) redesign(ctx context.Context, o *redesignOptions) error {
	share, err := checkRedesign(o)
	if err != nil {
		return err
	}
	p, sys, err := a.openToSearch(o)
	if err != nil {
		return err
	}
	if o.dir == "" {
		o.dir = strings.TrimSuffix(filepath.Base(o.file), filepath.Ext(o.file)) + "-redesign"
	}
	if err := checkFolder(p, o); err != nil {
		return err
	}
	out, err := a.search(ctx, p, o, share)
	if err != nil {
		return err
	}
	out.sys = sys
	files, err := a.writeFolder(out, o)
	if err != nil {
		return err
	}
	if a.json {
		err = a.writeJSON(out.planJSON())
	} else {
		err = a.printRedesign(out, o.dir, files)
		if err == nil && out.certain != nil {
			err = a.printCertainty(out)
		}
	}
	return a.ended(ctx, out, err)
}

// checkRedesign refuses flags that do not go together, and reads the confidence
// asked for.
func checkRedesign(o *redesignOptions) (share float64, err error) {
	if o.time < 0 || o.front < 0 || o.frontTime < 0 {
		return 0, fail(Usage, errors.New("--time, --front and --front-time cannot be negative"), "0 means no limit, or no points")
	}
	if o.stages < 0 || o.stages > mostStages {
		return 0, fail(Usage, fmt.Errorf("--stages %d: no such number of stages", o.stages), fmt.Sprintf("from 1 to %d, or 0 for none; the verb stages takes budgets too", mostStages))
	}
	if o.confidence != "" && o.budget != "" {
		return 0, fail(Usage, errors.New("--confidence and --budget do not go together yet"), "give one of them")
	}
	if err := checkAnswers(o); err != nil {
		return 0, err
	}
	if err := checkEnergy(o); err != nil {
		return 0, err
	}
	return parseShare("--confidence", o.confidence, 0.5, 0.99)
}

// openToSearch decodes the shop file and refuses what the options cannot do with
// it.
func (a *app) openToSearch(o *redesignOptions) (*project.Project, units.System, error) {
	p, sys, err := a.openWholeIn(o.file)
	if err == nil {
		err = energyAlone(p, o)
	}
	if err == nil && o.confidence != "" && len(p.File.Later) > 0 {
		err = fail(Usage, errors.New("--confidence and a tool that comes later do not go together yet"), "take the tool out of a copy of the file, or leave --confidence out")
	}
	return p, sys, err
}

// ended turns an outcome that was written out, or the error in that, into what
// the verb returns.
func (a *app) ended(ctx context.Context, out *outcome, err error) error {
	switch {
	case err != nil:
		return err
	case ctx.Err() != nil:
		fmt.Fprintln(a.Err, "wyewright: interrupted; what was written is the best plan so far")
		return fail(Interrupted, nil, "")
	case out.result.Status == optimize.Infeasible || out.result.Status == optimize.Undecided || out.unsure() || out.budget != nil && !out.budget.meets() || len(out.capped) > 0:
		return fail(NotMet, nil, "")
	}
	return nil
}

// search runs the redesign and everything that explains it.
func (a *app) search(ctx context.Context, p *project.Project, o *redesignOptions, share float64) (*outcome, error) {
	start := a.Now()
	show := a.progress()
	set := &optimize.Settings{TimeLimit: o.time, Clock: a.Now, Progress: func(w optimize.Progress) { show.Show(a.word(p.Currency, w)) }}
	out := &outcome{p: p}
	var err error
	if o.budget != "" {
		out, err = a.spend(ctx, p, o, set)
	} else if share > 0 {
		out, err = a.confident(ctx, p, o, share, set)
	} else {
		err = a.overYears(ctx, out, o, set)
	}
	if err != nil {
		return nil, err
	}
	show.Done()
	if (o.budget != "" || share > 0) && out.p.File.Energy.Given {
		out.p.Notes = append(out.p.Notes, "the file's energy is not reckoned with: --budget and --confidence cannot yet")
	}
	p, problem := out.p, out.problem
	if out.found == nil {
		out.found = problem
	}
	quiet := context.WithoutCancel(ctx)
	if err := out.asToday(); err != nil {
		return nil, err
	}
	if out.before, err = out.found.AsFound(quiet); err != nil {
		return nil, err
	}
	if out.changes, err = problem.Changes(quiet, out.result.Best); err != nil {
		return nil, err
	}
	out.strain(quiet)
	if err := out.explainGates(quiet); err != nil {
		return nil, err
	}
	lines := problem.Lines(out.result.Best)
	out.bill = p.Builder.Bill(lines)
	out.cuts = out.bill.Sticks()
	if out.bill.Planning != out.result.Best.Cost {
		return nil, fmt.Errorf("the bill adds up to %s, the search to %s", p.Currency.Text(out.bill.Planning), p.Currency.Text(out.result.Best.Cost))
	}
	if solved(out.result) && o.front > 0 && ctx.Err() == nil {
		set := &optimize.Settings{TimeLimit: o.frontTime, Clock: a.Now}
		if out.front, err = optimize.Front(ctx, problem, set, out.from(), o.front, func(f optimize.FrontPoint) {
			show.Say(fmt.Sprintf("trade-off: %.0f %% of the flows for %s", 100*f.Flow, p.Currency.Text(f.Plan.Cost)))
		}); err != nil {
			return nil, err
		}
		show.Done()
	}
	if err := a.powerFront(ctx, out, o, show.Say); err != nil {
		return nil, err
	}
	if err := a.inStages(ctx, out, o); err != nil {
		return nil, err
	}
	err = a.answer(ctx, out, o)
	out.elapsed = a.Now().Sub(start)
	return out, err
}

func (a *app) progress() *ui.Progress {
	p := &ui.Progress{Out: a.Err, Terminal: a.Terminal, JSON: a.json, Now: a.Now}
	if a.quiet {
		p.Out = discard{}
	}
	return p
}

type discard struct{}

func (discard) Write(b []byte) (int, error) { return len(b), nil }

func (a *app) word(c price.Currency, w optimize.Progress) ui.Report {
	out := ui.Report{Nodes: w.Nodes}
	if w.Bound > 0 {
		out.Bound = c.Text(w.Bound)
	}
	if w.HasBest {
		out.Best = c.Text(w.Best)
		if w.Best > 0 {
			out.Gap = float64(w.Best-w.Bound) / float64(w.Best)
		}
	}
	return out
}
