package cli

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"wyewright/cmd/internal/project"
	"wyewright/network"
	"wyewright/network/units"
	"wyewright/optimize"
	"wyewright/optimize/price"
)

// rival is one of the options side by side.
type rival struct {
	want
	letter string
	// what says in words what it is, beyond what of it the file would not let a
	// redesign do.
	what, beyond []string
	// off says why it cannot be had; nothing more is known then.
	off string
	// p is the shop that it is made from, n and states what becomes of it.
	p      *project.Project
	n      *network.Network
	states []optimize.StateResult
	// cost is that of making it; priced is false where it has none. unpriced
	// says what is not in it.
	cost     price.Money
	priced   bool
	unpriced []string
	// status, bound and gap are those of a search.
	status  string
	bound   price.Money
	gap     float64
	changes []optimize.ChangeNote
	// failed says that a search found no plan that meets everything.
	failed bool
	tally
}

// comparison is all that is side by side.
type comparison struct {
	p      *project.Project
	sys    units.System
	o      *compareOptions
	rivals []*rival
}

// add makes one option. What cannot be had stays in the list, with the reason.
func (a *app) add(ctx context.Context, s *comparison, w *want) error {
	r := &rival{want: *w, letter: string(rune('A' + len(s.rivals))), p: s.p, status: optimize.NotSearched.String()}
	var err error
	switch {
	case w.path != "":
		err = a.fillPath(ctx, s, r)
	case w.set != "":
		err = a.fillSet(ctx, s, r)
	case w.asFound && !s.p.Network.IsTree():
		err = r.asItStands(ctx, s.p)
		r.what, r.priced = []string{"the shop as the file has it"}, true
	default:
		err = a.fillSettled(ctx, s, r)
	}
	if r.off = cannot(err); r.off != "" {
		err = nil
	}
	s.rivals = append(s.rivals, r)
	return err
}

// cannot says why an option cannot be had, "" where that is not what an error
// says.
func cannot(err error) string {
	if err == nil {
		return ""
	}
	if errors.Is(err, network.ErrNotConverged) {
		return "the network did not settle: no answer is given"
	}
	var list []*optimize.NotOffered
	var walk func(error)
	walk = func(err error) {
		var no *optimize.NotOffered
		if many, ok := err.(interface{ Unwrap() []error }); ok {
			for _, e := range many.Unwrap() {
				walk(e)
			}
		} else if one := errors.Unwrap(err); one != nil {
			walk(one)
		} else if errors.As(err, &no) {
			list = append(list, no)
		}
	}
	walk(err)
	var reasons []string
	runs := map[string][]string{}
	for _, no := range list {
		if runs[no.Reason] == nil {
			reasons = append(reasons, no.Reason)
		}
		runs[no.Reason] = append(runs[no.Reason], no.Run)
	}
	for i, why := range reasons {
		reasons[i] = why + " (" + strings.Join(runs[why], ", ") + ")"
	}
	return strings.Join(reasons, "; ")
}

// fillSettled makes an option around what it settles.
func (a *app) fillSettled(ctx context.Context, s *comparison, r *rival) error {
	around := s.o.optimise && !r.asFound
	r.settled.Free = around
	opt, err := s.p.Option(ctx, r.settled)
	if err != nil {
		var no *optimize.NotOffered
		if !errors.As(err, &no) {
			err = fail(FileInvalid, err, problemHint(err))
		}
		return err
	}
	r.what, r.beyond, r.unpriced = opt.What, opt.Beyond, opt.Unpriced
	switch {
	case r.asFound:
		r.what = []string{"the shop as the file has it, with " + s.p.Network.Spec().Collectors[0].ID}
	case r.free:
		r.what = []string{"nothing is settled beforehand"}
	}
	if !around {
		if err := r.made(ctx, opt.Problem, opt.Pick, opt.Sold); err != nil {
			return err
		}
		if r.settled.Bleed == project.WithBleed && !r.opensInlet() {
			r.what = append(r.what, "it is opened in no state: gates that are there serve as well")
		}
		return nil
	}
	return a.around(ctx, s, r, opt.Problem)
}

// made is the plan that makes what was settled and nothing else.
func (r *rival) made(ctx context.Context, p *optimize.Problem, pick []int, sold bool) error {
	var err error
	r.n = p.Network(pick)
	r.cost, _, r.priced = p.Cost(pick)
	r.priced = r.priced && sold
	r.states, err = p.Try(ctx, pick)
	return err
}

// around searches for the cheapest redesign with what was settled.
func (a *app) around(ctx context.Context, s *comparison, r *rival, p *optimize.Problem) error {
	show := a.progress()
	show.Say(fmt.Sprintf("%s: %s", r.letter, r.name))
	res, err := optimize.Solve(ctx, p, &optimize.Settings{TimeLimit: s.o.time, Clock: a.Now,
		Progress: func(w optimize.Progress) { show.Show(a.word(s.p.Currency, w)) }})
	if err != nil {
		return err
	}
	show.Done()
	r.unpriced = slices.DeleteFunc(r.unpriced, func(s string) bool { return strings.HasPrefix(s, "the joint") })
	return r.found(ctx, p, res)
}

// found is the plan of a search.
func (r *rival) found(ctx context.Context, p *optimize.Problem, res *optimize.Result) error {
	var err error
	r.n, r.states, r.status, r.bound, r.gap = res.Network, res.States, res.Status.String(), res.Bound, res.Gap
	r.cost, _, r.priced = p.Cost(res.Best.Pick)
	r.failed = res.Status == optimize.Infeasible || res.Status == optimize.Undecided
	if r.settled.Bleed == project.WithBleed && !slices.ContainsFunc(p.Choices, func(c optimize.Choice) bool { return c.Kind == optimize.BleedChoice }) {
		r.what = append(r.what, "none is on offer")
	} else if r.settled.Bleed == project.WithBleed && !builds(p, res.Best) {
		r.what = append(r.what, "the plan builds none")
	}
	r.changes, err = p.Changes(context.WithoutCancel(ctx), res.Best)
	return err
}

// opensInlet reports whether some state opens a bleed inlet.
func (r *rival) opensInlet() bool {
	return slices.ContainsFunc(r.states, func(s optimize.StateResult) bool {
		return slices.ContainsFunc(s.Companions, func(name string) bool {
			_, bleed := r.n.BleedIndex(name)
			return bleed
		})
	})
}

// builds reports whether a plan builds a bleed inlet.
func builds(p *optimize.Problem, pl *optimize.Plan) bool {
	for i, a := range pl.Pick {
		if p.Choices[i].Kind == optimize.BleedChoice && a > 0 {
			return true
		}
	}
	return false
}

// asItStands solves a shop as its file has it, without companions that the file
// does not name.
func (r *rival) asItStands(ctx context.Context, p *project.Project) error {
	var err error
	r.n = p.Network
	r.states, err = asItStands(ctx, p)
	return err
}
