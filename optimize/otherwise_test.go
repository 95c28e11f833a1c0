package optimize

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"wyewright/network"
	"wyewright/optimize/price"
)

// TestSavingsEqualBruteForce: leaving out a state or a tool saves what
// enumeration says, and never costs.
func TestSavingsEqualBruteForce(t *testing.T) {
	saved := 0
	for from := 0; from < 40; from += 8 {
		p, r := feasible(t, from)
		list, err := Savings(context.Background(), p, nil, r.Best)
		if err != nil {
			t.Fatal(err)
		}
		for i, v := range list {
			j, err := newJudge(p.leaving(&v), &Stats{})
			if err != nil {
				t.Fatal(err)
			}
			want, _ := brute(p, j)
			if !j.meets(r.Best.Pick) {
				t.Errorf("from %d: the plan for everything does not do without %q%q", from, v.Tool, v.State)
			}
			if v.Status != Optimal || v.Plan.Cost != want.money() || v.Saves != r.Best.Cost-want.money() || v.Saves < 0 {
				t.Errorf("from %d: without %q%q: %v, %d for %d; enumeration %d", from, v.Tool, v.State, v.Status, v.Saves, v.Plan.Cost, want.money())
			}
			if i > 0 && v.Saves > list[i-1].Saves {
				t.Error("not sorted")
			}
			if v.Saves > 0 {
				saved++
			}
		}
	}
	p, _ := feasible(t, 0)
	p.States = []network.State{{Name: "pair", Running: []string{"a", "b"}}, {Name: "alone", Running: []string{"a"}}}
	if got := p.leaving(&Saving{Tool: "a"}).States; len(got) != 1 || !slices.Equal(got[0].Running, []string{"b"}) || !slices.Equal(got[0].Open, []string{"a"}) {
		t.Errorf("without a: %+v", got) // hand-worked: its gate stays as the state has it
	}
	if saved < 5 {
		t.Errorf("only %d savings: the test proves little", saved)
	}
}

// lower puts most points of a shop within reach from the floor.
func lower(t *testing.T, p *Problem, seed int) {
	t.Helper()
	spec := *p.Base.Spec()
	spec.Points = slices.Clone(spec.Points)
	for i := range spec.Points {
		if (i+seed)%4 > 0 {
			spec.Points[i].At.Z = 1
		}
	}
	var err error
	if p.Base, err = network.New(spec); err != nil {
		t.Fatal(err)
	}
}

// TestOthersEqualBruteForce: a plan of another kind is listed just when
// enumeration finds one for the money, at its cost.
func TestOthersEqualBruteForce(t *testing.T) {
	kinds, none := map[Restriction]int{}, 0
	for seed := range 90 {
		p := generate(t, rand.New(rand.NewPCG(uint64(seed), 5)))
		lower(t, p, seed)
		const share = 3
		r, err := Solve(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		if r.Status != Optimal || r.Best.Cost == 0 {
			continue
		}
		list, err := Others(context.Background(), p, nil, r.Best, share)
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range append(p.restrictions(r.Best), Other{Restriction: FewestChanges}) {
			q := *p
			allow := p.allow(&o)
			if o.Restriction == NoCompanion {
				q.Companions = 0
			}
			j, err := newJudge(&q, &Stats{})
			if err != nil {
				t.Fatal(err)
			}
			best, fewest := price.Money(-1), len(p.Choices)
			eachPlan(p, func(pick []int) {
				cost, changes, sold := p.Cost(pick)
				for i, a := range pick {
					sold = sold && allow[i]>>a&1 == 1
				}
				if !sold || float64(cost) > float64(r.Best.Cost)*(1+share) || !j.meets(pick) {
					return
				}
				if o.Restriction == FewestChanges && changes != fewest {
					if changes > fewest {
						return
					}
					fewest, best = changes, -1
				}
				if best < 0 || cost < best {
					best = cost
				}
			})
			k := slices.IndexFunc(list, func(x Other) bool { return x.Restriction == o.Restriction && x.Family == o.Family && x.Plan != nil })
			same := best == r.Best.Cost // the plan itself keeps it, or an equal one
			switch {
			case k < 0 && best >= 0 && !same:
				t.Errorf("seed %d: %s %s is missing: %d against %d", seed, o.Restriction, o.Family, best, r.Best.Cost)
			case k >= 0 && (list[k].Status != Optimal || list[k].Plan.Cost != best || list[k].More != best-r.Best.Cost):
				t.Errorf("seed %d: %s %s: %v, %d; enumeration %d", seed, o.Restriction, o.Family, list[k].Status, list[k].Plan.Cost, best)
			case k < 0:
				if none++; slices.ContainsFunc(list, func(x Other) bool { return x.Plan == nil && x.Status != Infeasible }) {
					t.Errorf("seed %d: not decided: %v", seed, list)
				}
			default:
				kinds[o.Restriction]++
				// For just the money it is listed, for a cent less it is not.
				for cents, want := range []bool{false, true} {
					again, err := Others(context.Background(), p, nil, r.Best, float64(list[k].More-1+price.Money(cents))/float64(r.Best.Cost))
					if err != nil || o.Restriction != FewestChanges && want != slices.ContainsFunc(again, func(x Other) bool {
						return x.Restriction == o.Restriction && x.Family == o.Family && x.Plan != nil
					}) {
						t.Errorf("seed %d: %s %s for %d more: want %v (%v)", seed, o.Restriction, o.Family, list[k].More, want, err)
					}
				}
			}
		}
	}
	t.Logf("%v, and %d for which there is none", kinds, none)
	if kinds[NoCompanion] == 0 || kinds[FewestChanges] == 0 || kinds[NoHeight] == 0 || none == 0 {
		t.Errorf("the generator is one-sided: %v, %d", kinds, none)
	}
}
