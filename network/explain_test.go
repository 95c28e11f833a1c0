package network_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"wyewright/network"
	"wyewright/network/fan"
	"wyewright/network/networktest"
	"wyewright/network/units"
)

// TestWayAddsUp: on shops of every kind the steps of the way from a tool to the
// fan add up to what the fan's curve gives at that flow.
func TestWayAddsUp(t *testing.T) {
	ways, wyes, holes := 0, 0, 0
	for seed := range 300 {
		rng := rand.New(rand.NewPCG(uint64(seed), 100))
		spec := networktest.Any(rng)
		n, err := network.New(spec)
		if err != nil {
			t.Fatal(err)
		}
		s := network.NewSolver(n, nil)
		for _, st := range someStates(rng, &spec) {
			sol, err := s.Solve(t.Context(), st)
			if err != nil || len(st.Running) == 0 {
				continue
			}
			tool, _ := n.ToolIndex(st.Running[0])
			w := n.Way(sol, tool, 0)
			if w.Collector < 0 {
				continue // the air comes out of another tool
			}
			sum := 0.0
			into := map[string]int{}
			for _, r := range spec.Runs {
				into[r.To]++
			}
			for _, step := range w.Steps {
				sum += float64(step.Loss)
				// One wye at a point: what the friction and the coefficients
				// leave of the run's loss is what the solver had the wye take.
				if step.Kind == network.WyeLoss && n.IsTree() && into[step.At] < 3 {
					if want := float64(sol.Runs[step.Run].Junction); math.Abs(float64(step.Loss)-want) > 1e-5 {
						t.Fatalf("seed %d: wye at %s takes %v, the solver says %v", seed, step.At, step.Loss, want)
					}
					wyes++
				}
				if step.Loss < 0 && step.Kind != network.WyeLoss && step.Kind != network.EntryLoss && step.Kind != network.FilterLoss {
					t.Errorf("seed %d: a %v of %v", seed, step.Kind, step.Loss)
				}
			}
			if want := float64(sol.Collectors[w.Collector].Curve); math.Abs(sum-want) > 1e-3 {
				t.Fatalf("seed %d, state %v: the steps add up to %.6f Pa, the curve gives %.6f", seed, st.Running, sum, want)
			}
			ways++
			line := n.Profile(sol, w)
			for i := 1; i < len(line); i++ {
				if line[i].Distance < line[i-1].Distance || line[i].Static < line[i].Total-1e-9 {
					t.Fatalf("seed %d: station %+v after %+v", seed, line[i], line[i-1])
				}
			}
			holes += holesShow(t, n, sol, w, line)
			if got, want := line[len(line)-1].Total, sol.Collectors[w.Collector].Total; got != want {
				t.Errorf("seed %d: the profile ends at %v of %v", seed, got, want)
			}
		}
	}
	if ways < 1000 || wyes < 500 || holes < 3000 {
		t.Errorf("only %d ways, %d wyes and %d holes", ways, wyes, holes)
	}
}

// holesShow drills a hole into every piece on a way, at a third of it as the air
// runs: it shows what lies at a third between the profile's two ends.
func holesShow(t *testing.T, n *network.Network, sol *network.Solution, w *network.Way, line []network.Station) int {
	t.Helper()
	k := 0
	for _, run := range w.Runs {
		pieces := slices.Clone(n.Spec().Runs[run].Pieces)
		back := sol.Runs[run].Flow < 0
		whole, before := units.Length(0), units.Length(0)
		for _, p := range pieces {
			whole += p.Length
		}
		if back {
			slices.Reverse(pieces)
		}
		for _, p := range pieces {
			at := before + p.Length/3
			if back {
				at = whole - at
			}
			want := (2*line[k].Static + line[k+1].Static) / 3
			if got := n.SuctionIn(sol, run, at); math.Abs(float64(got-want)) > 1e-3 {
				t.Fatalf("run %d at %v of %v: %v, the profile has %v", run, at, whole, got, want)
			}
			before += p.Length
			k += 2
		}
	}
	return k / 2
}

// TestWorking: a parabola falls from its first point to its free air; a humped
// table peaks at its highest point. Hand-worked.
func TestWorking(t *testing.T) {
	peak, free := network.Working(fan.Quadratic{Shutoff: 1000, FreeAir: 2})
	if peak != 0 || math.Abs(float64(free)-2) > 1e-9 {
		t.Errorf("parabola: peak %v, free air %v", peak, free)
	}
	hump, err := fan.NewTable([]fan.Point{{Flow: 0, Pressure: 800}, {Flow: 1, Pressure: 1000}, {Flow: 2, Pressure: 600}, {Flow: 3, Pressure: 0}})
	if err != nil {
		t.Fatal(err)
	}
	if peak, free = network.Working(hump); math.Abs(float64(peak)-1) > 0.02 || math.Abs(float64(free)-3) > 1e-6 {
		t.Errorf("hump: peak %v, free air %v", peak, free)
	}
}
