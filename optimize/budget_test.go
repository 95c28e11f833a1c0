package optimize

import (
	"context"
	"math/rand/v2"
	"testing"

	"wyewright/optimize/price"
)

// TestBudgetEqualsBruteForce: the share that a budget buys is the largest that
// enumeration finds for the money, to within the step, and never more; its plan
// costs no more and reaches what it says.
func TestBudgetEqualsBruteForce(t *testing.T) {
	problems := 40
	if testing.Short() {
		problems = 12
	}
	bought, nothing, whole := 0, 0, 0
	for seed := range problems {
		rng := rand.New(rand.NewPCG(uint64(seed), 5))
		p := generate(t, rng)
		dear := price.Money(0)
		for i := range p.Choices {
			most := price.Money(0)
			for _, a := range p.Choices[i].Alternatives {
				most = max(most, a.Cost)
			}
			dear += most
		}
		money := price.Money(float64(dear) * rng.Float64() * 1.2)
		got, err := Budget(context.Background(), p, nil, money)
		if err != nil {
			t.Fatal(err)
		}
		x, err := newSearch(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		most := 0.0
		eachPlan(p, func(pick []int) {
			if cost, _, sold := p.Cost(pick); sold && cost <= money {
				most = max(most, x.reached(pick))
			}
		})
		switch {
		case got.Result == nil:
			if nothing++; most > 0.005 {
				t.Fatalf("seed %d: nothing for %d, enumeration finds a share of %g", seed, money, most)
			}
			continue
		case got.Status != Optimal || got.Best.Cost > money || got.Share > most+1e-9 || got.Share < most-BudgetStep || got.Most < most-1e-9:
			t.Fatalf("seed %d: %v, share %g (at most %g) for %d of %d; enumeration %g", seed, got.Status, got.Share, got.Most, got.Best.Cost, money, most)
		}
		bought++
		if got.Share >= 1 {
			whole++
		}
	}
	t.Logf("%d bought something, %d of them all of the flows, %d nothing", bought, whole, nothing)
	if bought < problems/3 || whole == 0 || whole == bought {
		t.Errorf("the generator is one-sided: %d, %d, %d", bought, whole, nothing)
	}
}

// eachPlan calls do for every plan.
func eachPlan(p *Problem, do func(pick []int)) {
	pick := make([]int, len(p.Choices))
	for {
		do(pick)
		i := 0
		for ; i < len(pick); i++ {
			if pick[i]++; pick[i] < len(p.Choices[i].Alternatives) {
				break
			}
			pick[i] = 0
		}
		if i == len(pick) {
			return
		}
	}
}
