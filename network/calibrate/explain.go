package calibrate

import (
	"cmp"
	"math"
	"runtime"
	"slices"

	"golang.org/x/sync/errgroup"
)

// workers fit explanations side by side; the answer does not hang on how many.
var workers = runtime.GOMAXPROCS(0)

const (
	// strong is the fall of the sum of squares that makes a finding: about
	// 3.2 standard deviations for one more parameter (our choice; TestCoverage
	// counts the false alarms it leaves).
	strong = 10.0
	// alike is the difference of sums up to which two explanations count as
	// equally good (χ² of one degree of freedom, 95 %).
	alike = 3.84
	// equal is the difference of sums below which two explanations are the
	// same to the readings.
	equal = 0.5
	// maxFindings bounds how many faults are looked for.
	maxFindings = 4
	// odd is the miss from which a reading may be what is wrong.
	odd = 3.0
	// slack and slackShare say how far above the best, and by what share of
	// the fall, a rough fit may lie to be fitted in full.
	slack, slackShare = 3 * alike, 0.05
)

// attempt is one explanation tried on top of a fit: a fault more, a prior
// released, or a reading left out.
type attempt struct {
	params  []Param
	skip    []bool
	param   int // the one that explains, −1 for a reading
	reading int // the one left out, −1 for a parameter
	starts  [][]float64
	x       []float64 // from the rough fit
	rough   float64
	fit     *fitted
}

// name is what the explanation is called.
func (t *attempt) name(m *model) string {
	if t.reading >= 0 {
		return "a wrong reading: " + m.readings[t.reading].Name
	}
	return t.params[t.param].Name
}

// attempts lists every explanation that a fit leaves open, ducts first.
func (m *model) attempts(now *fitted, skip []bool, all []Param) []*attempt {
	var out []*attempt
	for _, p := range all {
		if slices.ContainsFunc(now.params, func(o Param) bool { return o.Name == p.Name }) {
			continue
		}
		t := &attempt{params: append(slices.Clone(now.params), p), skip: skip, param: len(now.params), reading: -1}
		for _, s := range p.starts() {
			t.starts = append(t.starts, append(slices.Clone(now.x), s))
		}
		out = append(out, t)
	}
	for i := range now.params {
		if !now.params[i].loosens() {
			continue
		}
		t := &attempt{params: slices.Clone(now.params), skip: skip, param: i, reading: -1, starts: [][]float64{now.x}}
		t.params[i] = t.params[i].released()
		out = append(out, t)
	}
	for i, z := range now.miss {
		if skip[i] || z < odd && z > -odd {
			continue
		}
		t := &attempt{params: now.params, skip: slices.Clone(skip), param: -1, reading: i, starts: [][]float64{now.x}}
		t.skip[i] = true
		out = append(out, t)
	}
	return out
}

// explain tries every explanation on top of a fit, roughly first, and returns
// the best if the evidence is strong.
func (m *model) explain(now *fitted, skip []bool, all []Param) (*Finding, *fitted, error) {
	tried, err := m.screen(now, m.attempts(now, skip, all))
	if err != nil || len(tried) == 0 {
		return nil, nil, err
	}
	least := tried[0]
	for _, t := range tried {
		if t.fit.chi2 < least.fit.chi2 {
			least = t
		}
	}
	if now.chi2-least.fit.chi2 < strong {
		return nil, nil, nil
	}
	// Of equals the first as listed stands: a duct before a machine.
	best := tried[slices.IndexFunc(tried, func(t *attempt) bool { return t.fit.chi2 < least.fit.chi2+equal })]
	out := &Finding{Estimate: m.estimate(best), Reading: best.reading, Evidence: now.chi2 - best.fit.chi2, fits: []*fitted{best.fit}}
	if best.reading >= 0 {
		out.Hint = m.readings[best.reading].slip(best.fit.pred[best.reading])
	}
	before := now
	if best.reading < 0 && best.params[best.param].Released {
		// The prior gave way in part before it was released: hold it there.
		if before, err = m.held(now, best.param); err != nil {
			return nil, nil, err
		}
	}
	out.Speaks = m.speaks(before, best.fit)
	slices.SortStableFunc(tried, func(a, b *attempt) int { return cmp.Compare(a.fit.chi2, b.fit.chi2) })
	for _, t := range tried {
		if t != best && t.fit.chi2 < least.fit.chi2+alike {
			out.Rivals = append(out.Rivals, m.estimate(t))
			out.fits = append(out.fits, t.fit)
		}
	}
	return out, best.fit, nil
}

// screen fits the attempts roughly, and in full those that come near the best;
// it returns these.
func (m *model) screen(now *fitted, all []*attempt) ([]*attempt, error) {
	c, err := m.tangents(now)
	if err != nil {
		return nil, err
	}
	err = each(all, func(t *attempt) error {
		t.rough = math.Inf(1)
		for _, x0 := range t.starts {
			r, err := c.fit(t.params, x0, t.skip, -1)
			if err != nil {
				return err
			}
			if r.SSR < t.rough {
				t.x, t.rough = r.X, r.SSR
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	least := now.chi2
	for _, t := range all {
		least = min(least, t.rough)
	}
	near := slices.DeleteFunc(all, func(t *attempt) bool { return t.rough > least+slack+slackShare*(now.chi2-least) })
	return near, each(near, func(t *attempt) (err error) {
		t.fit, err = m.fit(t.params, t.x, t.skip)
		return err
	})
}

// each works on all attempts, some at a time.
func each(all []*attempt, do func(*attempt) error) error {
	var g errgroup.Group
	g.SetLimit(workers)
	for _, t := range all {
		g.Go(func() error { return do(t) })
	}
	return g.Wait()
}

// estimate is the explanation itself.
func (m *model) estimate(t *attempt) Estimate {
	if t.reading >= 0 {
		return Estimate{Param: Param{Name: t.name(m)}, Sigma: math.Inf(1)} // no size
	}
	return t.fit.estimate(t.param)
}

// held is a fit with one parameter at the value expected beforehand.
func (m *model) held(now *fitted, k int) (*fitted, error) {
	c, err := m.tangents(now)
	if err != nil {
		return nil, err
	}
	x := slices.Clone(now.x)
	x[k] = now.params[k].Prior
	r, err := c.fit(now.params, x, now.skip, k)
	if err != nil {
		return nil, err
	}
	out := &fitted{params: now.params, x: r.X, skip: now.skip, chi2: r.SSR}
	return out, m.show(out)
}

// mostSpeak is how many readings are named as evidence.
const mostSpeak = 3

// speaks lists the readings whose misses fall most between two fits.
func (m *model) speaks(before, after *fitted) []Witness {
	var out []Witness
	for i := range m.readings {
		w := Witness{Reading: i, Before: before.pred[i], After: after.pred[i], Weight: before.miss[i]*before.miss[i] - after.miss[i]*after.miss[i]}
		if !after.skip[i] && w.Weight > 1 {
			out = append(out, w)
		}
	}
	slices.SortStableFunc(out, func(a, b Witness) int { return cmp.Compare(b.Weight, a.Weight) })
	return out[:min(len(out), mostSpeak)]
}
