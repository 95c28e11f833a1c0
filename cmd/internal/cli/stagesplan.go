package cli

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"wyewright/cmd/internal/project"
	"wyewright/optimize"
	"wyewright/optimize/price"
)

// toStage reads the plan to part, or searches for it.
func (a *app) toStage(ctx context.Context, p *project.Project, o *stagesOptions) (*outcome, error) {
	out := &outcome{p: p}
	var err error
	if o.plan == "" {
		if out, err = a.leastCost(ctx, p, o.time); err != nil {
			return nil, err
		}
		if !solved(out.result) {
			if ctx.Err() != nil {
				return nil, fail(Interrupted, errors.New("interrupted before there was a plan"), "")
			}
			return nil, fail(NotMet, fmt.Errorf("there is no plan to part: %s", out.result.Status),
				"redesign says which rules conflict and what comes closest; --time gives the search longer")
		}
		return out, nil
	}
	if out.found, err = p.Problem(); err != nil {
		return nil, fail(FileInvalid, err, problemHint(err))
	}
	in, err := readPlanFile(o.plan)
	if err != nil {
		return nil, err
	}
	problem, plan, err := readPlan(ctx, p, o.plan)
	if err != nil {
		return nil, err
	}
	out.planned = in.Status
	out.problem, out.result = problem, &optimize.Result{Best: plan}
	if !problem.Taken.Changes() {
		out.problem = out.found
	}
	out.result.Network = out.problem.Network(plan.Pick)
	return out, nil
}

// optimizeChanges lists the choices and ways that a plan changes.
func optimizeChanges(o *outcome) []string {
	var out []string
	for i, a := range o.result.Best.Pick {
		if a > 0 || o.problem.Choices[i].Build {
			out = append(out, o.problem.Choices[i].ID)
		}
	}
	for _, l := range o.problem.Taken.Left {
		out = append(out, l.ID)
	}
	if c := o.problem.Taken.Collector; c != nil {
		out = append(out, c.Label)
	}
	return append(out, o.problem.Taken.Turned...)
}

// leastCost searches for the cheapest plan, with its energy where the file counts
// it.
func (a *app) leastCost(ctx context.Context, p *project.Project, limit time.Duration) (*outcome, error) {
	e, _, err := a.energy(p, &energyOptions{})
	if err != nil {
		return nil, err
	}
	out, show := &outcome{p: p}, a.progress()
	err = a.cheapest(ctx, out, &optimize.Settings{TimeLimit: limit, Clock: a.Now, Energy: e,
		Progress: func(w optimize.Progress) { show.Show(a.word(p.Currency, w)) }})
	show.Done()
	if err == nil {
		out.strain(context.WithoutCancel(ctx))
	}
	return out, err
}

// stage parts the plan of an outcome into stages: by budgets, or into a number of
// them, 0 for the usual one, at most as many as can be bought apart.
func (a *app) stage(ctx context.Context, out *outcome, budgets []price.Money, number int, limit time.Duration) error {
	number = cmp.Or(number, defaultStages)
	o := &optimize.StageOptions{Budgets: budgets, Count: number, Found: out.found}
	var err error
	out.staged, err = optimize.Stages(ctx, out.problem, out.result.Best, o, &optimize.Settings{TimeLimit: limit, Clock: a.Now})
	if err == nil {
		err = out.addsUp()
	}
	if !errors.Is(err, optimize.ErrStages) {
		return err
	}
	if number = min(number, optimize.StageParts(out.problem, out.result.Best)); len(budgets) == 0 && number > 1 {
		a.note("%s; fewer are tried\n", strings.TrimPrefix(err.Error(), optimize.ErrStages.Error()+": "))
		return a.stage(ctx, out, budgets, number-1, limit)
	}
	return fail(NotMet, err, "redesign says what the plan meets")
}

// addsUp holds the bill of each stage against its cost.
func (o *outcome) addsUp() error {
	for i := range o.staged.Stages {
		st := &o.staged.Stages[i]
		if sum := o.p.Builder.Bill(st.Lines).Planning; sum != st.Cost {
			return fmt.Errorf("the bill of %s adds up to %s, the search to %s: please report this", stageName(o.staged, i), o.p.Currency.Text(sum), o.p.Currency.Text(st.Cost))
		}
	}
	return nil
}

// inStages parts the plan of a redesign, if it meets everything and has parts
// that can be bought apart. One that holds with a confidence is left alone: its
// gate card is for all the shops that this one may be, that of a stage is not; so
// is one with a tool that comes later, which has stages of its own.
func (a *app) inStages(ctx context.Context, out *outcome, o *redesignOptions) error {
	if o.stages == 0 || ctx.Err() != nil || out.certain != nil || !solved(out.result) || !allMeet(out.result.States) || len(out.problem.Later.Tools) > 0 || optimize.StageParts(out.problem, out.result.Best) < 2 {
		return nil
	}
	err := a.stage(ctx, out, nil, o.stages, redesignOrder)
	if errors.Is(err, optimize.ErrStages) {
		out.staged, err = nil, nil
	}
	if out.staged != nil && len(out.staged.Stages) < 2 {
		out.staged = nil
	}
	return err
}
