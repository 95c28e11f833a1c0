package cli

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"wyewright/cmd/internal/project"
	"wyewright/network/units"
	"wyewright/optimize"
	"wyewright/optimize/parts"
)

type partsOptions struct {
	file, plan, format, out, kerf string
	time                          time.Duration
	// stage is the stage whose bill is asked for, 0 for that of all.
	stage int
}

// billFormats are the forms of a bill.
var billFormats = []string{"text", "csv", "cuts-csv", "md", "json", workbookFormat}

func newParts(a *app, run runFunc[partsOptions]) *cobra.Command {
	var o partsOptions
	c := &cobra.Command{
		Use:   "parts FILE|FOLDER",
		Short: "Print the bill of materials and work of a redesign, and the cut list",
		Long: "parts prints what a redesign buys, by groups as one shops, where each part goes, what it\n" +
			"reuses and takes out, and how to cut the pipe from the fewest sticks. Of a FOLDER that\n" +
			"redesign wrote it prints the bill in plan.json. Of a shop FILE it searches for a plan first,\n" +
			"or with --plan prices that one anew. --format cuts-csv is the cut list alone, as a table.",
		Args: takes(1, 1),
		RunE: a.onFile(&o.file, &o.out, func(ctx context.Context) error { return run.or(a.parts)(ctx, &o) }),
	}
	f := c.Flags()
	f.StringVar(&o.plan, "plan", "", "`plan.json` of a redesign of this file, or its folder")
	f.StringVar(&o.format, "format", "text", "`form`: "+strings.Join(billFormats, ", "))
	f.StringVar(&o.kerf, "kerf", "", "`width` that the saw takes at each cut, such as 2 mm; default that of the file, else 3 mm")
	f.DurationVar(&o.time, "time", 10*time.Minute, "limit of the search")
	f.IntVar(&o.stage, "stage", 0, "of a FOLDER with stages: the bill of that `stage` alone")
	outFlag(c, &o.out)
	return c
}

func (a *app) parts(ctx context.Context, o *partsOptions) error {
	if !slices.Contains(billFormats, o.format) {
		return fail(Usage, fmt.Errorf("unknown format %q", o.format), "use one of: "+strings.Join(billFormats, ", "))
	}
	if err := a.checkWorkbook(o); err != nil {
		return err
	}
	if filepath.Base(o.file) == planName {
		o.file = filepath.Dir(o.file)
	}
	if info, err := os.Stat(o.file); err == nil && info.IsDir() {
		return a.oldBill(o)
	}
	if o.stage != 0 {
		return fail(Usage, errors.New("--stage needs the folder of a redesign or of stages"), "run redesign or stages -o first, then give the folder")
	}
	p, sys, err := a.openWholeIn(o.file)
	if err != nil {
		return err
	}
	if p.Builder, err = o.sawn(p.Builder); err != nil {
		return err
	}
	out, plan, code, err := a.thePlan(ctx, p, o)
	if err != nil {
		return err
	}
	out.sys = sys
	if err := a.printBill(out.billed(plan), o, sys); err != nil {
		return err
	}
	if o.format == "text" && !a.json {
		split := outcome{p: p, problem: out.problem, result: &optimize.Result{Best: plan}}
		for _, line := range split.nowAndLater() {
			fmt.Fprintln(a.Out, line)
		}
	}
	if code == Done {
		return nil
	}
	return fail(code, nil, "")
}

// sawn is a builder with the saw that was asked for.
func (o *partsOptions) sawn(b *parts.Builder) (*parts.Builder, error) {
	if o.kerf == "" {
		return b, nil
	}
	width, err := units.ParseLength(o.kerf)
	if err != nil || width < 0 || width > widestKerf {
		return nil, fail(Usage, fmt.Errorf("no width of a saw's cut: %q", o.kerf), "write it like --kerf \"3 mm\" or --kerf \"0.12 in\"; 0 mm for none, at most 20 mm")
	}
	set := b.Options
	set.SetKerf(width)
	return parts.New(b.Catalog, b.Book, set)
}

// widestKerf is the widest cut that is taken for one.
const widestKerf units.Length = 0.020

// oldBill prints the bill of a folder that redesign wrote.
func (a *app) oldBill(o *partsOptions) error {
	if o.plan != "" {
		return fail(Usage, errors.New("a folder and --plan do not go together"), "give the shop file with --plan, or the folder alone")
	}
	if o.kerf != "" {
		return fail(Usage, errors.New("the cut list of a folder is made already"), "give the shop file with --plan "+o.file+" and --kerf")
	}
	in, err := readBill(o.file, o.stage)
	if err != nil {
		return err
	}
	b, err := in.Bill.billed()
	if err != nil {
		return fail(FileInvalid, fmt.Errorf("%s: %w", o.file, err), "give a folder that redesign wrote")
	}
	b.title, b.status, b.notes = in.Shop, in.Verdict, in.Cautions
	sys := in.Units
	if a.unitFlag != "" {
		sys = a.unitFlag
	}
	system, err := units.ParseSystem(sys)
	if err != nil {
		return fail(Usage, err, "--units takes us or si")
	}
	if !in.Meets {
		fmt.Fprintln(a.Err, "wyewright: this plan does not meet what was set; it is the one that comes closest")
	}
	if err := a.printBill(b, o, system); err != nil {
		return err
	}
	if l := in.Later; l != nil && o.format == "text" && !a.json {
		fmt.Fprintln(a.Out, l.line(b.bill.Currency))
	}
	return nil
}

// thePlan reads a plan or searches for one.
func (a *app) thePlan(ctx context.Context, p *project.Project, o *partsOptions) (*outcome, *optimize.Plan, ExitCode, error) {
	if o.plan != "" {
		problem, plan, err := readPlan(ctx, p, o.plan)
		return &outcome{p: p, problem: problem}, plan, Done, err
	}
	out, err := a.leastCost(ctx, p, o.time)
	if err != nil {
		return nil, nil, Internal, err
	}
	r := out.result
	switch {
	case ctx.Err() != nil:
		return out, r.Best, Interrupted, nil
	case r.Status == optimize.Infeasible || r.Status == optimize.Undecided:
		fmt.Fprintf(a.Err, "wyewright: %s: this is the bill of the plan that comes closest\n", r.Status)
		return out, r.Best, NotMet, nil
	}
	return out, r.Best, Done, nil
}

// readPlanFile reads a plan.json, given itself or its folder.
func readPlanFile(path string) (*jsonPlan, error) {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		path = filepath.Join(path, planName)
	}
	src, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		err = fmt.Errorf("there is no %s", path)
	}
	if err != nil {
		return nil, fail(Usage, err, "give the plan.json that redesign wrote, or its folder")
	}
	var in jsonPlan
	if err := json.Unmarshal(src, &in); err != nil {
		return nil, fail(FileInvalid, fmt.Errorf("%s: %w", path, err), "give the plan.json that redesign wrote")
	}
	return &in, nil
}

// readPlan finds the problem and the alternatives that a plan.json names.
func readPlan(ctx context.Context, p *project.Project, path string) (*optimize.Problem, *optimize.Plan, error) {
	in, err := readPlanFile(path)
	if err != nil {
		return nil, nil, err
	}
	problem, err := in.problem(ctx, p)
	if err != nil {
		return nil, nil, err
	}
	plan, err := in.plan(problem, path)
	return problem, plan, err
}

// problem is that of the ways and the collector that a plan takes.
func (in *jsonPlan) problem(ctx context.Context, p *project.Project) (*optimize.Problem, error) {
	if in.Ways == nil {
		problem, err := p.Problem()
		if err != nil {
			err = fail(FileInvalid, err, problemHint(err))
		}
		return problem, err
	}
	ways, err := p.Ways(ctx)
	if err != nil {
		return nil, fail(FileInvalid, err, problemHint(err))
	}
	v, err := ways.Named(in.Ways.Built, in.Ways.LeftOut, in.Ways.Collector)
	if err != nil {
		return nil, fail(FileInvalid, err, "the plan belongs to another shop file")
	}
	return v.Problem, nil
}

// plan finds the alternatives that the JSON names.
func (in *jsonPlan) plan(problem *optimize.Problem, path string) (*optimize.Plan, error) {
	plan := &optimize.Plan{Pick: make([]int, len(problem.Choices))}
	for i := range problem.Choices {
		key := choiceKey(problem, i)
		label, ok := in.Pick[key]
		if !ok {
			continue
		}
		delete(in.Pick, key)
		plan.Pick[i] = slices.IndexFunc(problem.Choices[i].Alternatives, func(a optimize.Alternative) bool { return a.Label == label })
		if plan.Pick[i] < 0 {
			return nil, fail(FileInvalid, fmt.Errorf("%s: %q is not offered for %s", path, label, key), "the plan belongs to another shop file")
		}
	}
	if len(in.Pick) > 0 {
		return nil, fail(FileInvalid, fmt.Errorf("%s: the plan changes parts that the shop does not have", path), "the plan belongs to another shop file")
	}
	cost, changed, sold := problem.Cost(plan.Pick)
	if !sold {
		return nil, fail(FileInvalid, errors.New("the plan needs a joint that is not sold"), "the plan belongs to another shop file")
	}
	plan.Cost, plan.Changed = cost, changed
	return plan, nil
}

func (a *app) printBill(b *billed, o *partsOptions, sys units.System) error {
	switch {
	case a.json || o.format == "json":
		return a.writeJSON(b.json())
	case o.format == "csv":
		return b.bill.WriteCSV(a.Out)
	case o.format == "cuts-csv":
		return b.bill.WriteCutsCSV(a.Out)
	case o.format == "md":
		return b.bill.WriteMarkdown(a.Out, sys)
	case o.format == workbookFormat:
		return b.workbook(a.Out, sys)
	}
	return writeBill(a.Out, b.bill, sys)
}

// problemHint says what to do about a redesign that cannot be formulated.
func problemHint(err error) string {
	if errors.Is(err, project.ErrNoTree) {
		return "take the cross-link or the second collector out of a copy of the file; solve and plot take it as it is"
	}
	if errors.Is(err, project.ErrLaterRoutes) {
		return "take routes out of what the redesign may, or the tool out until it comes"
	}
	if errors.Is(err, optimize.ErrTooMany) {
		return "take routes out of what the redesign may, or search a part of the shop in a file of its own"
	}
	return "look at the redesign section of the file"
}
