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
