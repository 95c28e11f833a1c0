package network_test

import (
	"context"
	"math/rand/v2"
	"testing"

	"wyewright/network"
	"wyewright/network/networktest"
)

// TestNoAllocation: after the first solve neither the tree's way nor the general
// one allocates.
func TestNoAllocation(t *testing.T) {
	for seed := range 20 {
		rng := rand.New(rand.NewPCG(uint64(seed), 8))
		spec := networktest.Random(rng, networktest.Options{Tools: 6, Extra: 3, Leaks: 2, GateLeak: 1e-4, Placed: true})
		if seed%2 == 1 {
			networktest.Loop(rng, &spec, 2)
		}
		n, err := network.New(spec)
		if err != nil {
			t.Fatal(err)
		}
		c, err := n.Case(network.State{Running: []string{"T1", "T2"}})
		if err != nil {
			t.Fatal(err)
		}
		s := network.NewSolver(n, nil)
		for _, solve := range []func(context.Context, *network.Case) network.Status{s.Run, s.Again} {
			if solve(t.Context(), c) != network.Converged {
				t.Fatalf("seed %d: %v", seed, s.Status())
			}
			if got := testing.AllocsPerRun(20, func() { solve(t.Context(), c) }); got > 0 {
				t.Errorf("seed %d (tree %v): %g allocations a solve", seed, n.IsTree(), got)
			}
		}
	}
}

// TestAgainSeesEverySwitch: going on from the last answer gives what a fresh
// solve gives, whatever the next case opens, shuts or switches off.
func TestAgainSeesEverySwitch(t *testing.T) {
	for seed := range 40 {
		rng := rand.New(rand.NewPCG(uint64(seed), 12))
		spec := networktest.Random(rng, networktest.Options{Tools: 4, Extra: 2, GateLeak: 1e-4, Leaks: 1, Placed: true})
		if seed%2 == 1 {
			networktest.Loop(rng, &spec, 2)
		}
		gated := ""
		for i := range spec.Runs {
			if rng.IntN(2) == 0 {
				spec.Runs[i].Gate = &network.Gate{Open: 0.2, Leak: 2e-4}
				gated = spec.Runs[i].ID
			}
		}
		n, err := network.New(spec)
		if err != nil {
			t.Fatal(err)
		}
		on, fresh := network.NewSolver(n, nil), network.NewSolver(n, nil)
		for range 12 {
			st := network.State{Running: []string{spec.Tools[rng.IntN(4)].ID}}
			switch rng.IntN(4) {
			case 0:
				st.Off = []string{spec.Collectors[len(spec.Collectors)-1].ID}
			case 1, 2:
				if gated != "" {
					st.ShutGates = []string{gated}
				}
			}
			st.Filter = network.FilterState(rng.IntN(2))
			c, err := n.Case(st)
			if err != nil {
				t.Fatal(err)
			}
			if a, b := on.Again(t.Context(), c), fresh.Run(t.Context(), c); a != b || a != network.Converged {
				t.Fatalf("seed %d: %v and %v", seed, a, b)
			}
			for r := range spec.Runs {
				// Without any fan a millionth of a pascal still moves some air.
				if d := on.RunFlow(r) - fresh.RunFlow(r); d > 1e-4 || d < -1e-4 {
					t.Fatalf("seed %d, %+v: run %s has %g, a fresh solve %g", seed, st, spec.Runs[r].ID, on.RunFlow(r), fresh.RunFlow(r))
				}
			}
		}
	}
}
