package optimize

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"wyewright/network"
	"wyewright/optimize/price"
)

// stageCase is a generated problem with a plan that meets the rules and changes
// two to five things, any such plan; nil where there is none.
func stageCase(t testing.TB, seed int) (*Problem, *Plan) {
	rng := rand.New(rand.NewPCG(uint64(seed), 77))
	p := generate(t, rng)
	if seed%2 == 0 { // less is asked: more plans meet it
		p.Limits.Margin = 0.9*(1+p.Limits.Margin) - 1
	}
	j, err := newJudge(p, &Stats{})
	if err != nil {
		t.Fatal(err)
	}
	var all []*Plan
	eachPlan(p, func(pick []int) {
		if cost, changes, sold := p.Cost(pick); sold && changes > 1 && changes < 6 && j.meets(pick) {
			all = append(all, &Plan{Pick: slices.Clone(pick), Cost: cost, Changed: changes})
		}
	})
	if len(all) == 0 {
		return nil, nil
	}
	return p, all[rng.IntN(len(all))]
}

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

// promises holds an answer against both of them. What was met, by its name,
// stays; the stages cost what the plan costs, and no joint is made twice.
func promises(t *testing.T, seed int, p *Problem, pl *Plan, s *Staged, once bool) (kept int) {
	t.Helper()
	states := [][]StateResult{s.Before}
	sum := price.Money(0)
	picks := [][]int{make([]int, len(pl.Pick))}
	for i := range s.Stages {
		states, picks = append(states, s.Stages[i].States), append(picks, s.Stages[i].Best.Pick)
		sum += s.Stages[i].Cost
	}
	for i := 1; i < len(states); i++ {
		for k := range states[i] {
			was, is := count(p, states[i-1][k].Verdict).met, count(p, states[i][k].Verdict).met
			if s.Slower {
				n := len(p.States[k].Running) + 3
				was, is = was[:n], is[:n]
			}
			if !implied(was, is) {
				t.Fatalf("seed %d: stage %d makes state %d worse: %v, then %v", seed, i, k, was, is)
			}
			for n := range is {
				if is[n] && !was[n] {
					kept++
				}
			}
		}
	}
	if !slices.Equal(picks[len(picks)-1], pl.Pick) {
		t.Fatalf("seed %d: the last stage is %v, not the plan %v", seed, picks[len(picks)-1], pl.Pick)
	}
	if sum != pl.Cost+s.Extra || once && s.Extra != 0 {
		t.Fatalf("seed %d: stages cost %d, %d more than the plan of %d", seed, sum, s.Extra, pl.Cost)
	}
	for k := range p.joints {
		j, made := &p.joints[k], 0
		for i := 1; i < len(picks); i++ {
			if a, b := picks[i-1], picks[i]; at(a, j.main) != at(b, j.main) || at(a, j.branch) != at(b, j.branch) || at(a, j.common) != at(b, j.common) {
				made++
			}
		}
		if once && made > 1 {
			t.Fatalf("seed %d: joint %d is made %d times", seed, k, made)
		}
	}
	return kept
}

// TestStagesEqualBruteForce: on generated problems the order of the stages
// counts as much as the best of all rows, with budgets
// and by number, with joints made once and in every stage; both promises hold.
func TestStagesEqualBruteForce(t *testing.T) {
	seeds := 400
	if testing.Short() {
		seeds = 80
	}
	tried, several, gained, slower, empty, none := 0, 0, 0, 0, 0, 0
	for seed := range seeds {
		p, pl := stageCase(t, seed)
		if p == nil {
			continue
		}
		rng := rand.New(rand.NewPCG(uint64(seed), 3))
		o := &StageOptions{Count: 1 + rng.IntN(3)}
		if rng.IntN(2) == 0 {
			o.Count = 0
			for range 1 + rng.IntN(3) {
				o.Budgets = append(o.Budgets, 1+price.Money(rng.Float64()*float64(pl.Cost)))
			}
		}
		s, err := Stages(context.Background(), p, pl, o, nil)
		if errors.Is(err, ErrStages) { // no such row: then enumeration finds none
			or := newOracle(t, p, pl, true)
			or.count = min(o.Count, len(p.apart(pl)))
			if top := o.brute(or); top != nil {
				t.Fatalf("seed %d: %v, but there is a row %+v", seed, err, *top)
			}
			none++
			continue
		} else if err != nil {
			t.Fatal(err)
		}
		tried++
		if s.Status != Optimal {
			t.Fatalf("seed %d: %v", seed, s.Status)
		}
		for _, way := range []struct {
			s    *Staged
			once bool
		}{{s, true}, {s.Twice, false}} {
			if way.s == nil {
				continue
			}
			gained += promises(t, seed, p, pl, way.s, way.once)
			if way.s.Slower {
				slower++
			}
			or := newOracle(t, p, pl, way.once)
			if or.count = min(o.Count, way.s.Parts); o.Count > 0 && len(way.s.Stages) != or.count {
				t.Fatalf("seed %d: %d stages, not %d", seed, len(way.s.Stages), or.count)
			}
			top := o.brute(or)
			if got := traceOf(p, way.s, or); top == nil || *top != got || got.sum != way.s.Worth {
				t.Fatalf("seed %d, once %v, %+v: %+v, brute force %+v", seed, way.once, *o, got, top)
			}
		}
		if s.Parts > 1 {
			several++
		}
		if s.Stages[0].Empty() {
			empty++
		}
	}
	t.Logf("%d problems, %d of several parts, %d with a first stage that buys nothing, %d slower, %d things gained; %d without an order", tried, several, empty, slower, gained, none)
	if tried < seeds/8 || several < seeds/16 || gained < tried {
		t.Errorf("the generator has become one-sided")
	}
}

// brute is the best row of stages of all.
func (o *StageOptions) brute(or *oracle) *trace {
	p := or.p
	or.even = o.Count > 0
	found, err := p.AsFound(context.Background())
	if err != nil {
		or.t.Fatal(err)
	}
	var met [][]bool
	now := int64(0)
	for i := range found {
		c := count(p, found[i].Verdict)
		met, now = append(met, c.met), now+c.worth
	}
	value := func(a, b *trace) bool {
		return a.sum > b.sum || a.sum == b.sum && a.early < b.early
	}
	top := o.enumerate(or, met, now, value)
	if top == nil || top.spent == 0 {
		or.slower = true
		if other := o.enumerate(or, met, now, value); other != nil && (top == nil || other.spent > 0) {
			return other
		}
	}
	return top
}

// enumerate is brute with the transport velocities to be kept, or not.
func (o *StageOptions) enumerate(or *oracle, met [][]bool, now int64, value func(a, b *trace) bool) *trace {
	if o.Count == 0 {
		return or.best(len(o.Budgets), met, now, func(stage, _, _ int, spent, cost price.Money) bool {
			have := price.Money(0)
			for _, m := range o.Budgets[:stage+1] {
				have += m
			}
			return spent+cost <= have
		}, func(a, b *trace) bool { return a.full && !b.full || a.full == b.full && value(a, b) })
	}
	whole := 1<<len(or.changed) - 1
	return or.best(or.count, met, now, func(stage, from, to int, _, _ price.Money) bool {
		return from != to && (to == whole) == (stage == or.count-1)
	}, value)
}

// TestStagesLimited: with many parts, and where a limit stops the search, both
// promises hold, no order counts more than the best, and none is called optimal.
func TestStagesLimited(t *testing.T) {
	several, same := 0, 0
	for seed := range 120 {
		p, pl := stageCase(t, seed)
		if p == nil {
			continue
		}
		o := &StageOptions{Count: 2, Once: true}
		exact, err := Stages(context.Background(), p, pl, o, nil)
		if err != nil || exact.Parts < 2 || len(exact.Stages) < 2 {
			continue
		}
		g, err := newStager(context.Background(), p, pl, o, nil)
		if err != nil {
			t.Fatal(err)
		}
		g.exact = 0
		walked, err := g.best()
		if err != nil {
			t.Fatal(err)
		}
		stopped, err := Stages(context.Background(), p, pl, &StageOptions{Budgets: []price.Money{pl.Cost / 2, pl.Cost / 2}}, &Settings{MaxNodes: 1})
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range []*Staged{walked, stopped} {
			if promises(t, seed, p, pl, s, true); s.Status != Feasible {
				t.Errorf("seed %d: %v where not all was tried", seed, s.Status)
			}
		}
		if walked.Worth > exact.Worth && walked.Slower == exact.Slower {
			t.Errorf("seed %d: %d counts more than the best, %d", seed, walked.Worth, exact.Worth)
		}
		if several++; walked.Worth == exact.Worth {
			same++
		}
	}
	t.Logf("%d plans of several parts, the walk finds the best order of %d", several, same)
	if several < 15 || same < several/2 {
		t.Error("the walk finds too little")
	}
}

// TestStagesRefused: what cannot be parted.
func TestStagesRefused(t *testing.T) {
	p, pl := stageCase(t, 0)
	for seed := 1; p == nil; seed++ {
		p, pl = stageCase(t, seed)
	}
	nothing := &Plan{Pick: make([]int, len(pl.Pick))}
	for i, c := range []struct {
		pl *Plan
		o  StageOptions
	}{
		{pl, StageOptions{}}, {pl, StageOptions{Count: -1}}, {pl, StageOptions{Budgets: []price.Money{5, 0}}}, {pl, StageOptions{Budgets: []price.Money{-5}}},
		{nothing, StageOptions{Count: 1}},
	} {
		if _, err := Stages(context.Background(), p, c.pl, &c.o, nil); !errors.Is(err, ErrStages) {
			t.Errorf("%d: %v", i, err)
		}
	}
	p.Limits.Margin += 3 // now the plan meets nothing
	if _, err := Stages(context.Background(), p, pl, &StageOptions{Count: 1}, nil); !errors.Is(err, ErrStages) {
		t.Errorf("a plan that misses: %v", err)
	}
}
