package optimize

import (
	"math"
	"math/bits"
	"slices"

	"wyewright/network"
)

// row is a rule that every plan of the domains keeps if it can meet a state:
// Σ share[j][alternative of choices[j]] ≤ 1, shares of the pressure that the
// fan has for the way from one port.
type row struct {
	choices []int
	share   [][]float64
}

// rows gathers the rules of all states over the domains at hand: for every
// port of a running tool the one that holds in whatever opening the state is
// met. It reports false where a state cannot be met at all.
func (x *search) rows() ([]row, bool) {
	var out []row
	for s := range x.judge.openings {
		rules, ok := x.stateRows(s)
		if !ok {
			return nil, false
		}
		out = append(out, rules...)
	}
	return out, true
}

// stateRows are the rules of one state, each as weak as the weakest of the
// openings that are left.
func (x *search) stateRows(s int) ([]row, bool) {
	var weakest []network.PathRow
	met := false
	for o := range x.judge.openings[s] {
		op := &x.judge.openings[s][o]
		if !x.buildable(op) || !x.judge.box.Possible(op.c, x.p.limits(s), x.set.Flow) {
			continue
		}
		rules := x.judge.box.PathRows()
		if power, ok := x.judge.box.PowerRow(); ok {
			rules = append(rules, power)
		}
		if !met {
			met, weakest = true, rules
			continue
		}
		for k := range weakest {
			weaken(&weakest[k], &rules[k])
		}
	}
	var out []row
	for k := range weakest {
		r, ok := x.share(&weakest[k])
		if !ok {
			return nil, false
		}
		if len(r.choices) > 0 {
			out = append(out, r)
		}
	}
	return out, met
}

// buildable reports whether the domains still have what an opening opens.
func (x *search) buildable(o *opening) bool {
	for _, k := range o.companions {
		if c := &x.p.Companion[k]; c.Choice >= 0 && x.dom[c.Choice]>>c.Alternative&1 == 0 {
			return false
		}
	}
	return true
}

// weaken makes a rule hold wherever it or another one of its kind does. A run
// that a rule does not name loses nothing by it.
func weaken(a, b *network.PathRow) {
	a.Limit = max(a.Limit, b.Limit)
	for j, run := range a.Runs {
		k := slices.Index(b.Runs, run)
		for i := range a.Loss[j] {
			other := 0.0
			if k >= 0 {
				other = b.Loss[k][i]
			}
			a.Loss[j][i] = min(a.Loss[j][i], other)
		}
	}
	for k, run := range b.Runs {
		if slices.Contains(a.Runs, run) {
			continue
		}
		loss := make([]float64, len(b.Loss[k]))
		for i := range loss {
			loss[i] = min(b.Loss[k][i], 0)
		}
		a.Runs, a.Loss = append(a.Runs, run), append(a.Loss, loss)
	}
}

// share brings a rule to choices, less what every alternative loses. A rule
// that no plan breaks has none; false means that every plan breaks it.
func (x *search) share(r *network.PathRow) (row, bool) {
	var out row
	limit := r.Limit
	for j, run := range r.Runs {
		limit -= least(r.Loss[j], x.domainOf(run))
	}
	if limit <= 0 {
		return row{}, false
	}
	most := 0.0
	for j, run := range r.Runs {
		c := x.p.runChoice[run]
		if c < 0 {
			continue
		}
		low := least(r.Loss[j], x.dom[c])
		worst, share := 0.0, make([]float64, len(r.Loss[j]))
		for d := x.dom[c]; d != 0; d &= d - 1 {
			a := bits.TrailingZeros64(d)
			share[a] = (r.Loss[j][a] - low) / limit
			worst = max(worst, share[a])
		}
		most += worst
		out.choices, out.share = append(out.choices, c), append(out.share, share)
	}
	if most <= 1 {
		return row{}, true
	}
	return out, true
}

// domainOf is what is left of a run, the first alternative where there is no
// choice.
func (x *search) domainOf(run int) uint64 { return domainAt(x.dom, x.p.runChoice[run]) }

// least is the least of a list over a domain.
func least(list []float64, dom uint64) float64 {
	out := math.Inf(1)
	for d := dom; d != 0; d &= d - 1 {
		out = min(out, list[bits.TrailingZeros64(d)])
	}
	return out
}

// load is the left side of a rule for a plan.
func (r *row) load(pick []int) float64 {
	sum := 0.0
	for j, c := range r.choices {
		sum += r.share[j][pick[c]]
	}
	return sum
}
