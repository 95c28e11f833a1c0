package optimize

import (
	"context"
	"slices"
)

// Conflict is a set of requirements that no plan can meet together.
type Conflict struct {
	// Status is Infeasible where Requirements were proved to conflict, Feasible
	// where some plan meets everything, Undecided where a limit came before
	// either.
	Status       Status
	Requirements []Requirement
	// Irreducible says that without any one of them the others can be met, a
	// plan for each being known. Another set may be smaller. It is false where a
	// limit left a requirement in doubt.
	Irreducible bool
	// Questions counts the searches that it took.
	Questions int
	Stats     Stats
}

// FindConflict looks for an irreducible set of requirements that conflict, by
// the deletion filter (Chinneck & Dravnieks 1991, ORSA J. Computing 3:157, from
// memory): each requirement in turn is left out, and stays out where the rest
// still cannot be met. A single state that cannot be met is looked for first,
// then states are left out whole. The TimeLimit of s is for everything, MaxNodes
// for each search.
func FindConflict(ctx context.Context, p *Problem, s *Settings) (*Conflict, error) {
	q := newInquiry(ctx, p, s)
	out := &Conflict{}
	keep := p.Requirements()
	var err error
	if out.Status, err = q.some(p.asking(keep)); err == nil && out.Status == Infeasible {
		f := &filter{inquiry: q, keep: keep, sure: true}
		err = f.run()
		out.Requirements, out.Irreducible = f.keep, f.sure
	}
	out.Questions, out.Stats = q.questions, q.stats
	return out, err
}

// filter is the deletion filter at work.
type filter struct {
	*inquiry
	keep []Requirement // cannot be met together, proved
	sure bool          // every question so far was decided
}

func (f *filter) run() error {
	if err := f.single(); err != nil {
		return err
	}
	for s := range f.p.States {
		if _, err := f.without(func(r Requirement) bool { return r.state == s }); err != nil {
			return err
		}
	}
	// What the states share goes first, then transport velocities, so that what
	// stays speaks of flows where it can.
	f.sure = true
	for _, rule := range [...]Rule{MotorRule, CeilingRule, TransportRule, FlowRule} {
		for _, r := range slices.Clone(f.keep) {
			if r.Rule != rule {
				continue
			}
			st, err := f.without(func(o Requirement) bool { return o == r })
			if err != nil {
				return err
			}
			f.sure = f.sure && st != Undecided
		}
	}
	return nil
}

// single keeps the requirements of one state alone, if they conflict.
func (f *filter) single() error {
	for s := range f.p.States {
		done, err := f.try(slices.DeleteFunc(slices.Clone(f.keep), func(r Requirement) bool { return r.state != s }))
		if err != nil || done == Infeasible {
			return err
		}
	}
	return nil
}

// without leaves requirements out, if the rest still conflicts.
func (f *filter) without(out func(Requirement) bool) (Status, error) {
	rest := slices.DeleteFunc(slices.Clone(f.keep), out)
	if len(rest) == len(f.keep) {
		return Infeasible, nil
	}
	return f.try(rest)
}

// try keeps a part of the requirements, if it conflicts.
func (f *filter) try(part []Requirement) (Status, error) {
	if len(part) == 0 {
		return Feasible, nil
	}
	st, err := f.some(f.p.asking(part))
	if err == nil && st == Infeasible {
		f.keep = part
	}
	return st, err
}
