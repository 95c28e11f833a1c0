package network_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"wyewright/network"
	"wyewright/network/air"
	"wyewright/network/fan"
	"wyewright/network/networktest"
	"wyewright/network/units"
)

// TestTwoPathsAgree: on random trees with every kind of part, the elimination
// along the tree and the general solver give the same flows and pressures.
func TestTwoPathsAgree(t *testing.T) {
	tight := &network.Settings{PressureTol: 1e-9, MassTol: 1e-12}
	compared := 0
	for seed := range 400 {
		rng := rand.New(rand.NewPCG(uint64(seed), 3))
		o := networktest.Options{Tools: 1 + rng.IntN(8), Leaks: rng.IntN(3), Placed: rng.IntN(2) == 0, Overrides: rng.IntN(2) == 0,
			Bleeds: rng.IntN(2) == 0, Odd: rng.IntN(2) == 0}
		o.Extra = rng.IntN(o.Tools + 1)
		if rng.IntN(2) == 0 {
			o.GateLeak = 3e-4 * rng.Float64()
		}
		spec := networktest.Random(rng, o)
		tree, err := network.New(spec)
		if err != nil {
			t.Fatal(err)
		}
		web, err := network.NewGeneral(spec)
		if err != nil {
			t.Fatal(err)
		}
		a, b := network.NewSolver(tree, tight), network.NewSolver(web, tight)
		for range 3 {
			st := randomState(rng, &spec)
			x, err := a.Solve(t.Context(), st)
			if err != nil {
				t.Fatalf("seed %d: tree: %v", seed, err)
			}
			backward := false
			for i := range x.Runs {
				backward = backward || x.Runs[i].Flow < -1e-9
			}
			if backward {
				continue // the general solver turns the wye round
			}
			y, err := b.Solve(t.Context(), st)
			if err != nil {
				t.Fatalf("seed %d: general: %v", seed, err)
			}
			compared++
			for i := range x.Runs {
				if d := math.Abs(float64(x.Runs[i].Flow - y.Runs[i].Flow)); d > 1e-9 {
					t.Fatalf("seed %d, state %v: run %s: %.12g by the tree, %.12g in general", seed, st.Running, spec.Runs[i].ID, x.Runs[i].Flow, y.Runs[i].Flow)
				}
			}
			if d := math.Abs(float64(x.Collector.Total - y.Collector.Total)); d > 1e-5 {
				t.Fatalf("seed %d: suction %.9g and %.9g Pa", seed, x.Collector.Total, y.Collector.Total)
			}
		}
	}
	if compared < 1000 {
		t.Errorf("only %d answers compared", compared)
	}
}

// randomState opens some tools and bleeds.
func randomState(rng *rand.Rand, s *network.Spec) network.State {
	st := network.State{Name: "random"}
	for i := range s.Tools {
		if i == 0 || rng.IntN(3) == 0 {
			st.Running = append(st.Running, s.Tools[i].ID)
		}
	}
	for i := range s.Bleeds {
		if rng.IntN(2) == 0 {
			st.Open = append(st.Open, s.Bleeds[i].ID)
		}
	}
	return st
}

// TestCollectorBlownBackward: a strong fan beside a weak one at the same trunk
// pulls air back through it, and that is a miss whatever the tools get.
func TestCollectorBlownBackward(t *testing.T) {
	duct := func(id, from, to string) network.Run {
		return network.Run{ID: id, From: from, To: to, Pieces: []network.Piece{networktest.Piece(networktest.Spiral(), 0.2, 4)}}
	}
	unit := func(id, at string, pressure units.Pressure) network.Collector {
		return network.Collector{ID: id, At: at, Inlet: 0.2, Curve: fan.Quadratic{Shutoff: pressure, FreeAir: 1}, Meaning: network.FanStatic}
	}
	spec := network.Spec{Air: air.Standard(), Points: points("T", "J", "S", "W"), Runs: []network.Run{duct("trunk", "T", "J"), duct("strong", "J", "S"), duct("weak", "J", "W")},
		Tools: []network.Tool{hood("T", "T", 0.12)}, Collectors: []network.Collector{unit("strong fan", "S", 2700), unit("weak fan", "W", 300)}}
	spec.Tools[0].Flow = 0.01
	n, err := network.New(spec)
	if err != nil {
		t.Fatal(err)
	}
	s := network.NewSolver(n, nil)
	for _, st := range []network.State{{Running: []string{"T"}}, {Running: []string{"T"}, Off: []string{"weak fan"}}} {
		c, err := n.Case(st)
		if err != nil {
			t.Fatal(err)
		}
		sol, v, err := s.Check(t.Context(), c, &network.Limits{})
		if err != nil {
			t.Fatal(err)
		}
		blown := len(st.Off) == 0
		if got := len(v.Blown) == 1 && v.Blown[0] == 1; got != blown || v.Meets() == blown || s.Score(t.Context(), c, &network.Limits{}).OK() == blown {
			t.Errorf("off %v: blown %v, meets %v, fans %+v", st.Off, v.Blown, v.Meets(), sol.Collectors)
		}
	}
}
