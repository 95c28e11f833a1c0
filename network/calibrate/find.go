package calibrate

import (
	"cmp"
	"context"
	"errors"
	"slices"

	"wyewright/network"
)

// Report is what readings say about a shop.
type Report struct {
	// Estimates are what is never quite known, then the faults found.
	Estimates []Estimate
	// Findings are the faults, the one with the strongest evidence first.
	Findings []Finding
	// Readings holds each reading against the fitted model.
	Readings []Shown
	// Before and After are the sums of squared misses, readings and priors,
	// without and with the faults.
	Before, After float64
	// Clashes are pairs of readings that cannot both be right.
	Clashes []Clash
	// Gains are the stretches into which air comes, by the readings alone.
	Gains []Gain
	// Next are the readings worth taking, the best first: those that would
	// tell rival explanations apart, then those that would settle whether a
	// tool meets its flow. Empty where nothing is left to settle.
	Next []Proposal
	// Converged is false where the last fit did not settle: nothing here may
	// then be relied on.
	Converged bool

	m     *model
	final *fitted
	// first is the fit without faults.
	first *fitted
}

// Shown is a reading with what the fitted model shows there.
type Shown struct {
	Reading
	Model float64
	// Miss is the difference in standard deviations.
	Miss float64
	// Rejected says that the reading contradicts the others and was left out.
	Rejected bool
}

// Finding is a fault that the readings ask for.
type Finding struct {
	Estimate
	// Reading is the index of a reading that is wrong, −1 for a fault of the
	// ducts.
	Reading int
	// Hint says how a wrong reading may have come about; often empty.
	Hint string
	// Evidence is by how much it lowers the sum of squares: 10 is strong.
	Evidence float64
	// Speaks are the readings that carry most of the evidence.
	Speaks []Witness
	// Inflow is the air that comes in by an opening, m³/s, in State, the one
	// of the readings' in which it is most.
	Inflow float64
	State  string
	// Rivals explain the readings almost as well (within 3.84, the 95 % point
	// for one parameter): the readings cannot tell them apart.
	Rivals []Estimate

	fits []*fitted // the finding's own, then the rivals'
}

// Witness is a reading that speaks for a finding: what the model shows there
// without and with it, and by how much its squared miss falls.
type Witness struct {
	Reading       int
	Before, After float64
	Weight        float64
}

// ErrNoReadings says that there is nothing to fit.
var ErrNoReadings = errors.New("calibrate: no readings")

// Need is what Find may weigh its proposals by: the states in which tools must
// meet their flows. The zero value asks for none.
type Need struct {
	States []network.State
	Limits network.Limits
}

// Find fits a shop to readings. The spec is the shop as it is believed to be.
func Find(ctx context.Context, s *network.Spec, rs []Reading, need Need) (*Report, error) {
	if len(rs) == 0 {
		return nil, ErrNoReadings
	}
	m := &model{ctx: ctx, base: s, readings: rs}
	skip := make([]bool, len(rs))
	ps := nuisance(s, rs)
	now, err := m.fit(ps, priors(ps), skip)
	if err != nil {
		return nil, err
	}
	out := &Report{Before: now.chi2, m: m, first: now, Clashes: clashes(rs)}
	for range maxFindings {
		f, next, err := m.explain(now, skip, faults(s, rs))
		if err != nil {
			return nil, err
		}
		if f == nil {
			break
		}
		out.Findings = append(out.Findings, *f)
		now = next
		skip = next.skip
	}
	out.final = now
	out.Converged = now.settled
	out.After, out.Estimates = now.chi2, now.estimates()
	if err := m.profile(now, out.Estimates); err != nil {
		return nil, err
	}
	for i := range rs {
		out.Readings = append(out.Readings, Shown{Reading: rs[i], Model: now.pred[i], Miss: now.miss[i], Rejected: skip[i]})
	}
	if err := out.describe(); err != nil {
		return nil, err
	}
	slices.SortStableFunc(out.Findings, func(a, b Finding) int { return cmp.Compare(b.Evidence, a.Evidence) })
	return out, out.propose(need)
}

// describe completes the findings from the last fit, which knows the sizes
// best, and weighs the air between readings.
func (r *Report) describe() error {
	for i := range r.Findings {
		f := &r.Findings[i]
		for _, e := range r.Estimates {
			if f.Reading < 0 && e.Name == f.Name {
				f.Estimate = e
			}
		}
		if err := r.inflow(f); err != nil {
			return err
		}
	}
	var err error
	r.Gains, err = r.gains()
	return err
}

// inflow finds the state in which most air comes in by a found opening.
func (r *Report) inflow(f *Finding) error {
	if f.Reading >= 0 || f.Kind != LeakArea {
		return nil
	}
	return r.eachState(r.final, func(st *network.State, n *network.Network, sol *network.Solution) {
		for k, l := range n.Spec().Leaks {
			if q := float64(sol.Leaks[k].Flow); l.ID == f.leakID() && q > f.Inflow {
				f.Inflow, f.State = q, st.Name
			}
		}
	})
}

// eachState solves a fit in every state of the readings.
func (r *Report) eachState(f *fitted, do func(*network.State, *network.Network, *network.Solution)) error {
	n, err := network.New(apply(r.m.base, f.params, f.x, ""))
	if err != nil {
		return err
	}
	for i := range r.m.readings {
		o := &r.m.readings[i]
		if slices.ContainsFunc(r.m.readings[:i], func(p Reading) bool { return sameState(&p, o) }) {
			continue
		}
		sol, err := network.Solve(r.m.ctx, n, o.State)
		if err != nil {
			return err
		}
		do(&o.State, n, sol)
	}
	return nil
}

// sameState reports whether two readings were taken in the same state with the
// same collector in place.
func sameState(a, b *Reading) bool {
	return a.State.Name == b.State.Name && a.State.Collector == b.State.Collector && a.State.Filter == b.State.Filter
}
