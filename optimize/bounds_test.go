package optimize

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"
	"time"
)

// TestDualBound: with the rules priced in the cost bound stays below what
// enumeration finds, for all plans and for those of every alternative. In such
// small shops with much standing open it is seldom above the plain one.
func TestDualBound(t *testing.T) {
	raised, met := 0, 0
	for seed := range 160 {
		p := generate(t, rand.New(rand.NewPCG(uint64(seed), 5)))
		j, err := newJudge(p, &Stats{})
		if err != nil {
			t.Fatal(err)
		}
		least := make([][]weight, len(p.Choices))
		for i := range least {
			least[i] = slices.Repeat([]weight{never}, len(p.Choices[i].Alternatives))
		}
		want := never
		eachPlan(p, func(pick []int) {
			cost, changes, sold := p.Cost(pick)
			if w := weigh(cost, changes); sold && j.meets(pick) {
				want = min(want, w)
				for i, a := range pick {
					least[i][a] = min(least[i][a], w)
				}
			}
		})
		if want >= never {
			continue
		}
		met++
		x, err := newSearch(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		left := x.probe() && x.priceRules()
		if !left && x.limit > want { // else the plan was met on the way
			t.Fatalf("seed %d: nothing is left, but a plan for %d passes", seed, want.money())
		}
		if !left || x.dual == nil {
			continue
		}
		v := x.dual.bound(x.dom)
		if v > x.costs.bound(x.dom) {
			raised++
		}
		if v > want {
			t.Fatalf("seed %d: bound %d above the optimum %d", seed, v.money(), want.money())
		}
		for i := range least {
			for a, w := range least[i] {
				if x.dom[i]>>a&1 == 1 && x.dual.marginal(i, a) > w {
					t.Fatalf("seed %d: choice %d, alternative %d: bound %d, a plan weighs %d", seed, i, a, x.dual.marginal(i, a).money(), w.money())
				}
			}
		}
	}
	t.Logf("%d met, the bound was raised in %d", met, raised)
	if met < 40 {
		t.Error("the test has become one-sided")
	}
}

// TestPlantOptimum: on a plant of 49 runs, where the rules gain much, the search
// ends at the optimum that it proved without them (149066 cents; pinned).
func TestPlantOptimum(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds")
	}
	p := generatePlant(t, rand.New(rand.NewPCG(1, 60)), 60, 20, true)
	for _, bare := range []bool{false, true} {
		x, err := newSearch(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		x.bare, x.many = bare, 1000
		r, err := x.run()
		if err != nil {
			t.Fatal(err)
		}
		if r.Status != Optimal || r.Best.Cost != 149066 || x.dual == nil {
			t.Errorf("bare %v: %v at %d, rules priced in: %v", bare, r.Status, r.Best.Cost, x.dual != nil)
		}
		if v := x.dual.bound(fullDomain(p)); v.money() > 149066 {
			t.Errorf("bare %v: a bound of %d", bare, v.money())
		}
	}
}

func fullDomain(p *Problem) []uint64 {
	dom := make([]uint64, len(p.Choices))
	for i := range dom {
		dom[i] = 1<<len(p.Choices[i].Alternatives) - 1
	}
	return dom
}

// TestWaysStops: a search over ways that a clock ends says no more than it
// knows.
func TestWaysStops(t *testing.T) {
	stopped, open := 0, 0
	for seed := range 40 {
		g := generateOpen(t, rand.New(rand.NewPCG(uint64(seed), 17)))
		solve := func(set *Settings) *Among {
			w, err := NewWays(context.Background(), g.n, g.states, g.o, g.corridors, g.options, g.b)
			if err != nil {
				t.Fatal(err)
			}
			r, err := SolveAmong(context.Background(), w, set)
			if err != nil {
				t.Fatal(err)
			}
			return r
		}
		full := solve(nil)
		for _, seconds := range []int{1, 8, 40, 200} {
			now := time.Unix(0, 0)
			r := solve(&Settings{TimeLimit: time.Duration(seconds) * time.Second, Clock: func() time.Time { now = now.Add(time.Second / 4); return now }})
			if r.Stats.Stopped || r.Tried < full.Tried {
				stopped++
			}
			if r.Status == Feasible {
				open++
			}
			if full.Status == Optimal && (r.Status == Infeasible || r.Bound > full.Best.Cost || r.Status == Optimal && r.Best.Cost != full.Best.Cost) ||
				full.Status == Infeasible && (r.Status == Optimal || r.Status == Feasible) {
				t.Fatalf("seed %d after %d s: %v at %d, bound %d; it is %v at %d", seed, seconds, r.Status, r.Best.Cost, r.Bound, full.Status, full.Best.Cost)
			}
		}
	}
	t.Logf("%d stopped, %d with a plan and a bound", stopped, open)
	if stopped < 40 || open < 5 {
		t.Error("too few were stopped")
	}
}

// TestCorridorFactor: duct along a corridor of factor 2 costs twice what it
// costs along one of factor 1, to a cent of rounding (hand-worked).
func TestCorridorFactor(t *testing.T) {
	costs := func(factor float64) []Alternative {
		g := generateOpen(t, rand.New(rand.NewPCG(2, 17)))
		for i := range g.corridors {
			g.corridors[i].Factor = factor
		}
		w, err := NewWays(context.Background(), g.n, g.states, g.o, g.corridors, nil, g.b)
		if err != nil {
			t.Fatal(err)
		}
		for {
			v, err := w.Next(context.Background())
			if err != nil || v == nil {
				t.Fatal("no way uses a corridor", err)
			}
			for _, c := range v.Problem.Choices {
				if c.Build {
					return c.Alternatives
				}
			}
		}
	}
	once, twice := costs(1), costs(2)
	if len(once) < 2 || len(once) != len(twice) {
		t.Fatalf("%d and %d alternatives", len(once), len(twice))
	}
	for i := range once {
		if d := twice[i].Cost - 2*once[i].Cost; once[i].Label != twice[i].Label || d < -1 || d > 1 {
			t.Errorf("%s for %d, %s for %d", once[i].Label, once[i].Cost, twice[i].Label, twice[i].Cost)
		}
	}
}

// TestDualIsLagrangian: for any prices the bound is the weight of the plan that
// it comes from, with what that spends and saves of the rules at their prices,
// to the rounding of weights (the definition; hand-worked).
func TestDualIsLagrangian(t *testing.T) {
	p := generatePlant(t, rand.New(rand.NewPCG(1, 60)), 60, 20, true)
	x, err := newSearch(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	rows, ok := x.rows()
	if !ok || len(rows) < 5 {
		t.Fatal(len(rows), ok)
	}
	rng := rand.New(rand.NewPCG(3, 3))
	d := &dual{rows: rows, costs: newCosts(p)}
	pick := make([]int, len(p.Choices))
	for range 20 {
		price, saved := make([]float64, len(rows)), 0.0
		for k := range price {
			price[k] = float64(weigh(200000, 0)) * rng.Float64() * rng.Float64()
		}
		d.set(p, price)
		v := float64(d.costs.bound(x.dom) - d.paid)
		d.costs.trace(x.dom, pick)
		for k := range rows {
			saved += price[k] * (rows[k].load(pick) - 1)
		}
		cost, changes, _ := p.Cost(pick)
		terms := float64(len(rows) * len(p.Choices))
		if direct := float64(weigh(cost, changes)) + saved; v > direct+1 || v < direct-terms {
			t.Errorf("bound %.0f, its plan %.0f", v, direct)
		}
	}
}
