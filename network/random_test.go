package network_test

import (
	"context"
	"flag"
	"math/rand/v2"
	"testing"

	"wyewright/network"
	"wyewright/network/networktest"
)

var networks = flag.Int("networks", 1500, "how many random networks TestRandomNetworks solves")

// TestRandomNetworks solves networks of every kind in many states and demands
// that each converges; the figure for 100,000 stands in DEVELOPERS.md:
//
//	go test ./network -run RandomNetworks -v -networks 100000 -timeout 1h
func TestRandomNetworks(t *testing.T) {
	status := map[network.Status]int{}
	solves, loops, unsteady, runs, steps := 0, 0, 0, 0, 0
	for seed := range *networks {
		rng := rand.New(rand.NewPCG(uint64(seed), 100))
		spec := networktest.Any(rng)
		n, err := network.New(spec)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		runs += len(spec.Runs)
		if !n.IsTree() {
			loops++
		}
		s := network.NewSolver(n, nil)
		for _, st := range someStates(rng, &spec) {
			c, err := n.Case(st)
			if err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
			got := s.Run(context.Background(), c)
			status[got]++
			solves++
			sol := s.Snapshot(c)
			steps += sol.Iterations
			if sol.Unsteady {
				unsteady++
			}
			if got != network.Converged {
				t.Logf("seed %d (tree %v), state %s %v: %v after %d steps, %.3g Pa at %s, %.3g m³/s", seed, n.IsTree(), st.Name, st.Running, got, sol.Iterations, sol.Residual, sol.Worst, sol.Mass)
				continue
			}
			balance(t, seed, &spec, sol)
		}
	}
	t.Logf("%d networks (%d with loops) of %.0f runs on average, %d solves, %.1f steps each: %d converged, %d unsteady",
		*networks, loops, float64(runs)/float64(*networks), solves, float64(steps)/float64(solves), status[network.Converged], unsteady)
	if bad := solves - status[network.Converged]; bad*2000 > solves {
		t.Errorf("%d of %d solves did not converge", bad, solves)
	}
}

// someStates are: everything shut, each of three tools alone, a pair, all.
func someStates(rng *rand.Rand, s *network.Spec) []network.State {
	out := []network.State{{Name: "shut"}, {Name: "all"}, {Name: "pair"}}
	for i := range s.Tools {
		out[1].Running = append(out[1].Running, s.Tools[i].ID)
	}
	for range 3 {
		out = append(out, network.State{Name: "alone", Running: []string{s.Tools[rng.IntN(len(s.Tools))].ID}})
	}
	for range 2 {
		out[2].Running = append(out[2].Running, s.Tools[rng.IntN(len(s.Tools))].ID)
	}
	out[2].Open = append(out[2].Open, s.Tools[rng.IntN(len(s.Tools))].ID)
	for i := range s.Bleeds {
		out[2].Open = append(out[2].Open, s.Bleeds[i].ID)
	}
	for i := range out {
		if rng.IntN(2) == 0 {
			out[i].Filter = network.Clean
		}
	}
	return out
}

// balance checks, from the answer alone, that no air is lost: what enters by
// tools, bleeds and leaks leaves by the fans.
func balance(t *testing.T, seed int, s *network.Spec, sol *network.Solution) {
	t.Helper()
	sum := float64(sol.Collector.Leakage)
	for i := range sol.Tools {
		sum += float64(sol.Tools[i].Flow)
	}
	for _, q := range sol.Bleeds {
		sum += float64(q)
	}
	for i := range sol.Collectors {
		sum -= float64(sol.Collectors[i].Flow)
	}
	if sum > 1e-8 || sum < -1e-8 {
		t.Fatalf("seed %d: %g m³/s are lost", seed, sum)
	}
}
