package optimize

import (
	"context"
	"math"
	"testing"

	"wyewright/network"
	"wyewright/optimize/price"
)

// tally is what a test says of a state under an opening, by itself: what is
// met, how much it counts, and the least ratio of all.
type tally struct {
	met   []bool
	worth int64
	worst float64
}

// count takes marks from a verdict, without the code under test.
func count(p *Problem, v *network.Verdict) tally {
	pairs := len(p.States)
	for _, s := range p.States {
		pairs += len(s.Running)
	}
	point := int64(pairs) * 1_000_000
	part := func(x float64) int64 { return int64(math.Round(1e6 * math.Max(0, math.Min(1, x)))) }
	var out tally
	others := true
	for _, tv := range v.Tools {
		ok := tv.Ratio > 1-0.5e-6
		out.met = append(out.met, ok)
		if out.worth += part(tv.Ratio); ok {
			out.worth += point
		}
	}
	m := v.Motor
	for _, ok := range []bool{len(v.Fast) == 0, len(v.Backward) == 0, !m.Checked || m.Load <= 0 || float64(m.Rating/m.Load) > 1-0.5e-6} {
		out.met = append(out.met, ok)
		others = others && ok
	}
	least := 1.0
	for _, d := range v.Dust {
		ok := d.Ratio > 1-0.5e-6
		out.met = append(out.met, ok)
		others, least = others && ok, math.Min(least, d.Ratio)
	}
	if out.worth += part(least); others {
		out.worth += point
	}
	out.worst = math.Min(v.FlowRatio(), v.DustRatio())
	for _, f := range v.Fast {
		out.worst = math.Min(out.worst, f.Ratio)
	}
	if m.Checked && m.Load > 0 {
		out.worst = math.Min(out.worst, float64(m.Rating/m.Load))
	}
	if len(v.Backward) > 0 {
		out.worst = math.Min(0.5, v.FlowRatio())
	}
	out.worst = math.Round(math.Min(1, out.worst)*1e6) / 1e6
	return out
}

func implied(was, is []bool) bool {
	for i := range min(len(was), len(is)) {
		if was[i] && !is[i] {
			return false
		}
	}
	return true
}

// oracle enumerates all rows of stages.
type oracle struct {
	t       *testing.T
	p       *Problem
	pl      *Plan
	j       *judge
	changed []int
	once    bool
	slower  bool
	even    bool // money comes in evenly
	count   int
	shops   map[int][][]tally // per set of changes, state and opening offered
}

func newOracle(t *testing.T, p *Problem, pl *Plan, once bool) *oracle {
	j, err := newJudge(p, &Stats{})
	if err != nil {
		t.Fatal(err)
	}
	return &oracle{t, p, pl, j, p.changed(pl), once, false, false, 0, map[int][][]tally{}}
}

func (o *oracle) pick(set int) []int {
	out := make([]int, len(o.pl.Pick))
	for k, i := range o.changed {
		if set>>k&1 > 0 {
			out[i] = o.pl.Pick[i]
		}
	}
	return out
}

func (o *oracle) ends(set, k int) [3]int {
	pick, j := o.pick(set), &o.p.joints[k]
	return [3]int{at(pick, j.main), at(pick, j.branch), at(pick, j.common)}
}

// fits reports whether a set of changes may be a stage: everything is sold, and
// with once each joint is as found or as planned.
func (o *oracle) fits(set int) bool {
	for k := range o.p.joints {
		e := o.ends(set, k)
		if o.p.joints[k].at(e[0], e[1], e[2]) == unsold || o.once && e != o.ends(0, k) && e != o.ends(1<<len(o.changed)-1, k) {
			return false
		}
	}
	return true
}

// cost is that of the way from one set to another: a joint that changes is
// paid for anew.
func (o *oracle) cost(from, to int) price.Money {
	sum := price.Money(0)
	a, b := o.pick(from), o.pick(to)
	for i := range a {
		if a[i] != b[i] {
			sum += o.p.Choices[i].Alternatives[b[i]].Cost
		}
	}
	for k := range o.p.joints {
		if e := o.ends(to, k); e != o.ends(from, k) {
			sum += o.p.joints[k].at(e[0], e[1], e[2])
		}
	}
	return sum
}

func (o *oracle) shop(set int) [][]tally {
	if out, ok := o.shops[set]; ok {
		return out
	}
	pick := o.pick(set)
	solver := network.NewSolver(o.p.Network(pick), nil)
	var out [][]tally
	for s := range o.p.States {
		var list []tally
		for k := range o.j.openings[s] {
			if op := &o.j.openings[s][k]; o.p.offered(op, pick) {
				if _, v, err := solver.Check(context.Background(), op.c, &o.p.Limits); err == nil {
					list = append(list, count(o.p, v))
				}
			}
		}
		out = append(out, list)
	}
	o.shops[set] = out
	return out
}

// most is what a shop counts that meets everything (hand-worked: each flow and
// each state's other rules a point and a whole share).
func (o *oracle) most() int64 {
	things := int64(len(o.p.States))
	for _, s := range o.p.States {
		things += int64(len(s.Running))
	}
	return things * (things*1_000_000 + 1_000_000)
}

// best walks all rows and returns that with the highest value.
func (o *oracle) best(stages int, met [][]bool, now int64, may func(stage, from, to int, spent, cost price.Money) bool,
	better func(a, b *trace) bool) *trace {
	var top *trace
	var walk func(stage int, tr trace, set int, met [][]bool, now int64)
	walk = func(stage int, tr trace, set int, met [][]bool, now int64) {
		if stage == stages {
			if tr.full = set == 1<<len(o.changed)-1; top == nil || better(&tr, top) {
				kept := tr
				top = &kept
			}
			return
		}
		for to := range 1 << len(o.changed) {
			if to&set != set || !o.fits(to) {
				continue
			}
			cost := o.cost(set, to)
			if !may(stage, set, to, tr.spent, cost) {
				continue
			}
			next, worth := met, now
			if to != set {
				next, worth = nil, 0
				for s, list := range o.shop(to) {
					k := -1
					for n := range list {
						must := met[s]
						if o.slower {
							must = must[:len(o.p.States[s].Running)+3]
						}
						if implied(must, list[n].met) && (k < 0 || list[n].worst > list[k].worst) {
							k = n
						}
					}
					if k < 0 {
						break
					}
					next, worth = append(next, list[k].met), worth+list[k].worth
				}
				if len(next) < len(met) {
					continue
				}
			}
			t := tr
			t.spent += cost
			if t.early += t.spent; o.even {
				t.sum -= (o.most() - now) * int64(cost)
			} else {
				t.sum += worth
			}
			walk(stage+1, t, to, next, worth)
		}
	}
	walk(0, trace{}, 0, met, now)
	return top
}

// trace is what a row of stages comes to.
type trace struct {
	spent, early price.Money
	sum          int64
	full         bool
}

// traceOf is that of an answer, its rest apart.
func traceOf(p *Problem, s *Staged, or *oracle) trace {
	var out trace
	worth := func(states []StateResult) (sum int64) {
		for k := range states {
			sum += count(p, states[k].Verdict).worth
		}
		return sum
	}
	before := worth(s.Before)
	for i := range s.Stages {
		st := &s.Stages[i]
		if st.Rest {
			continue
		}
		now := worth(st.States)
		if or.even {
			out.sum -= (or.most() - before) * int64(st.Cost)
		} else {
			out.sum += now
		}
		before = now
		out.spent += st.Cost
		out.early += out.spent
		out.full = i == len(s.Stages)-1
	}
	return out
}
