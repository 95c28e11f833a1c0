package cli

import (
	"context"
	"errors"
	"fmt"
	"os"
	"strings"

	"wyewright/cmd/internal/project"
	"wyewright/optimize"
)

// fillSet makes an option of changes as solve --set takes them.
func (a *app) fillSet(ctx context.Context, s *comparison, r *rival) error {
	parts := strings.Split(r.set, ";")
	q, err := a.trySet(s.p, parts)
	if err != nil {
		return err
	}
	r.p, r.what = q, []string{"the file with " + strings.Join(trimmed(parts), ", ")}
	diff, other, err := s.p.Difference(ctx, q)
	if err != nil {
		return fail(FileInvalid, err, problemHint(err))
	}
	if !s.o.optimise {
		r.price(diff, other)
		return r.asFoundIn(ctx, q)
	}
	if diff != nil && diff.Whole {
		r.what = append(r.what, "the rest as the search likes")
		return a.around(ctx, s, r, diff.Problem)
	}
	problem, err := q.Keeping(setParts(parts)).Problem()
	if err != nil {
		return fail(FileInvalid, err, problemHint(err))
	}
	r.what = append(r.what, "redesigned from there")
	r.unpriced = append(r.unpriced, "what was set itself")
	return a.around(ctx, s, r, problem)
}

// setParts are the parts of the shop that changes are about.
func setParts(changes []string) []string {
	var out []string
	for _, text := range changes {
		where, _, _ := strings.Cut(text, "=")
		if dot := strings.LastIndex(where, "."); dot > 0 {
			out = append(out, strings.TrimSpace(where[:dot]))
		}
	}
	return out
}

func trimmed(parts []string) []string {
	var out []string
	for _, p := range parts {
		out = append(out, strings.TrimSpace(p))
	}
	return out
}

// price takes the cost of a difference from the shop that all start from.
func (r *rival) price(diff *project.Option, other []string) {
	r.unpriced = append(r.unpriced, other...)
	if diff == nil || len(other) > 0 {
		return
	}
	r.unpriced = append(r.unpriced, diff.Unpriced...)
	r.cost, _, r.priced = diff.Problem.Cost(diff.Pick)
}

// asFoundIn solves a shop as its file has it, with the companions that serve it
// best where its ducts form a tree.
func (r *rival) asFoundIn(ctx context.Context, q *project.Project) error {
	if !q.Network.IsTree() {
		return r.asItStands(ctx, q)
	}
	problem, err := q.Problem()
	if err != nil {
		return fail(FileInvalid, err, problemHint(err))
	}
	r.n = problem.Base
	r.states, err = problem.AsFound(ctx)
	return err
}

// fillPath makes an option of another shop file, or of a folder that redesign
// wrote.
func (a *app) fillPath(ctx context.Context, s *comparison, r *rival) error {
	path := shopIn(r.path)
	if _, err := os.Stat(path); err != nil && path != r.path {
		return fail(Usage, fmt.Errorf("%s has no %s", r.path, shopName), "give a shop file, or a folder that redesign wrote")
	}
	q, _, err := a.openIn(path)
	if err != nil {
		return err
	}
	r.p = q
	if info, err := os.Stat(r.path); err == nil && info.IsDir() {
		return r.fillFolder(ctx, s, q)
	}
	r.what = []string{"the shop of " + r.path}
	if !s.o.optimise {
		diff, other, err := s.p.Difference(ctx, q)
		if err != nil {
			return fail(FileInvalid, err, problemHint(err))
		}
		r.price(diff, other)
		return r.asFoundIn(ctx, q)
	}
	out := &outcome{p: q}
	show := a.progress()
	show.Say(fmt.Sprintf("%s: %s", r.letter, r.name))
	if err := a.cheapest(ctx, out, &optimize.Settings{TimeLimit: s.o.time, Clock: a.Now,
		Progress: func(w optimize.Progress) { show.Show(a.word(q.Currency, w)) }}); err != nil {
		return err
	}
	show.Done()
	r.what = append(r.what, "redesigned from there")
	r.unpriced = append(r.unpriced, "what is already in that file")
	return r.found(ctx, out.problem, out.result)
}

// fillFolder makes an option of a redesign that was written.
func (r *rival) fillFolder(ctx context.Context, s *comparison, q *project.Project) error {
	plan, err := readPlanFile(r.path)
	if err != nil {
		return err
	}
	if plan.Currency != q.Currency.Code {
		return fail(FileInvalid, errors.New("plan.json and shop.yaml of "+r.path+" have different currencies"), "give a folder as redesign wrote it")
	}
	r.what = []string{fmt.Sprintf("the redesign of %s in %s", plan.Shop, r.path)}
	r.cost, r.priced, r.status = plan.Cost, true, plan.Status
	if plan.Energy == nil && plan.Later == nil { // else the bound is that of cost and energy together, or of now and later
		r.bound, r.gap = plan.Bound, plan.Gap
	}
	if l := plan.Later; l != nil { // what is compared is the shop of today
		r.cost = l.Now
		r.what = append(r.what, fmt.Sprintf("the cost is what is bought now; %s come on top with %s", q.Currency.Text(l.Later), strings.Join(l.Tools, ", ")))
	}
	if plan.Shop != s.p.File.Name {
		r.unpriced = append(r.unpriced, "the way to "+plan.Shop+", which is another shop than "+s.p.File.Name)
	}
	return r.asFoundIn(ctx, q)
}
