package optimize

import (
	"context"
	"math/rand/v2"
	"testing"

	"wyewright/optimize/price"
)

// TestFixedEqualsBruteForce: with some runs settled otherwise than they are, the
// search finds what enumeration of the plans that are left finds.
func TestFixedEqualsBruteForce(t *testing.T) {
	dearer, none, same := 0, 0, 0
	for seed := range 60 {
		rng := rand.New(rand.NewPCG(uint64(seed), 11))
		p := generate(t, rng)
		free, err := Solve(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		left := 2
		for i := range p.Choices {
			if c := &p.Choices[i]; c.Run >= 0 && left > 0 && rng.IntN(2) == 0 {
				c.barred, left = 1, left-1
			}
		}
		// The plan that is known may take what is barred: it is no plan then.
		r, err := Solve(context.Background(), p, &Settings{Known: [][]int{free.Best.Pick}})
		if err != nil {
			t.Fatal(err)
		}
		j, err := newJudge(p, &Stats{})
		if err != nil {
			t.Fatal(err)
		}
		best := price.Money(-1)
		eachPlan(p, func(pick []int) {
			cost, _, sold := p.Cost(pick)
			for i, a := range pick {
				sold = sold && !p.Choices[i].Barred(a)
			}
			if sold && (best < 0 || cost < best) && j.meets(pick) {
				best = cost
			}
		})
		switch {
		case best < 0 && r.Status != Infeasible || best >= 0 && (r.Status != Optimal || r.Best.Cost != best):
			t.Errorf("seed %d: %v, %d; enumeration %d", seed, r.Status, r.Best.Cost, best)
		case !p.may(r.Best.Pick):
			t.Errorf("seed %d: %v: the plan takes what is barred", seed, r.Status)
		case best < 0:
			none++
		case free.Status == Optimal && best > free.Best.Cost:
			dearer++
		case free.Status == Optimal && best < free.Best.Cost:
			t.Errorf("seed %d: %d, but %d with more to choose from", seed, best, free.Best.Cost)
		default:
			same++
		}
	}
	t.Logf("%d dearer, %d as cheap, %d without a plan", dearer, same, none)
	if dearer == 0 || none == 0 || same == 0 {
		t.Error("the generator is one-sided")
	}
}

// TestFixedInterrupted: a search that is stopped at once still keeps to what is
// settled.
func TestFixedInterrupted(t *testing.T) {
	p := generate(t, rand.New(rand.NewPCG(3, 11)))
	for i := range p.Choices {
		if p.Choices[i].Run >= 0 {
			p.Choices[i].barred = 1
		}
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	r, err := Solve(ctx, p, nil)
	if err != nil || !p.may(r.Best.Pick) {
		t.Errorf("%v: %+v", err, r)
	}
}
