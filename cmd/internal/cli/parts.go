package cli

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"wyewright/cmd/internal/project"
	"wyewright/optimize"
	"wyewright/optimize/parts"
)

type partsOptions struct {
	file, plan, format, out string
	time                    time.Duration
}

func newParts(a *app, run runFunc[partsOptions]) *cobra.Command {
	var o partsOptions
	c := &cobra.Command{
		Use:   "parts FILE",
		Short: "Print the bill of materials and work of a redesign",
		Long: "parts prints what a redesign of the shop file buys, reuses and takes out. With --plan it\n" +
			"takes the plan that redesign wrote (plan.json); without, it searches for one.",
		Args: takes(1, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			o.file = args[0]
			return run.or(a.parts)(cmd.Context(), &o)
		},
	}
	f := c.Flags()
	f.StringVar(&o.plan, "plan", "", "plan.json of a redesign, or its `folder`")
	f.StringVar(&o.format, "format", "md", "`md` or csv")
	f.StringVarP(&o.out, "out", "o", "", "write into a new `file` instead of standard output")
	f.DurationVar(&o.time, "time", 10*time.Minute, "limit of the search")
	return c
}

func (a *app) parts(ctx context.Context, o *partsOptions) error {
	if o.format != "md" && o.format != "csv" {
		return fail(Usage, fmt.Errorf("unknown format %q", o.format), "use md or csv, or --json")
	}
	p, err := a.open(o.file)
	if err != nil {
		return err
	}
	problem, err := p.Problem()
	if err != nil {
		return fail(FileInvalid, err, "look at the redesign section of the file")
	}
	plan, code, err := a.thePlan(ctx, p, problem, o)
	if err != nil {
		return err
	}
	bill := p.Builder.Bill(problem.Lines(plan))
	if err := a.printBill(bill, o); err != nil || code == Done {
		return err
	}
	return fail(code, nil, "")
}

// thePlan reads a plan or searches for one.
func (a *app) thePlan(ctx context.Context, p *project.Project, problem *optimize.Problem, o *partsOptions) (*optimize.Plan, ExitCode, error) {
	if o.plan != "" {
		plan, err := readPlan(problem, o.plan)
		return plan, Done, err
	}
	show := a.progress(p.Currency)
	r, err := optimize.Solve(ctx, problem, &optimize.Settings{TimeLimit: o.time, Clock: a.Now,
		Progress: func(w optimize.Progress) { show.Show(a.word(p.Currency, w)) }})
	if err != nil {
		return nil, Internal, err
	}
	show.Done()
	switch {
	case ctx.Err() != nil:
		return r.Best, Interrupted, nil
	case r.Status == optimize.Infeasible || r.Status == optimize.Undecided:
		fmt.Fprintf(a.Err, "wyewright: %s: this is the bill of the plan that comes closest\n", r.Status)
		return r.Best, NotMet, nil
	}
	return r.Best, Done, nil
}

// readPlan finds the alternatives that a plan.json names.
func readPlan(problem *optimize.Problem, path string) (*optimize.Plan, error) {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		path = filepath.Join(path, "plan.json")
	}
	src, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	var in struct{ Pick map[string]string }
	if err := json.Unmarshal(src, &in); err != nil {
		return nil, fail(FileInvalid, fmt.Errorf("%s: %w", path, err), "give the plan.json that redesign wrote")
	}
	plan := &optimize.Plan{Pick: make([]int, len(problem.Choices))}
	for i := range problem.Choices {
		key := choiceKey(problem, i)
		label, ok := in.Pick[key]
		if !ok {
			continue
		}
		delete(in.Pick, key)
		for a, alt := range problem.Choices[i].Alternatives {
			if alt.Label == label {
				plan.Pick[i] = a
			}
		}
		if plan.Pick[i] == 0 {
			return nil, fail(FileInvalid, fmt.Errorf("%s: %q is not offered for %s", path, label, key), "the plan belongs to another shop file")
		}
	}
	if len(in.Pick) > 0 {
		return nil, fail(FileInvalid, fmt.Errorf("%s: the plan changes parts that the shop does not have", path), "the plan belongs to another shop file")
	}
	cost, changed, sold := problem.Cost(plan.Pick)
	if !sold {
		return nil, errors.New("cli: the plan needs a joint that is not sold")
	}
	plan.Cost, plan.Changed = cost, changed
	return plan, nil
}

func (a *app) printBill(bill *parts.Bill, o *partsOptions) error {
	if a.json {
		return a.writeJSON(bill)
	}
	write := bill.WriteMarkdown
	if o.format == "csv" {
		write = bill.WriteCSV
	}
	if o.out == "" {
		return write(a.Out)
	}
	var b buffer
	if err := write(&b); err != nil {
		return err
	}
	return writeNew(o.out, b)
}

// buffer is a byte slice to write to.
type buffer []byte

func (b *buffer) Write(p []byte) (int, error) { *b = append(*b, p...); return len(p), nil }
