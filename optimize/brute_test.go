package optimize

import (
	"context"
	"math/rand/v2"
	"testing"

	"wyewright/network"
	"wyewright/network/loss"
	"wyewright/network/networktest"
	"wyewright/network/units"
	"wyewright/optimize/price"
)

// generate makes a small problem: a random shop with up to four tools, a few
// alternatives per run, seals, a bleed, joints with prices of their own, and
// states of one or two tools. Everything is invented; requirements are set
// near what the shop can do, where the search is hardest.
func generate(t testing.TB, rng *rand.Rand) *Problem {
	t.Helper()
	o := networktest.Options{Tools: 2 + rng.IntN(2), Extra: rng.IntN(2), Leaks: rng.IntN(2),
		Placed: rng.IntN(2) == 0, Overrides: true, Bleeds: rng.IntN(2) == 0, Odd: rng.IntN(3) == 0}
	if rng.IntN(2) == 0 {
		o.GateLeak = 8e-4 // about 4 % of the flow at each shut gate
	}
	n, err := network.New(networktest.Random(rng, o))
	if err != nil {
		t.Fatal(err)
	}
	spec := n.Spec()
	p := &Problem{Base: n, Companions: rng.IntN(3), runChoice: make([]int, len(spec.Runs))}
	plans := 1
	for i := range spec.Runs {
		p.runChoice[i] = -1
		more := rng.IntN(4)
		if more == 0 || plans*(more+1) > 1500 {
			continue
		}
		plans *= more + 1
		c := Choice{Kind: RunChoice, ID: spec.Runs[i].ID, Run: i, Alternatives: []Alternative{{Label: "keep", Pieces: spec.Runs[i].Pieces}}}
		for range more {
			if rng.IntN(3) == 0 {
				c.Alternatives = append(c.Alternatives, randomSwap(rng, n, i))
				continue
			}
			piece := networktest.Piece(networktest.Spiral(), networktest.Sizes[rng.IntN(9)], float64(spec.Runs[i].Pieces[0].Length))
			c.Alternatives = append(c.Alternatives, Alternative{Label: piece.Size, Pieces: []network.Piece{piece}, fresh: true,
				Cost: price.Money(100 + rng.IntN(900)), Changes: []network.Change{network.ReplaceRun{Run: i, Pieces: []network.Piece{piece}}}})
		}
		p.runChoice[i] = len(p.Choices)
		p.Choices = append(p.Choices, c)
	}
	opening := func(kind Kind, id string, change network.Change) {
		p.Choices = append(p.Choices, Choice{Kind: kind, ID: id, Run: -1, Alternatives: []Alternative{{Label: "leave"},
			{Label: "mend", Cost: price.Money(20 + rng.IntN(100)), Changes: []network.Change{change}}}})
	}
	for i := range spec.Leaks {
		opening(SealChoice, spec.Leaks[i].ID, network.SetLeak{Leak: i})
	}
	if o.GateLeak > 0 {
		opening(RepairChoice, spec.Tools[0].ID, network.SetGate{})
	}
	for k := range spec.Tools {
		p.Companion = append(p.Companion, Companion{Name: spec.Tools[k].ID, Tool: k, Bleed: -1, Choice: -1})
	}
	for k := range spec.Bleeds {
		p.Companion = append(p.Companion, Companion{Name: spec.Bleeds[k].ID, Tool: -1, Bleed: k, Choice: len(p.Choices), Alternative: 1})
		opening(BleedChoice, spec.Bleeds[k].ID, network.SetBleed{Bleed: k, Leak: units.Area(o.GateLeak)})
	}
	for i := range p.Choices {
		p.settle(&p.Choices[i])
	}
	p.randomJoints(rng)
	for k := range spec.Tools {
		p.States = append(p.States, network.State{Name: spec.Tools[k].ID, Running: []string{spec.Tools[k].ID}})
	}
	if rng.IntN(2) == 0 {
		p.States = append(p.States, network.State{Name: "pair", Running: []string{spec.Tools[0].ID, spec.Tools[1].ID}})
	}
	p.Limits.Transport = units.Velocity(11 + 5*rng.Float64())
	if rng.IntN(3) == 0 {
		p.Limits.Ceiling = 32
	}
	p.Limits.Margin = p.reachable(t, rng)
	return p
}

// randomSwap makes new elbows, a new joint, or both, of a run that stays. The
// elbows may be better or worse than what is there.
func randomSwap(rng *rand.Rand, n *network.Network, run int) Alternative {
	a := Alternative{Label: "swap", Cost: price.Money(10 + rng.IntN(200))}
	which := 1 + rng.IntN(3)
	if a.bent = which&1 > 0; a.bent {
		a.Changes = append(a.Changes, network.SwapElbows{Run: run, Elbow: loss.Smooth, ElbowRD: 0.5 + 2*rng.Float64()})
	}
	if a.rejoined = which&2 > 0; a.rejoined {
		a.Changes = append(a.Changes, network.Rejoin{Run: run})
	}
	a.Pieces = n.With(a.Changes...).Spec().Runs[run].Pieces
	return a
}

// randomJoints gives joints prices of about a third of the whole, and leaves
// some combinations unsold.
func (p *Problem) randomJoints(rng *rand.Rand) {
	f := &formulator{n: p.Base, p: p}
	for _, nj := range p.Base.Joints() {
		j := joint{Joint: nj, main: f.choiceOf(nj.Main), branch: f.choiceOf(nj.Branch), common: f.choiceOf(nj.Common)}
		j.nm, j.nb, j.nc = f.count(j.main), f.count(j.branch), f.count(j.common)
		j.cost = make([]price.Money, j.nm*j.nb*j.nc)
		for k := 1; k < len(j.cost); k++ {
			j.cost[k] = price.Money(100 + rng.IntN(600))
			if rng.IntN(12) == 0 {
				j.cost[k] = unsold
			}
		}
		if len(j.cost) > 1 {
			p.joints = append(p.joints, j)
		}
	}
}

// reachable draws a margin near what some random plan reaches, so that the
// requirements lie within a few per cent of the possible.
func (p *Problem) reachable(t testing.TB, rng *rand.Rand) units.Ratio {
	j, err := newJudge(p, &Stats{})
	if err != nil {
		t.Fatal(err)
	}
	best := 0.0
	for range 60 {
		pick := make([]int, len(p.Choices))
		for i := range pick {
			pick[i] = rng.IntN(len(p.Choices[i].Alternatives))
		}
		least := 9.0
		for s := range j.openings {
			most := 0.0
			for o := range j.openings[s] {
				if p.offered(&j.openings[s][o], pick) {
					sc := j.scores(s, o, pick)
					most = max(most, min(sc.Flow, sc.Dust*1.2))
				}
			}
			least = min(least, most)
		}
		best = max(best, least)
	}
	return units.Ratio(max(0.2, best)*(0.9+0.11*rng.Float64()) - 1)
}

// brute judges every plan and returns the least weight, never if none meets
// the rules.
func brute(p *Problem, j *judge) (weight, []int) {
	best, arg := never, []int(nil)
	eachPlan(p, func(pick []int) {
		if cost, changes, sold := p.Cost(pick); sold {
			if w := weigh(cost, changes); w < best && j.meets(pick) {
				best, arg = w, append([]int(nil), pick...)
			}
		}
	})
	return best, arg
}

// proved runs a search, bare without a guess first, and holds it against the
// least weight that enumeration finds: the same, proved, or nil where both say
// that no plan meets the rules.
func proved(t *testing.T, seed int, x *search, bare bool, want weight) *Result {
	t.Helper()
	x.bare = bare
	r, err := x.run()
	if err != nil {
		t.Fatal(err)
	}
	if want >= never {
		if r.Status != Infeasible {
			t.Fatalf("seed %d, bare %v: %v, but no plan meets the rules", seed, bare, r.Status)
		}
		return nil
	}
	if got := weigh(r.Best.Total(), r.Best.Changed); r.Status != Optimal || got != want || r.Bound != r.Best.Total() {
		t.Fatalf("seed %d, bare %v: %v at %d + %d with %d changes, brute force %d with %d", seed, bare, r.Status, r.Best.Cost, r.Best.Energy,
			r.Best.Changed, want.money(), want%perCent)
	}
	return r
}

// TestSearchEqualsBruteForce: the search finds the least weight that
// enumeration with the judge finds, says "infeasible" just when enumeration
// finds nothing, and its root bound never exceeds the optimum.
func TestSearchEqualsBruteForce(t *testing.T) {
	problems := 240
	if testing.Short() {
		problems = 40
	}
	met, none, companions, swaps, jointShare := 0, 0, 0, 0, 0.0
	for seed := range problems {
		p := generate(t, rand.New(rand.NewPCG(uint64(seed), 5)))
		x, err := newSearch(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		want, arg := brute(p, x.judge)
		// A judge of its own, so that nothing is remembered from above.
		r, err := Solve(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		// Without a guess the bounds alone must let the optimum through.
		bare, err := newSearch(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		bare.bare = true
		alone, err := bare.run()
		if err != nil {
			t.Fatal(err)
		}
		if alone.Status != r.Status || r.Status == Optimal && weigh(alone.Best.Cost, alone.Best.Changed) != want {
			t.Fatalf("seed %d: %v without a guess, %v with one; brute force %d", seed, alone.Status, r.Status, want.money())
		}
		if want >= never {
			none++
			if r.Status != Infeasible {
				t.Fatalf("seed %d: status %v, but no plan meets the rules", seed, r.Status)
			}
			continue
		}
		met++
		if r.Status != Optimal {
			t.Fatalf("seed %d: status %v, want optimal (%d at %v)", seed, r.Status, want.money(), arg)
		}
		if got := weigh(r.Best.Cost, r.Best.Changed); got != want {
			t.Fatalf("seed %d: search finds %d with %d changes, brute force %d (%v)", seed, r.Best.Cost, r.Best.Changed, want.money(), arg)
		}
		if x.probe(); x.costs.bound(x.dom) > want {
			t.Fatalf("seed %d: root bound %d above the optimum %d", seed, x.costs.bound(x.dom), want)
		}
		own := price.Money(0)
		for i, a := range r.Best.Pick {
			alt := &p.Choices[i].Alternatives[a]
			own += alt.Cost
			if alt.bent || alt.rejoined {
				swaps++
			}
		}
		if r.Best.Cost > 0 {
			jointShare += 1 - float64(own)/float64(r.Best.Cost)
		}
		for _, s := range r.States {
			if len(s.Companions) > 0 {
				companions++
				break
			}
		}
	}
	t.Logf("%d met, %d cannot be met, %d need companions, %d swaps, joints are %.0f %% of the cost", met, none, companions, swaps, 100*jointShare/float64(met))
	if met < problems/4 || none < problems/20 || companions < problems/20 || swaps < problems/40 {
		t.Errorf("the generator has become one-sided: %d met, %d not, %d with companions, %d swaps", met, none, companions, swaps)
	}
}
