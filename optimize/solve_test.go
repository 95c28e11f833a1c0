package optimize

import (
	"context"
	"math/rand/v2"
	"testing"
	"time"

	"wyewright/network"
)

// feasible returns a generated problem that has a plan, and its optimum.
func feasible(t *testing.T, from int) (*Problem, *Result) {
	t.Helper()
	for seed := from; ; seed++ {
		p := generate(t, rand.New(rand.NewPCG(uint64(seed), 5)))
		r, err := Solve(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		if r.Status == Optimal && r.Best.Changed > 1 {
			return p, r
		}
	}
}

// TestStopsAreHonest: a search that is stopped never claims a proof, and its
// bound is below the optimum.
func TestStopsAreHonest(t *testing.T) {
	stopped := 0
	for from := 0; from < 200; from += 10 {
		p, want := feasible(t, from)
		for nodes := 1; nodes < 40; nodes += 6 {
			r, err := Solve(context.Background(), p, &Settings{MaxNodes: nodes})
			if err != nil {
				t.Fatal(err)
			}
			if r.Bound > want.Best.Cost {
				t.Fatalf("seed %d, %d nodes: bound %d above the optimum %d", from, nodes, r.Bound, want.Best.Cost)
			}
			if r.Status == Optimal && r.Best.Cost != want.Best.Cost {
				t.Fatalf("seed %d, %d nodes: claims %d optimal, it is %d", from, nodes, r.Best.Cost, want.Best.Cost)
			}
			if r.Status == Infeasible {
				t.Fatalf("seed %d, %d nodes: claims infeasible", from, nodes)
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

func TestInterruptAndTimeLimit(t *testing.T) {
	p, want := feasible(t, 0)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	r, err := Solve(ctx, p, nil)
	if err != nil {
		t.Fatal(err)
	}
	if !r.Stats.Stopped || r.Best == nil || r.Status == Infeasible {
		t.Errorf("interrupted search: %v, stopped %v", r.Status, r.Stats.Stopped)
	}
	if r.Status == Optimal && r.Best.Cost != want.Best.Cost {
		t.Error("interrupted search claims a proof")
	}
	now := time.Unix(0, 0)
	clock := func() time.Time { now = now.Add(time.Second); return now }
	if r, err = Solve(context.Background(), p, &Settings{TimeLimit: time.Second, Clock: clock}); err != nil || !r.Stats.Stopped {
		t.Errorf("time limit: stopped %v, %v", r.Stats.Stopped, err)
	}
}

// TestNothingToDo: a shop that meets everything gets no change at no cost.
func TestNothingToDo(t *testing.T) {
	p, _ := feasible(t, 3)
	p.Limits = network.Limits{Margin: -0.99, Transport: 0.1}
	r, err := Solve(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	if r.Status != Optimal || r.Best.Cost != 0 || r.Best.Changed != 0 {
		t.Errorf("status %v, cost %d, %d changes", r.Status, r.Best.Cost, r.Best.Changed)
	}
}

// TestInfeasibleNamesTheMiss: what cannot be met is named, and the bound on
// what can be reached is not below what the closest plan reaches.
func TestInfeasibleNamesTheMiss(t *testing.T) {
	p, _ := feasible(t, 7)
	p.Limits.Margin = 9
	r, err := Solve(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	if r.Status != Infeasible || r.Best == nil || r.Short == nil || r.Short.Tool == "" && r.Short.Run == "" {
		t.Fatalf("%v %+v", r.Status, r.Short)
	}
	if r.Short.Ratio >= 1 {
		t.Errorf("the miss has a ratio of %g", r.Short.Ratio)
	}
	flow, dust := 9.0, 9.0
	for _, s := range r.States {
		flow, dust = min(flow, s.Scores.Flow), min(dust, s.Scores.Dust)
	}
	if dust >= 1 && r.Short.Limit < flow-1e-3 {
		t.Errorf("limit %g below what a plan reaches, %g", r.Short.Limit, flow)
	}
}

// TestInfeasibleByCeilingNamesIt: where the highest velocity alone rules every
// plan out, the miss is that rule's and names a run.
func TestInfeasibleByCeilingNamesIt(t *testing.T) {
	p, _ := feasible(t, 7)
	p.Limits.Margin, p.Limits.Transport, p.Limits.Ceiling = 1e-3, 0.01, 2
	r, err := Solve(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	if r.Status != Infeasible || r.Best == nil || r.Short == nil || r.Short.Rule != CeilingRule || r.Short.Run == "" || r.Short.Ratio >= 1 {
		t.Fatalf("%v %+v", r.Status, r.Short)
	}
}

// TestFrontIsAFront: more air costs more, every point reaches its target, and
// no point beats the optimum at its own flow.
func TestFrontIsAFront(t *testing.T) {
	p, r := feasible(t, 11)
	front, err := Front(context.Background(), p, nil, r.Best, 9, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range front {
		if f.Flow < f.Target-1e-6 {
			t.Errorf("target %g, reached %g", f.Target, f.Flow)
		}
		for _, g := range front {
			if g.Flow > f.Flow+1e-6 && g.Plan.Cost < f.Plan.Cost {
				t.Errorf("%g for %d is beaten by %g for %d", f.Flow, f.Plan.Cost, g.Flow, g.Plan.Cost)
			}
		}
		if f.Target > 1 && f.Plan.Cost < r.Best.Cost {
			t.Errorf("%g of the flow costs %d, all of it %d", f.Target, f.Plan.Cost, r.Best.Cost)
		}
	}
}

// TestSameAnswerTwice: the search is reproducible.
func TestSameAnswerTwice(t *testing.T) {
	p, r := feasible(t, 15)
	again, err := Solve(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	if again.Stats != r.Stats || again.Best.Cost != r.Best.Cost {
		t.Errorf("%+v and %+v", again.Stats, r.Stats)
	}
	for i := range r.Best.Pick {
		if r.Best.Pick[i] != again.Best.Pick[i] {
			t.Errorf("choice %d differs", i)
		}
	}
}

// TestMemoryDoesNotChangeVerdicts: what the judge remembers is what a fresh
// solve says.
func TestMemoryDoesNotChangeVerdicts(t *testing.T) {
	for seed := range 40 {
		rng := rand.New(rand.NewPCG(uint64(seed), 5))
		p := generate(t, rng)
		j, err := newJudge(p, &Stats{})
		if err != nil {
			t.Fatal(err)
		}
		for range 40 {
			pick := make([]int, len(p.Choices))
			for i := range pick {
				pick[i] = rng.IntN(len(p.Choices[i].Alternatives))
			}
			solver := network.NewSolver(p.Network(pick), nil)
			for s := range j.openings {
				for o := range j.openings[s] {
					op := &j.openings[s][o]
					if !p.offered(op, pick) {
						continue
					}
					got, want := j.scores(s, o, pick), solver.Score(context.Background(), op.c, &p.Limits)
					if d := got.Flow - want.Flow; d > 1e-7 || d < -1e-7 || j.ok(got) != want.OK() {
						t.Fatalf("seed %d: remembered %+v, fresh %+v", seed, got, want)
					}
				}
			}
		}
	}
}

func BenchmarkSolveGenerated(b *testing.B) {
	p := generate(b, rand.New(rand.NewPCG(3, 5)))
	for b.Loop() {
		if _, err := Solve(context.Background(), p, nil); err != nil {
			b.Fatal(err)
		}
	}
}
