package cli

import (
	"context"
	"errors"
	"fmt"
	"time"

	"wyewright/cmd/internal/project"
	"wyewright/network/calibrate"
	"wyewright/network/units"
	"wyewright/optimize"
)

// Shops drawn for a redesign with confidence: few to search with, many others
// to hold the plan against.
const (
	searchShops = 60
	proofShops  = 400
	// leastShare and shareStep: where no plan is found for the confidence
	// asked for, less is tried, by steps.
	leastShare = 0.45
	shareStep  = 0.2
	// guessTime is the time for each of the first guesses.
	guessTime  = 10 * time.Second
	searchSeed = 1
	proofSeed  = 2
)

// certainty is what a redesign with confidence knows beside its plan.
type certainty struct {
	share float64
	// held is the confidence that the plan was found for: below share where
	// no plan was found for that, 0 where for none that was tried.
	held float64
	// tried is the least confidence that was searched for.
	tried float64
	fit   *calibrate.Report
	notes []string
	// plain is the cheapest plan for the fitted shop alone.
	plain *optimize.Result
	// states and plainStates are the shares of shops that the search has not
	// seen in which each state meets its rules.
	states, plainStates []float64
}

// parseShare reads the share of a flag, which may be left out (0): per cent
// within bounds.
func parseShare(flag, text string, low, high units.Ratio) (float64, error) {
	if text == "" {
		return 0, nil
	}
	v, err := units.ParseRatio(text)
	if err != nil || !(v >= low && v <= high) {
		return 0, fail(Usage, fmt.Errorf("%s %q", flag, text), fmt.Sprintf("a share from %.3g%% to %.3g%%, with its sign", 100*low, 100*high))
	}
	return float64(v), nil
}

// confident searches for the cheapest plan that holds with a probability over the
// doubt that the readings leave: first for the fitted shop alone, then with shops
// drawn from the doubt.
func (a *app) confident(ctx context.Context, p *project.Project, o *redesignOptions, share float64, set *optimize.Settings) (*outcome, error) {
	s := &certainty{share: share}
	var err error
	if s.fit, err = a.fitted(ctx, p, &fitOptions{file: o.file}); err != nil {
		return nil, err
	}
	if !s.fit.Converged {
		return nil, fail(NotConverged, errors.New("the fit to the readings did not settle"), "run fit and look at what it says")
	}
	now, notes, err := p.Calibrated(s.fit)
	if err != nil {
		return nil, err
	}
	s.notes = notes
	out := &outcome{p: now, certain: s}
	if out.problem, err = now.Problem(); err != nil {
		return nil, fail(FileInvalid, err, problemHint(err))
	}
	if s.plain, err = optimize.Solve(ctx, out.problem, set); err != nil {
		return nil, err
	}
	doubt, err := p.Doubt(now, out.problem, s.fit, searchShops, searchSeed, share)
	if err != nil {
		return nil, err
	}
	with := *set
	with.Doubt, with.Known = doubt, append([][]int{s.plain.Best.Pick}, a.roomier(ctx, out.problem, set, s.plain)...)
	began := a.Now()
	for doubt.Share = share; s.held == 0 && doubt.Share > leastShare; doubt.Share -= shareStep {
		if left := began.Add(set.TimeLimit).Sub(a.Now()); set.TimeLimit > 0 && out.result != nil {
			if left <= 0 {
				break
			}
			with.TimeLimit = left
		}
		r, err := optimize.Solve(ctx, out.problem, &with)
		if err != nil {
			return nil, err
		}
		if s.tried = doubt.Share; solved(r) {
			s.held = doubt.Share
		}
		if out.result == nil || s.held > 0 {
			out.result = r
		}
		if !solved(s.plain) || ctx.Err() != nil {
			break // not even the believed shop can be met
		}
	}
	proof, err := p.Doubt(now, out.problem, s.fit, proofShops, proofSeed, share)
	if err != nil {
		return nil, err
	}
	quiet := context.WithoutCancel(ctx)
	if s.states, _, err = proof.Shares(quiet, out.problem, out.result); err != nil {
		return nil, err
	}
	s.plainStates, _, err = proof.Shares(quiet, out.problem, s.plain)
	return out, err
}

// roomier are the cheapest plans with more air than asked for: good first
// guesses for a plan that holds in doubt. The search for each is short.
func (a *app) roomier(ctx context.Context, p *optimize.Problem, set *optimize.Settings, plain *optimize.Result) [][]int {
	var out [][]int
	if !solved(plain) {
		return nil
	}
	short := *set
	short.TimeLimit, short.Progress = guessTime, nil
	for _, flow := range []float64{1.02, 1.04, 1.07, 1.1, 1.15, 1.2} {
		short.Flow = flow
		r, err := optimize.Solve(ctx, p, &short)
		if err != nil || !solved(r) {
			break
		}
		out = append(out, r.Best.Pick)
	}
	return out
}

// solved reports whether a search has a plan that meets the rules.
func solved(r *optimize.Result) bool {
	return r.Status == optimize.Optimal || r.Status == optimize.Feasible
}

// unsure reports whether a plan holds with less confidence than asked for.
func (o *outcome) unsure() bool { return o.certain != nil && o.certain.held < o.certain.share }
