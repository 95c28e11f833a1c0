package network_test

import (
	"context"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"wyewright/network"
	"wyewright/network/fan"
	"wyewright/network/networktest"
	"wyewright/network/units"
)

// randomShop makes a shop and a state of it.
func randomShop(t testing.TB, seed uint64) (network.Spec, network.State) {
	t.Helper()
	rng := rand.New(rand.NewPCG(seed, 3))
	s := networktest.Random(rng, networktest.Options{Tools: 1 + rng.IntN(6), Extra: rng.IntN(4), Leaks: rng.IntN(4),
		GateLeak: float64(rng.IntN(2)) * 2e-4, Placed: rng.IntN(2) == 0, Overrides: rng.IntN(2) == 0, Odd: rng.IntN(3) == 0})
	st := network.State{Name: "some"}
	for _, tool := range s.Tools {
		if rng.IntN(2) == 0 {
			st.Running = append(st.Running, tool.ID)
		}
	}
	return s, st
}

func solveSpec(t testing.TB, s network.Spec, st network.State) (*network.Network, *network.Solution) {
	t.Helper()
	n, err := network.New(s)
	if err != nil {
		t.Fatal(err)
	}
	sol, err := network.Solve(context.Background(), n, st)
	if err != nil {
		t.Fatal(err)
	}
	return n, sol
}

// TestMassAndPressureClose recomputes both balances from the solution alone:
// what leaves a point is what enters it, and along every run the drop of
// total pressure is the loss of the run.
func TestMassAndPressureClose(t *testing.T) {
	for seed := range uint64(300) {
		s, st := randomShop(t, seed)
		_, sol := solveSpec(t, s, st)
		at, legs := map[string]int{}, map[string]int{}
		in := make([]float64, len(s.Points))
		for i, p := range s.Points {
			at[p.ID] = i
			in[i] = float64(sol.Points[i].Leak)
		}
		for k, tool := range s.Tools {
			for i, p := range tool.Ports {
				in[at[p.At]] += float64(sol.Tools[k].Ports[i])
			}
		}
		for i, r := range s.Runs {
			in[at[r.To]] += float64(sol.Runs[i].Flow)
			legs[r.To]++
		}
		for i, r := range s.Runs {
			if d := math.Abs(in[at[r.From]] - float64(sol.Runs[i].Flow)); d > 1e-9 {
				t.Fatalf("seed %d: %s: mass off by %g m³/s", seed, r.ID, d)
			}
			if legs[r.To] > 2 {
				continue // several wyes in a row: the run's own loss ends at the first
			}
			drop := float64(sol.Points[at[r.From]].Total - sol.Points[at[r.To]].Total)
			if math.Abs(drop-float64(sol.Runs[i].Loss)) > 1e-5 {
				t.Fatalf("seed %d: %s: pressure off by %g Pa", seed, r.ID, drop-float64(sol.Runs[i].Loss))
			}
		}
		if d := math.Abs(in[at["COL"]] - float64(sol.Collector.Flow)); d > 1e-9 {
			t.Fatalf("seed %d: the collector's flow is off by %g", seed, d)
		}
	}
}

// TestOrderDoesNotMatter: points, tools and leaks may stand in any order, and
// runs too as long as the branches of a point keep theirs.
func TestOrderDoesNotMatter(t *testing.T) {
	for seed := range uint64(60) {
		s, st := randomShop(t, seed)
		_, a := solveSpec(t, s, st)
		r := s
		r.Points = reversed(s.Points)
		r.Tools = reversed(s.Tools)
		r.Leaks = reversed(s.Leaks)
		_, b := solveSpec(t, r, st)
		near(t, "flow", float64(b.Collector.Flow), float64(a.Collector.Flow), 1e-9)
		for k := range s.Tools {
			if x, y := a.Tools[k].Flow, b.Tools[len(s.Tools)-1-k].Flow; math.Abs(float64(x-y)) > 1e-9 {
				t.Fatalf("seed %d: %s: %v and %v", seed, s.Tools[k].ID, x, y)
			}
		}
	}
}

// TestNamesDoNotMatter renames everything.
func TestNamesDoNotMatter(t *testing.T) {
	for seed := range uint64(30) {
		s, st := randomShop(t, seed)
		_, a := solveSpec(t, s, st)
		name := func(x string) string { return "x " + x }
		for i := range s.Points {
			s.Points[i].ID = name(s.Points[i].ID)
		}
		for i := range s.Runs {
			s.Runs[i].From, s.Runs[i].To, s.Runs[i].ID = name(s.Runs[i].From), name(s.Runs[i].To), name(s.Runs[i].ID)
		}
		for i := range s.Tools {
			s.Tools[i].ID = name(s.Tools[i].ID)
			for k := range s.Tools[i].Ports {
				s.Tools[i].Ports[k].At = name(s.Tools[i].Ports[k].At)
			}
		}
		for i := range s.Leaks {
			s.Leaks[i].At = name(s.Leaks[i].At)
		}
		s.Collectors[0].At = name(s.Collectors[0].At)
		for i := range st.Running {
			st.Running[i] = name(st.Running[i])
		}
		_, b := solveSpec(t, s, st)
		if a.Collector.Flow != b.Collector.Flow {
			t.Fatalf("seed %d: %v became %v", seed, a.Collector.Flow, b.Collector.Flow)
		}
	}
}

func reversed[T any](x []T) []T {
	out := make([]T, len(x))
	for i := range x {
		out[len(x)-1-i] = x[i]
	}
	return out
}

// line is a tool, one run, a collector; the run's coefficients are fixed.
func line(diameter float64, port float64, fixed bool) network.Spec {
	curve, err := fan.NewTable([]fan.Point{{Flow: 0, Pressure: 2500}, {Flow: 0.3, Pressure: 2000}, {Flow: 0.6, Pressure: 300}})
	if err != nil {
		panic(err)
	}
	r := network.Run{ID: "run", From: "P", To: "COL", Pieces: []network.Piece{networktest.Piece(networktest.Spiral(), diameter, 6)}}
	if fixed {
		r.K = network.Overrides{Bends: network.Override(0.3), Junction: network.Override(0), Steps: network.Override(0)}
	}
	return network.Spec{Air: state(1.2), Points: points("P", "COL"), Runs: []network.Run{r},
		Tools:      []network.Tool{{ID: "T", Flow: 0.1, Transport: 17.8, Ports: []network.Port{{At: "P", Diameter: units.Length(port), Entry: 1.5}}}},
		Collectors: []network.Collector{{ID: "c", At: "COL", Inlet: units.Length(0.2), Curve: curve, Meaning: network.FanStatic}}}
}

// TestWiderPipeLoneTool: with coefficients fixed, no leak and no step added, a
// wider pipe never lowers the flow of a lone open tool.
func TestWiderPipeLoneTool(t *testing.T) {
	before := 0.0
	for d := 0.08; d < 0.3; d += 0.005 {
		_, sol := solveSpec(t, line(d, 0.1, true), network.State{Running: []string{"T"}})
		if q := float64(sol.Tools[0].Flow); q < before {
			t.Fatalf("%.3f m: flow fell from %g to %g", d, before, q)
		} else {
			before = q
		}
	}
}

// TestWiderPipeCanLowerFlow is the counter-example: the wider pipe needs a
// change of size at the port and at the inlet, and loses more than it gains.
func TestWiderPipeCanLowerFlow(t *testing.T) {
	short := func(d float64) network.Spec {
		s := line(d, 0.2, false)
		s.Runs[0].Pieces[0].Length = 0.3
		return s
	}
	_, same := solveSpec(t, short(0.2), network.State{Running: []string{"T"}})
	_, wide := solveSpec(t, short(0.3), network.State{Running: []string{"T"}})
	if wide.Tools[0].Flow >= same.Tools[0].Flow {
		t.Errorf("the wider pipe gives %v, the narrow one %v", wide.Tools[0].Flow, same.Tools[0].Flow)
	}
}

// TestRunGate: a gate in a run is open while something upstream is, lets its
// leakage in when shut, and nothing at all when it shuts tight, whatever leaks
// behind it.
func TestRunGate(t *testing.T) {
	shop := func(gap units.Area) network.Spec {
		s := line(0.1, 0.1, true)
		s.Tools[0].Ports[0].Gate = &network.Gate{Open: 0.2, Leak: 3e-4}
		s.Runs[0].Gate = &network.Gate{Open: 0.2, Leak: gap}
		s.Leaks = []network.Leak{{ID: "seam", At: "P", Area: 2e-4}}
		return s
	}
	_, tight := solveSpec(t, shop(0), network.State{})
	if tight.Runs[0].Flow != 0 || tight.Collector.Flow != 0 || tight.Leaks[0].Flow != 0 {
		t.Errorf("a tight gate lets %v through", tight.Runs[0].Flow)
	}
	_, gap := solveSpec(t, shop(1e-4), network.State{})
	_, bare := solveSpec(t, shop(1), network.State{})
	if q := gap.Runs[0].Flow; q <= 0 || q >= bare.Runs[0].Flow {
		t.Errorf("a gap of 1 cm² lets %v through, no gate at all %v", q, bare.Runs[0].Flow)
	}
	// Hand-worked: gap 1 cm² and openings 5 cm² in series, both Cd 0.62, at a
	// suction of 2500 Pa: Q = 0.62·√(2·2500/1.2)/√(1/1e-8 + 1/25e-8) = 3.924e-3.
	near(t, "flow through the gap", float64(gap.Runs[0].Flow), 3.924e-3, 5e-3)
	_, open := solveSpec(t, shop(0), network.State{Running: []string{"T"}})
	if open.Runs[0].Flow < 0.1 {
		t.Errorf("the gate is shut while the tool runs: %v", open.Runs[0].Flow)
	}
}

// TestStatuses provokes every way a solve can end.
func TestStatuses(t *testing.T) {
	s, _ := randomShop(t, 4)
	n, err := network.New(s)
	if err != nil {
		t.Fatal(err)
	}
	c, err := n.Case(network.State{Running: []string{"T1"}})
	if err != nil {
		t.Fatal(err)
	}
	solver := network.NewSolver(n, nil)
	if solver.Status() != network.NotSolved {
		t.Error("a new solver has a status")
	}
	if got := solver.Run(context.Background(), c); got != network.Converged {
		t.Error(got)
	}
	if got := network.NewSolver(n, &network.Settings{MaxIterations: 1}).Run(context.Background(), c); got != network.IterationLimit {
		t.Error(got)
	}
	if got := network.NewSolver(n, &network.Settings{PressureTol: 1e-30, MassTol: 1e-30}).Run(context.Background(), c); got != network.Stalled {
		t.Error(got)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if got := network.NewSolver(n, nil).Run(ctx, c); got != network.Interrupted {
		t.Error(got)
	}
	_, err = network.NewSolver(n, &network.Settings{MaxIterations: 1}).Solve(context.Background(), network.State{Name: "x", Running: []string{"T1"}})
	if err == nil || !strings.Contains(err.Error(), "worst at") {
		t.Errorf("error %v does not name the worst run", err)
	}
}

// TestNoAllocations: after the first solve a workspace allocates nothing.
func TestNoAllocations(t *testing.T) {
	s, st := randomShop(t, 9)
	n, err := network.New(s)
	if err != nil {
		t.Fatal(err)
	}
	c, err := n.Case(st)
	if err != nil {
		t.Fatal(err)
	}
	solver := network.NewSolver(n, nil)
	solver.Run(context.Background(), c)
	if a := testing.AllocsPerRun(50, func() { solver.Run(context.Background(), c) }); a > 0 {
		t.Errorf("%g allocations per solve", a)
	}
}

// TestRefusals: what is not a tree toward the collector is refused by name.
func TestRefusals(t *testing.T) {
	ok := line(0.1, 0.1, false)
	for _, c := range []struct {
		name, want string
		spoil      func(*network.Spec)
	}{
		{"island", "does not reach", func(s *network.Spec) {
			s.Points = append(s.Points, points("A", "B")...)
			s.Runs = append(s.Runs, bare("a", "A", "B", 0.1, 1), bare("b", "B", "A", 0.1, 1))
		}},
		{"unconnected tool", "not connected", func(s *network.Spec) {
			s.Points = append(s.Points, points("far")...)
			s.Tools = append(s.Tools, hood("U", "far", 0.1))
		}},
		{"repeated name", "used twice", func(s *network.Spec) { s.Points = append(s.Points, points("P")...) }},
		{"no point", "no point", func(s *network.Spec) { s.Runs[0].To = "nowhere" }},
		{"NaN", "diameter", func(s *network.Spec) {
			s.Runs[0].Pieces = []network.Piece{{Diameter: units.Length(math.NaN()), Length: 1}}
		}},
		{"no length", "no length", func(s *network.Spec) { s.Runs[0].Pieces = []network.Piece{{Diameter: 0.1}} }},
		{"zero flow", "above zero", func(s *network.Spec) { s.Tools = []network.Tool{hood("T", "P", 0.1)}; s.Tools[0].Flow = 0 }},
	} {
		s := ok
		s.Runs = append([]network.Run(nil), ok.Runs...)
		c.spoil(&s)
		if _, err := network.New(s); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v does not speak of %q", c.name, err, c.want)
		}
	}
}
