package optimize

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"wyewright/network"
	"wyewright/network/fan"
	"wyewright/network/units"
	"wyewright/optimize/price"
)

// powered is a generated problem with a motor of some kind and an energy that
// weighs about as much as the ducts.
func powered(t testing.TB, seed int) (*Problem, *Energy) {
	t.Helper()
	rng := rand.New(rand.NewPCG(uint64(seed), 5))
	p := generate(t, rng)
	spec := *p.Base.Spec()
	spec.Collectors = append([]network.Collector(nil), spec.Collectors...)
	c := &spec.Collectors[0]
	_, free := c.Curve.Range()
	switch rng.IntN(4) {
	case 0:
		c.Motor = nil
	case 1:
		c.Motor = &fan.Motor{Rating: 1e6, Efficiency: 0.55}
	default: // what a radial fan draws rises with the flow; past some points an estimate steps in
		c.Motor = &fan.Motor{Rating: 1e6}
		reach := 0.4 + rng.Float64()
		for k := range 5 {
			x := float64(k) / 4
			c.Motor.Points = append(c.Motor.Points, fan.Point{Flow: units.Flow(x * free * reach), Power: units.Power(500 + 1500*x + 300*rng.Float64())})
		}
	}
	base, err := network.New(spec)
	if err != nil {
		t.Fatal(err)
	}
	p.Base = base
	for i := range p.Choices {
		p.settle(&p.Choices[i])
	}
	if seed%2 == 1 { // round prices, so that plans of one cost differ in power
		for i := range p.Choices {
			for a := range p.Choices[i].Alternatives {
				p.Choices[i].Alternatives[a].Cost -= p.Choices[i].Alternatives[a].Cost % 300
			}
		}
		for i := range p.joints {
			for k, c := range p.joints[i].cost {
				if c != unsold {
					p.joints[i].cost[k] -= c % 300
				}
			}
		}
	}
	e := &Energy{Price: math.Exp(6*rng.Float64() - 2), Years: 1 + 9*rng.Float64(), Hours: 300, Interest: 0.05 * float64(rng.IntN(2))}
	if rng.IntN(2) == 0 {
		for range p.States {
			e.Share = append(e.Share, float64(1+rng.IntN(4)))
		}
	}
	return p, e
}

// account is what enumeration knows of a plan: worked out from full solutions of
// the plan's own network, not by the way that the search goes.
func account(t testing.TB, p *Problem, j *judge, e *Energy, pick []int) (mean float64, money price.Money) {
	t.Helper()
	solver := network.NewSolver(p.Network(pick), nil)
	sum, cost := 0.0, 0.0
	for s := range p.States {
		share := 1.0
		if e.Share != nil {
			share = e.Share[s]
		}
		o, _ := j.best(s, pick)
		op := &j.openings[s][o]
		sol, _, err := solver.Check(context.Background(), op.c, p.limits(s))
		if err != nil {
			t.Fatal(err)
		}
		col := &p.Base.Spec().Collectors[sol.Collector.Collector]
		power, ok := units.Power(0), false
		if col.Motor != nil {
			power, ok = col.Motor.Load(sol.Collector.Flow, sol.Collector.Curve)
		}
		if !ok {
			power = units.Power(max(0, float64(sol.Collector.Flow)*float64(sol.Collector.Curve)) / 0.5)
		}
		w := math.Floor(float64(power)*100+0.500001) / 100
		sum += share
		mean += share * w
		cost += share * w / 1000 * e.Hours / 0.85 * e.Price
	}
	worth := e.Years
	if e.Interest > 0 {
		worth = (1 - math.Pow(1+e.Interest, -e.Years)) / e.Interest
	}
	return math.Floor(mean/sum*100+0.500001) / 100, price.Money(math.Floor(cost/sum*worth + 0.500001))
}

// TestEnergyEqualsBruteForce: the search finds the least life-cycle cost that
// enumeration with full solutions finds, with a guess and without; its root
// bound does not exceed it.
func TestEnergyEqualsBruteForce(t *testing.T) {
	problems := 60
	if testing.Short() {
		problems = 24
	}
	met, none, other, saved, companions, leaky, states := 0, 0, 0, 0, 0, 0, 0
	for seed := range problems {
		p, e := powered(t, seed)
		x, err := newSearch(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		want := never
		eachPlan(p, func(pick []int) {
			if cost, changes, sold := p.Cost(pick); sold && weigh(cost, changes) < want && x.judge.meets(pick) {
				_, money := account(t, p, x.judge, e, pick)
				want = min(want, weigh(cost+money, changes))
			}
		})
		plain, err := Solve(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, bare := range []bool{false, true} {
			y, err := newCharged(context.Background(), p, &Settings{Energy: e})
			if err != nil {
				t.Fatal(err)
			}
			r := proved(t, seed, y, bare, want)
			if r == nil {
				continue
			}
			mean, money := account(t, p, x.judge, e, r.Best.Pick)
			if r.Energy == nil || r.Energy.Money != money || r.Best.Energy != money || math.Abs(float64(r.Energy.Mean)-mean) > 1e-9 {
				t.Fatalf("seed %d: the account is %+v, by hand %g W and %d", seed, r.Energy, mean, money)
			}
			use, err := e.Use(p, plain.Best)
			if err != nil {
				t.Fatal(err)
			}
			if plain.Best.Cost+use.Money < r.Best.Total() {
				t.Fatalf("seed %d: the cheapest purchase costs %d with its energy, the optimum %d", seed, plain.Best.Cost+use.Money, r.Best.Total())
			}
			if bare && slices.ContainsFunc(r.States, func(s StateResult) bool { return len(s.Companions) > 0 }) {
				companions++
			}
			if bare && plain.Best.Cost < r.Best.Cost {
				other++
				if use.Mean > r.Energy.Mean {
					saved++
				}
			}
		}
		if want >= never {
			none++
			continue
		}
		met++
		if g := p.Base.Spec().Tools[0].Ports[0].Gate; g != nil && g.Leak > 0 {
			leaky++
		}
		if len(p.States) > 2 {
			states++
		}
		root, err := newCharged(context.Background(), p, &Settings{Energy: e})
		if err != nil {
			t.Fatal(err)
		}
		if root.probe(); plus(root.costs.bound(root.dom), root.due()) > want {
			t.Fatalf("seed %d: root bound above the optimum", seed)
		}
	}
	t.Logf("%d met (%d with leaking gates, %d with companions, %d with three states or more), %d not; %d spend more on ducts, %d of them draw less",
		met, leaky, companions, states, none, other, saved)
	if min(leaky, companions, states) < problems/20 || met < problems/4 || none < problems/20 || other < problems/20 || saved != other {
		t.Errorf("the generator is one-sided: %d met, %d not, %d spend more on ducts, %d of them draw less", met, none, other, saved)
	}
}

// TestFrontPowerEqualsBruteForce: every plan that no other beats in cost and fan
// power, and no other.
func TestFrontPowerEqualsBruteForce(t *testing.T) {
	problems := 40
	if testing.Short() {
		problems = 16
	}
	type pair struct {
		cost price.Money
		mean float64
	}
	points, fronts := 0, 0
	for seed := range problems {
		p, e := powered(t, seed)
		x, err := newSearch(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		var all, want []pair
		eachPlan(p, func(pick []int) {
			if cost, _, sold := p.Cost(pick); sold && x.judge.meets(pick) {
				mean, _ := account(t, p, x.judge, e, pick)
				all = append(all, pair{cost, mean})
			}
		})
		for last := (pair{-1, math.Inf(1)}); ; {
			next := pair{math.MaxInt64, 0}
			for _, a := range all {
				if a.mean < last.mean-1e-6 && (a.cost < next.cost || a.cost == next.cost && a.mean < next.mean) {
					next = a
				}
			}
			if next.cost == math.MaxInt64 {
				break
			}
			want, last = append(want, next), next
		}
		told := 0
		got, err := FrontPower(context.Background(), p, &Settings{Energy: e}, nil, 0, 0, func(PowerPoint) { told++ })
		if err != nil {
			t.Fatal(err)
		}
		if got.Ends != Infeasible || len(got.Points) != len(want) || told != len(want) {
			t.Fatalf("seed %d: %d points of %d, %d told, ends %v", seed, len(got.Points), len(want), told, got.Ends)
		}
		for k, f := range got.Points {
			if f.Status != Optimal || f.Plan.Cost != want[k].cost || math.Abs(float64(f.Power)-want[k].mean) > 1e-9 {
				t.Fatalf("seed %d, point %d: %v, %d at %g W, enumeration %d at %g W", seed, k, f.Status, f.Plan.Cost, f.Power, want[k].cost, want[k].mean)
			}
		}
		if points += len(want); len(want) > 1 {
			fronts++
		}
	}
	t.Logf("%d points on %d fronts of more than one", points, fronts)
	if fronts < problems/5 {
		t.Errorf("the generator is one-sided: %d fronts of more than one point", fronts)
	}
}

// TestNoHoursNoEnergy: without hours, years or a price the plan is that of the
// purchase alone.
func TestNoHoursNoEnergy(t *testing.T) {
	for from := range 6 {
		p, want := feasible(t, 7*from)
		for _, e := range []*Energy{{Price: 32, Years: 10}, {Price: 32, Hours: 400}, {Years: 10, Hours: 400}} {
			r, err := Solve(context.Background(), p, &Settings{Energy: e})
			if err != nil {
				t.Fatal(err)
			}
			if r.Status != Optimal || weigh(r.Best.Total(), r.Best.Changed) != weigh(want.Best.Cost, want.Best.Changed) || r.Energy.Money != 0 {
				t.Errorf("from %d: %v at %d with %d changes and energy %d; without energy %d with %d", from, r.Status, r.Best.Cost, r.Best.Changed,
					r.Energy.Money, want.Best.Cost, want.Best.Changed)
			}
			for i, a := range r.Best.Pick {
				if a != want.Best.Pick[i] {
					t.Errorf("from %d: another plan", from)
					break
				}
			}
		}
	}
}

// TestEnergyStopsAreHonest: a search that is stopped claims no proof, and its
// bound is below the least life-cycle cost.
func TestEnergyStopsAreHonest(t *testing.T) {
	stopped := 0
	for seed := range 30 {
		p, e := powered(t, seed)
		want, err := Solve(context.Background(), p, &Settings{Energy: e})
		if err != nil {
			t.Fatal(err)
		}
		if want.Status != Optimal {
			continue
		}
		for nodes := 1; nodes < 30; nodes += 7 {
			x, err := newCharged(context.Background(), p, &Settings{Energy: e, MaxNodes: nodes})
			if err != nil {
				t.Fatal(err)
			}
			x.bare = nodes%2 == 0 // what is found first is then seldom the best
			r, err := x.run()
			if err != nil {
				t.Fatal(err)
			}
			if r.Bound > want.Best.Total() || r.Status == Infeasible || r.Status == Optimal && r.Best.Total() != want.Best.Total() {
				t.Fatalf("seed %d, %d nodes: %v with bound %d, the optimum is %d", seed, nodes, r.Status, r.Bound, want.Best.Total())
			}
			if r.Stats.Stopped {
				stopped++
			}
		}
	}
	if stopped == 0 {
		t.Error("no search was stopped: the test proves nothing")
	}
}

// TestWorth: hand-worked; 10 years at 5 % are 7.7217 (published in every table
// of uniform-series factors).
func TestWorth(t *testing.T) {
	for _, v := range []struct{ years, interest, want float64 }{{10, 0, 10}, {10, 0.05, 7.7217}, {1, 0.25, 0.8}, {0, 0.05, 0}} {
		if got := (&Energy{Years: v.years, Interest: v.interest}).Worth(); math.Abs(got-v.want) > 5e-5 {
			t.Errorf("%g years at %g: %g, want %g", v.years, v.interest, got, v.want)
		}
	}
}

// TestEnergyIsChecked: nonsense is refused, and so is a search that does not
// reckon with energy.
func TestEnergyIsChecked(t *testing.T) {
	p, _ := powered(t, 1)
	for _, e := range []*Energy{{Price: -1}, {Price: math.NaN()}, {Years: -1}, {Hours: 9000}, {Interest: 2}, {Drive: 1.2}, {Share: []float64{1}},
		{Share: make([]float64, len(p.States))}} {
		if _, err := Solve(context.Background(), p, &Settings{Energy: e}); !errors.Is(err, ErrEnergy) {
			t.Errorf("%+v: %v", e, err)
		}
	}
	e := &Energy{Price: 32, Years: 10, Hours: 400}
	if _, err := Front(context.Background(), p, &Settings{Energy: e}, nil, 3, nil); !errors.Is(err, ErrEnergy) {
		t.Errorf("Front: %v", err)
	}
	if _, err := Budget(context.Background(), p, &Settings{Energy: e}, 100); !errors.Is(err, ErrEnergy) {
		t.Errorf("Budget: %v", err)
	}
	if _, err := Solve(context.Background(), p, &Settings{Energy: e, Doubt: &Doubt{Problems: []*Problem{p}, Share: 1}}); !errors.Is(err, ErrEnergy) {
		t.Errorf("Doubt: %v", err)
	}
	spec := *p.Base.Spec()
	spec.Collectors = append([]network.Collector(nil), spec.Collectors...)
	spec.Collectors[0].Curve, spec.Collectors[0].Motor = fan.Fixed{Flow: 0.5}, nil
	n, err := network.New(spec)
	if err != nil {
		t.Fatal(err)
	}
	p.Base = n
	if _, err := Solve(context.Background(), p, &Settings{Energy: e}); !errors.Is(err, ErrEnergy) {
		t.Errorf("a fixed flow: %v", err)
	}
}

// TestDearEnergy: the dearer the kWh, the less the plan draws and the more it
// costs. With a motor whose power rises with the flow the plan that draws less
// lets less air through; where power is flow times pressure and the fan runs past
// its best point, it is the one with the wider ducts.
func TestDearEnergy(t *testing.T) {
	less, wider, narrower := 0, 0, 0
	for seed := range 40 {
		p, e := powered(t, seed)
		e.Share, e.Interest = nil, 0
		var last *Result
		for _, kWh := range []float64{0, 3, 30, 300} {
			e.Price = kWh
			r, err := Solve(context.Background(), p, &Settings{Energy: e})
			if err != nil {
				t.Fatal(err)
			}
			if r.Status != Optimal {
				break
			}
			if last != nil {
				if r.Best.Cost < last.Best.Cost || r.Energy.Mean > last.Energy.Mean+0.5 {
					t.Errorf("seed %d: at %g a kWh %d and %g W, before %d and %g W", seed, kWh, r.Best.Cost, r.Energy.Mean, last.Best.Cost, last.Energy.Mean)
				}
				if r.Energy.Mean < last.Energy.Mean-1 {
					less++
					switch d := girth(p, r.Best.Pick) - girth(p, last.Best.Pick); {
					case d > 0:
						wider++
					case d < 0:
						narrower++
					}
				}
			}
			last = r
		}
	}
	t.Logf("%d times less power, %d with wider ducts, %d with narrower", less, wider, narrower)
	if less < 5 || wider == 0 || narrower == 0 {
		t.Errorf("the generator is one-sided: %d less, %d wider, %d narrower", less, wider, narrower)
	}
}

// girth is the sum of the diameters of a plan's runs.
func girth(p *Problem, pick []int) float64 {
	sum := 0.0
	for i := range p.Choices {
		if pieces := p.Choices[i].Alternatives[pick[i]].Pieces; len(pieces) > 0 {
			sum += float64(pieces[len(pieces)-1].Diameter)
		}
	}
	return sum
}
