package core

import (
	"context"
	"math"
	"slices"
	"testing"
)

// TestWide: small problems (leaks of 4 %, joints, several states), solved with
// a few runs free at a time, have the answers of enumeration (computed by
// brute); ended early they have a valid bound and plan, the same each time.
func TestWide(t *testing.T) {
	early, moved := 0, 0
	for k := range 120 {
		p := small(k)
		want := brute(p)
		r, err := Solve(context.Background(), p, &Settings{Neighbourhood: 1 + k%3})
		if err != nil {
			t.Fatal(err)
		}
		if want == math.MaxInt64 {
			if r.Status != Infeasible {
				t.Errorf("problem %d: %v, but no plan meets it", k, r.Status)
			}
		} else if r.Status != Optimal || r.Cost != want || !NewEvaluator(p).Meets(r.Pick) {
			t.Errorf("problem %d: %v %d, want %d", k, r.Status, r.Cost, want)
		}
		if bound := rootBound(p); bound > float64(want)+0.01 {
			t.Errorf("problem %d: the root's bound is %.1f, the optimum %d", k, bound, want)
		}
		for _, nodes := range []int{1, 3, 10, 40} {
			set := &Settings{Neighbourhood: 1 + k%3, MaxNodes: nodes}
			r, _ := Solve(context.Background(), p, set)
			again, _ := Solve(context.Background(), p, set)
			if r.Status != again.Status || r.Cost != again.Cost || r.Bound != again.Bound || r.Nodes != again.Nodes || !slices.Equal(r.Pick, again.Pick) {
				t.Errorf("problem %d: two answers", k)
			}
			if r.Nodes > nodes {
				t.Errorf("problem %d: %d nodes of %d", k, r.Nodes, nodes)
			}
			if r.Bound > want || r.Pick != nil && (p.Cost(r.Pick) != r.Cost || r.Cost < want || !NewEvaluator(p).Meets(r.Pick)) {
				t.Errorf("problem %d after %d nodes: %d with bound %d, optimum %d", k, nodes, r.Cost, r.Bound, want)
			}
			if r.Status == Feasible || r.Status == Undecided {
				early++
			}
			if r.Status == Feasible && nodes > 3 {
				moved++
			}
		}
	}
	if early < 40 || moved < 10 {
		t.Errorf("only %d searches were stopped early, %d with neighbourhoods", early, moved)
	}
}

// rootBound is what raise says before there is a plan.
func rootBound(p *Problem) float64 {
	s := newSearch(context.Background(), p, nil)
	s.plain, s.passes = true, widePasses
	s.x.install(full(p))
	if !s.x.shrink() {
		return 0
	}
	s.r.levels()
	root := &node{dom: slices.Clone(s.x.dom)}
	s.raise(root)
	return root.bound
}

// TestPlant: a plan with its bound for 60 runs of a plant of every kind,
// within a limit of nodes, the same twice; more nodes give no dearer plan.
// The gaps are pinned from above.
func TestPlant(t *testing.T) {
	for variant, gap := range map[string]float64{"plant": 0.12, "plant-flows": 0.09, "plant-leaks": 0.11} {
		p := plant(1, variant, 60)
		if err := p.Validate(); err != nil || len(p.Runs) != 60 || len(p.Tools) != 12 {
			t.Fatal(err, len(p.Runs), len(p.Tools))
		}
		last := int64(math.MaxInt64)
		for _, nodes := range []int{1, 200} {
			set := &Settings{MaxNodes: nodes}
			r, err := Solve(context.Background(), p, set)
			if err != nil {
				t.Fatal(err)
			}
			again, _ := Solve(context.Background(), p, set)
			if r.Cost != again.Cost || r.Bound != again.Bound || !slices.Equal(r.Pick, again.Pick) {
				t.Errorf("%s: two answers", variant)
			}
			if r.Status != Feasible || !NewEvaluator(p).Meets(r.Pick) || p.Cost(r.Pick) != r.Cost || r.Bound > r.Cost || r.Cost > last {
				t.Errorf("%s after %d nodes: %v %d (bound %d), before %d", variant, nodes, r.Status, r.Cost, r.Bound, last)
			}
			last = r.Cost
			if nodes > 1 && r.Gap() > gap {
				t.Errorf("%s: gap %.4f", variant, r.Gap())
			}
			t.Logf("%s after %d nodes: cost %d, bound %d, gap %.4f", variant, nodes, r.Cost, r.Bound, r.Gap())
		}
	}
}

// TestWideInterrupt: a search by neighbourhoods that its context ends keeps
// the best plan and a bound.
func TestWideInterrupt(t *testing.T) {
	p := plant(2, "plant", 60)
	full, err := Solve(context.Background(), p, &Settings{MaxNodes: 300})
	if err != nil {
		t.Fatal(err)
	}
	for _, calls := range []int{1, 50, 1000, 20000} {
		r, err := Solve(&ending{Context: context.Background(), calls: calls}, p, nil)
		if err != nil {
			t.Fatal(err)
		}
		if r.Status != Feasible && r.Status != Undecided || r.Bound > full.Cost || r.Pick != nil && !NewEvaluator(p).Meets(r.Pick) {
			t.Errorf("ended after %d looks: %v %d (bound %d), cheaper plan %d", calls, r.Status, r.Cost, r.Bound, full.Cost)
		}
		if calls == 20000 && r.Pick == nil {
			t.Error("no plan")
		}
	}
}

// ending is a context that ends when it has been looked at so often.
type ending struct {
	context.Context
	calls int
}

func (c *ending) Err() error {
	if c.calls--; c.calls < 0 {
		return context.Canceled
	}
	return nil
}
