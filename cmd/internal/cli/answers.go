package cli

import (
	"context"
	"errors"

	"wyewright/optimize"
)

// answers are those to the questions behind a plan: what conflicts where there
// is none, what each requirement costs, what else would do.
type answers struct {
	conflict *optimize.Conflict // nil unless nothing meets the rules
	ways     []optimize.WayOut
	waysDone bool
	// savings are there where they were asked for.
	savings []optimize.Saving
	within  float64 // share of cost for others, 0 where none were asked for
	others  []optimize.Other
}

// parseWithin reads the share of cost within which other plans are looked for.
func parseWithin(text string) (float64, error) {
	return parseShare("--alternatives", text, 0.001, 1)
}

// checkAnswers refuses questions that cannot be answered.
func checkAnswers(o *redesignOptions) error {
	if o.whatIf < 0 {
		return fail(Usage, errors.New("--what-if cannot be negative"), "it is the time for all that is left out in turn, such as 1m; 0 for none")
	}
	if o.otherTime <= 0 || o.conflictTime < 0 {
		return fail(Usage, errors.New("--alternatives-time must be above 0, --conflict-time not below"), "leave --alternatives out for none")
	}
	if _, err := parseWithin(o.alternatives); err != nil {
		return err
	}
	if (o.whatIf > 0 || o.alternatives != "") && (o.budget != "" || o.confidence != "") {
		return fail(Usage, errors.New("--what-if and --alternatives do not go together with --budget or --confidence yet"), "ask for them in a run of their own")
	}
	return nil
}

// answer asks what goes with the outcome.
func (a *app) answer(ctx context.Context, out *outcome, o *redesignOptions) error {
	if o.budget != "" || o.confidence != "" || ctx.Err() != nil {
		return nil
	}
	var err error
	s := &out.answers
	switch {
	case out.result.Status == optimize.Infeasible:
		if o.conflictTime == 0 {
			return nil
		}
		set := &optimize.Settings{TimeLimit: o.conflictTime, Clock: a.Now}
		if s.conflict, err = optimize.FindConflict(ctx, out.problem, set); err == nil && s.conflict.Status == optimize.Infeasible {
			s.ways, s.waysDone, err = optimize.WaysOut(ctx, out.problem, set, s.conflict)
		}
	case solved(out.result):
		if o.whatIf > 0 {
			s.savings, err = optimize.Savings(ctx, out.problem, &optimize.Settings{TimeLimit: o.whatIf, Clock: a.Now}, out.result.Best)
		}
		if s.within, _ = parseWithin(o.alternatives); s.within > 0 && err == nil {
			s.others, err = optimize.Others(ctx, out.problem, &optimize.Settings{TimeLimit: o.otherTime, Clock: a.Now}, out.result.Best, s.within)
		}
	}
	return err
}
