package calibrate

import (
	"cmp"
	"context"
	"errors"
	"math"
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
	// Next are the readings that would tell rival explanations apart, the
	// best first; empty where nothing is left to tell apart.
	Next []Proposal
	// Converged is false where a fit did not settle: nothing here may then be
	// relied on.
	Converged bool

	base  *network.Spec
	final *fitted
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
	// Rivals explain the readings almost as well (within 3.84, the 95 % point
	// for one parameter): the readings cannot tell them apart.
	Rivals []Estimate

	fits []*fitted // the finding's own, then the rivals'
}

// Proposal is a reading worth taking.
type Proposal struct {
	Reading
	// Under is what each explanation predicts there.
	Under []Prediction
	// Power is the largest difference between two explanations in standard
	// deviations of the reading; Parts counts the pairs of explanations that it
	// would tell apart.
	Power float64
	Parts int
}

// Prediction is what one explanation predicts for a proposed reading.
type Prediction struct {
	Name  string
	Value float64
}

const (
	// strong is the fall of the sum of squares that makes a finding: about
	// 3.2 standard deviations for one more parameter.
	strong = 10.0
	// alike is the difference of sums up to which two explanations count as
	// equally good (χ² of one degree of freedom, 95 %).
	alike = 3.84
	// equal is the difference of sums below which two explanations are the
	// same to the readings.
	equal = 0.05
	// maxFindings bounds how many faults are looked for.
	maxFindings = 4
	// odd is the miss from which a reading may be what is wrong.
	odd = 3.0
)

// ErrNoReadings says that there is nothing to fit.
var ErrNoReadings = errors.New("calibrate: no readings")

// Find fits a shop to readings. The spec is the shop as it is believed to be.
func Find(ctx context.Context, s *network.Spec, rs []Reading) (*Report, error) {
	if len(rs) == 0 {
		return nil, ErrNoReadings
	}
	m := &model{ctx: ctx, base: s, readings: rs}
	skip := make([]bool, len(rs))
	now, err := m.fit(nuisance(s, rs), nil, nil, skip)
	if err != nil {
		return nil, err
	}
	out := &Report{Before: now.chi2, Converged: now.settled}
	for range maxFindings {
		f, next, err := m.explain(now, skip, faults(s))
		if err != nil {
			return nil, err
		}
		if f == nil {
			break
		}
		out.Findings = append(out.Findings, *f)
		now = next
		if f.Reading >= 0 {
			skip[f.Reading] = true
		}
	}
	out.Converged = out.Converged && now.settled
	out.After, out.Estimates = now.chi2, now.estimates()
	out.base, out.final = s, now
	for i := range rs {
		out.Readings = append(out.Readings, Shown{Reading: rs[i], Model: now.pred[i], Miss: now.miss[i], Rejected: skip[i]})
	}
	// The last fit knows the sizes best.
	for i := range out.Findings {
		for _, e := range out.Estimates {
			if f := &out.Findings[i]; f.Reading < 0 && e.Name == f.Name {
				f.Estimate = e
			}
		}
	}
	slices.SortStableFunc(out.Findings, func(a, b Finding) int { return cmp.Compare(b.Evidence, a.Evidence) })
	out.Next, err = m.propose(out.Findings)
	return out, err
}

// attempt is one explanation tried.
type attempt struct {
	fit     *fitted
	reading int
	param   Param
}

// explain tries every fault and every odd reading in turn on top of a fit, and
// returns the best if the evidence is strong.
func (m *model) explain(now *fitted, skip []bool, all []Param) (*Finding, *fitted, error) {
	var tried []attempt
	for _, p := range all {
		if slices.ContainsFunc(now.params, func(o Param) bool { return o.Name == p.Name }) {
			continue
		}
		ps := append(slices.Clone(now.params), p)
		f, err := m.fit(ps, now.x, []float64{p.Scale, 6 * p.Scale}, skip)
		if err != nil {
			return nil, nil, err
		}
		tried = append(tried, attempt{f, -1, p})
	}
	for i, z := range now.miss {
		if skip[i] || z < odd && z > -odd {
			continue
		}
		without := slices.Clone(skip)
		without[i] = true
		f, err := m.fit(now.params, now.x, nil, without)
		if err != nil {
			return nil, nil, err
		}
		tried = append(tried, attempt{f, i, Param{Name: "a wrong reading: " + m.readings[i].Name}})
	}
	slices.SortStableFunc(tried, func(a, b attempt) int { return cmp.Compare(a.fit.chi2, b.fit.chi2) })
	if len(tried) == 0 || now.chi2-tried[0].fit.chi2 < strong {
		return nil, nil, nil
	}
	// Of equals within rounding the first as listed stands: a duct before a
	// machine.
	best := tried[0]
	for _, p := range all {
		if i := slices.IndexFunc(tried, func(t attempt) bool { return t.reading < 0 && t.param.Name == p.Name }); i >= 0 && tried[i].fit.chi2 < tried[0].fit.chi2+equal {
			best = tried[i]
			break
		}
	}
	out := &Finding{Estimate: best.last(), Reading: best.reading, Evidence: now.chi2 - best.fit.chi2, fits: []*fitted{best.fit}}
	if best.reading >= 0 {
		out.Hint = m.readings[best.reading].slip(best.fit.pred[best.reading])
	}
	for _, t := range tried {
		if t.param.Name == best.param.Name {
			continue
		}
		if t.fit.chi2 > tried[0].fit.chi2+alike {
			break
		}
		out.Rivals = append(out.Rivals, t.last())
		out.fits = append(out.fits, t.fit)
	}
	return out, best.fit, nil
}

// last is the explanation itself as an estimate.
func (t *attempt) last() Estimate {
	if t.reading >= 0 {
		return Estimate{Param: t.param}
	}
	all := t.fit.estimates()
	return all[len(all)-1]
}

// propose ranks readings by how many of the rival explanations of the findings
// they would tell apart.
func (m *model) propose(fs []Finding) ([]Proposal, error) {
	var out []Proposal
	for i := range fs {
		f := &fs[i]
		if len(f.Rivals) == 0 {
			continue
		}
		list, err := m.tell(f)
		if err != nil {
			return nil, err
		}
		out = append(out, list...)
	}
	slices.SortStableFunc(out, func(a, b Proposal) int {
		return cmp.Or(cmp.Compare(b.Parts, a.Parts), cmp.Compare(b.Power, a.Power))
	})
	return out[:min(len(out), 5)], nil
}

// leastPower is the difference in standard deviations below which a reading
// would not tell anything.
const leastPower = 1.5

// tell finds the readings that part a finding from its rivals.
func (m *model) tell(f *Finding) ([]Proposal, error) {
	var could []Reading
	var seen []Reading
	for i := range m.readings {
		r := &m.readings[i]
		if r.OpenEnd || slices.ContainsFunc(seen, func(o Reading) bool { return sameShop(&o, r) }) {
			continue
		}
		seen = append(seen, *r)
		for k, run := range m.base.Runs {
			if slices.ContainsFunc(m.readings, func(o Reading) bool { return sameShop(&o, r) && o.Place == AtRun && o.Index == k }) {
				continue
			}
			could = append(could, Reading{Name: "velocity in " + run.ID, State: r.State, Place: AtRun, Index: k, Centre: true})
		}
		for k, p := range m.base.Points {
			could = append(could, Reading{Name: "suction at " + p.ID, State: r.State, Place: AtPoint, Index: k, Quantity: Suction})
		}
	}
	probe := &model{ctx: m.ctx, base: m.base, readings: could}
	values := make([][]float64, len(f.fits))
	for i, fit := range f.fits {
		values[i] = make([]float64, len(could))
		if err := probe.predict(fit.params, fit.x, values[i]); err != nil {
			return nil, err
		}
	}
	var out []Proposal
	for k := range could {
		lo, hi := values[0][k], values[0][k]
		p := Proposal{Reading: could[k]}
		for i := range f.fits {
			lo, hi = min(lo, values[i][k]), max(hi, values[i][k])
			name := f.Name
			if i > 0 {
				name = f.Rivals[i-1].Name
			}
			p.Under = append(p.Under, Prediction{name, values[i][k]})
		}
		p.Value = (lo + hi) / 2
		for i := range f.fits {
			for j := range i {
				if d := values[i][k] - values[j][k]; math.Abs(d) > leastPower*p.Sigma() {
					p.Parts++
				}
			}
		}
		if p.Power = (hi - lo) / p.Sigma(); p.Parts > 0 {
			out = append(out, p)
		}
	}
	return out, nil
}
