package optimize

import (
	"context"
	"errors"
	"math/rand/v2"
	"slices"
	"testing"

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
			named := 0
			for i := range way.s.Stages {
				named += len(way.s.Stages[i].Slowed)
			}
			if way.s.Slower != (named > 0) {
				t.Fatalf("seed %d: slower %v, but %d runs are named", seed, way.s.Slower, named)
			}
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
