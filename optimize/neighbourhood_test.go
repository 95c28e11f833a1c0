package optimize

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"
)

// TestNeighbourhoods: made better part by part first, a search ends with the
// same proof, and what a stop leaves is sound.
func TestNeighbourhoods(t *testing.T) {
	problems := 80
	if testing.Short() {
		problems = 20
	}
	met, gained := 0, 0
	for seed := range problems {
		p := generate(t, rand.New(rand.NewPCG(uint64(seed), 5)))
		j, err := newJudge(p, &Stats{})
		if err != nil {
			t.Fatal(err)
		}
		want, _ := brute(p, j)
		x, err := newSearch(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		x.many = 0
		r, err := x.run()
		if err != nil {
			t.Fatal(err)
		}
		if (want < never) != (r.Status == Optimal) || r.Status == Optimal && weigh(r.Best.Cost, r.Best.Changed) != want {
			t.Fatalf("seed %d: %v at %d, want %d", seed, r.Status, r.Best.Cost, want.money())
		}
		if want >= never {
			continue
		}
		met++
		// From the dearest plan that passes, parts alone.
		y, _ := newSearch(context.Background(), p, nil)
		y.many = 0
		dear := dearest(p, j)
		y.offer(dear)
		before := y.limit
		y.neighbourhoods()
		if y.best == nil || y.limit < want || !y.judge.meets(y.best.Pick) {
			t.Fatalf("seed %d: parts end at %d, the optimum is %d", seed, y.limit.money(), want.money())
		}
		if y.limit < before {
			gained++
		}
		full := make([]uint64, len(y.dom))
		copy(full, y.dom)
		if y.reset(); !slices.Equal(full, y.dom) {
			t.Fatalf("seed %d: the domains are not those of before", seed)
		}
	}
	t.Logf("%d met, %d made lighter", met, gained)
	if met < problems/4 || gained < met/2 {
		t.Error("the test has become one-sided")
	}
}

// dearest is the heaviest plan that meets the rules.
func dearest(p *Problem, j *judge) []int {
	most, out := weight(-1), []int(nil)
	eachPlan(p, func(pick []int) {
		if cost, changes, sold := p.Cost(pick); sold && weigh(cost, changes) > most && j.meets(pick) {
			most, out = weigh(cost, changes), slices.Clone(pick)
		}
	})
	return out
}

// TestPlantStops: on a plant of some sixty runs a search that a limit of nodes
// ends says how far it is from a proof, the same each time.
func TestPlantStops(t *testing.T) {
	p := generatePlant(t, rand.New(rand.NewPCG(1, 90)), 90, 6, true)
	var last *Result
	for range 2 {
		r, err := Solve(context.Background(), p, &Settings{MaxNodes: 60})
		if err != nil {
			t.Fatal(err)
		}
		if r.Best == nil || r.Bound > r.Best.Cost || r.Status == Optimal && r.Bound < r.Best.Cost || r.Best.Cost == 0 {
			t.Fatalf("%v at %+v, bound %d", r.Status, r.Best, r.Bound)
		}
		if last != nil && (last.Best.Cost != r.Best.Cost || last.Bound != r.Bound || !slices.Equal(last.Best.Pick, r.Best.Pick)) {
			t.Errorf("two answers: %d over %d, %d over %d", last.Best.Cost, last.Bound, r.Best.Cost, r.Bound)
		}
		last = r
	}
	t.Logf("%d choices: %v at %d, bound %d", len(p.Choices), last.Status, last.Best.Cost, last.Bound)
}
