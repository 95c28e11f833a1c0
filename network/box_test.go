package network_test

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"wyewright/network"
	"wyewright/network/loss"
	"wyewright/network/networktest"
	"wyewright/network/units"
)

// randomBox makes a shop, alternatives for its runs, and the box of them.
func randomBox(t *testing.T, rng *rand.Rand, leak float64) (*network.Network, [][]network.Run, *network.Box) {
	t.Helper()
	s := networktest.Random(rng, networktest.Options{Tools: 1 + rng.IntN(4), Extra: rng.IntN(3), GateLeak: leak,
		Leaks: rng.IntN(3), Placed: rng.IntN(2) == 0, Overrides: true, Bleeds: rng.IntN(2) == 0, Odd: rng.IntN(2) == 0})
	n, err := network.New(s)
	if err != nil {
		t.Fatal(err)
	}
	runs := make([][]network.Run, len(s.Runs))
	for i := range runs {
		built := n.Spec().Runs[i]
		runs[i] = []network.Run{built}
		for range rng.IntN(4) {
			r := built
			if rng.IntN(3) == 0 {
				runs[i] = append(runs[i], swapped(rng, n, i))
				continue
			}
			r.K, r.New = network.Overrides{}, true
			r.Pieces = []network.Piece{networktest.Piece(networktest.Spiral(), networktest.Sizes[rng.IntN(9)], float64(built.Pieces[0].Length))}
			runs[i] = append(runs[i], r)
		}
	}
	return n, runs, network.NewBox(n, runs)
}

// swapped is a run with new elbows, a new joint, or both.
func swapped(rng *rand.Rand, n *network.Network, run int) network.Run {
	return n.With(swaps(run, 1+rng.IntN(3), 0.5+2*rng.Float64())...).Spec().Runs[run]
}

// swaps are the changes of fittings: 1 the elbows, 2 the joint, 3 both.
func swaps(run, which int, rd float64) []network.Change {
	var out []network.Change
	if which&1 > 0 {
		out = append(out, network.SwapElbows{Run: run, Elbow: loss.Smooth, ElbowRD: rd})
	}
	if which&2 > 0 {
		out = append(out, network.Rejoin{Run: run})
	}
	return out
}

// changesTo are the changes that make a run of the one as built.
func changesTo(run int, r *network.Run) []network.Change {
	if r.New {
		return []network.Change{network.ReplaceRun{Run: run, Pieces: r.Pieces}}
	}
	which := 0
	m := r.Pieces[len(r.Pieces)-1].Make
	if m.Elbow == loss.Smooth && m.Family != "hose" || m.ElbowRD != 1.5 {
		which = 1
	}
	if r.Rejoined {
		which |= 2
	}
	return swaps(run, which, m.ElbowRD)
}

// TestBoxEncloses checks that a box never excludes a network that meets the
// limits: whatever the solver finds for a member lies in the enclosure of
// every box around it.
func TestBoxEncloses(t *testing.T) {
	ctx := context.Background()
	rng := rand.New(rand.NewPCG(7, 1))
	met, tight, width := 0, 0, []float64(nil)
	for range 1500 {
		leak := 0.0
		if rng.IntN(2) == 0 {
			leak = 2e-4
		}
		n, runs, box := randomBox(t, rng, leak)
		pick := make([]int, len(runs))
		var changes []network.Change
		for i := range runs {
			if pick[i] = rng.IntN(len(runs[i])); pick[i] > 0 {
				changes = append(changes, changesTo(i, &runs[i][pick[i]])...)
			}
		}
		member := n.With(changes...)
		st := network.State{Name: "s"}
		for _, tool := range n.Spec().Tools {
			if len(st.Running) == 0 || rng.IntN(3) == 0 {
				st.Running = append(st.Running, tool.ID)
			} else if rng.IntN(4) == 0 {
				st.Open = append(st.Open, tool.ID)
			}
		}
		if len(n.Spec().Bleeds) > 0 && rng.IntN(2) == 0 {
			st.Open = append(st.Open, "bleed")
		}
		c, err := n.Case(st)
		if err != nil {
			t.Fatal(err)
		}
		s := network.NewSolver(member, nil)
		// Set the limits at what the member just reaches.
		sol, v, err := s.Check(ctx, c, &network.Limits{})
		if err != nil {
			t.Fatal(err)
		}
		if len(v.Backward) > 0 {
			continue // never meets any limits
		}
		lim := network.Limits{Margin: units.Ratio(v.FlowRatio() - 1)}
		lim.Transport = units.Velocity(17.8 * v.DustRatio())
		full := append([]uint64(nil), box.Domain...)
		for trial := range 4 {
			for i := range box.Domain { // a random box around the member; the last one holds it alone
				box.Domain[i] = full[i]&rng.Uint64() | 1<<pick[i]
				if trial == 3 {
					box.Domain[i] = 1 << pick[i]
				}
			}
			if !box.Possible(c, &lim, 1) {
				t.Fatalf("box excludes a member that meets the limits (trial %d)", trial)
			}
			met++
			lo, hi := box.TotalRange()
			if q := float64(sol.Collector.Flow); q < lo || q > hi {
				t.Fatalf("total flow %g outside %g..%g", q, lo, hi)
			}
			if sc := s.Score(ctx, c, &lim); math.Abs(sc.Total-float64(sol.Collector.Flow)) > 1e-9 {
				t.Fatalf("the scores have %g through the collector, the solution %g", sc.Total, sol.Collector.Flow)
			}
			width = append(width, (hi-lo)/hi)
			for i := range runs {
				lo, hi := box.FlowRange(i)
				q := float64(sol.Runs[i].Flow)
				if q < lo*(1-1e-6)-1e-9 || q > hi*(1+1e-6)+1e-9 {
					t.Fatalf("run %s: flow %g outside %g..%g", n.Spec().Runs[i].ID, q, lo, hi)
				}
			}
		}
		// The member alone with 3 % more asked: the enclosure should often see
		// that it fails; a test that counts so that the bound stays useful.
		lim.Margin = units.Ratio((1+float64(lim.Margin))*1.03 - 1)
		if !box.Possible(c, &lim, 1) {
			tight++
		}
	}
	slices.Sort(width)
	if mid := width[len(width)/2]; mid > 0.35 {
		t.Errorf("the enclosure of the total flow has become useless: half of them are wider than %.0f %%", 100*mid)
	} else {
		t.Logf("half of the total flows lie within %.1f %%", 100*mid)
	}
	t.Logf("%d enclosures, 3 %% more excluded in %d of 1500", met, tight)
	if tight < 1000 {
		t.Errorf("the enclosure has become useless: 3 %% more was excluded in only %d of 1500", tight)
	}
}
