package core

import (
	"context"
	"errors"
	"slices"
	"testing"
)

// TestStops: a search that a limit or its context ends keeps a valid bound,
// and one ended by the limit is the same each time.
func TestStops(t *testing.T) {
	early := 0
	ended, cancel := context.WithCancel(context.Background())
	cancel()
	for k := range 120 {
		p := small(k)
		full, err := Solve(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, nodes := range []int{1, 2, 5} {
			r, _ := Solve(context.Background(), p, &Settings{MaxNodes: nodes})
			again, _ := Solve(context.Background(), p, &Settings{MaxNodes: nodes})
			if r.Status != again.Status || r.Cost != again.Cost || r.Bound != again.Bound || !slices.Equal(r.Pick, again.Pick) {
				t.Errorf("problem %d: two answers", k)
			}
			if r.Status == Feasible || r.Status == Undecided {
				early++
			}
			if full.Status == Optimal && (r.Bound > full.Cost || r.Pick != nil && r.Cost < full.Cost) {
				t.Errorf("problem %d after %d nodes: %d with bound %d, optimum %d", k, nodes, r.Cost, r.Bound, full.Cost)
			}
			if full.Status == Infeasible && r.Pick != nil {
				t.Errorf("problem %d: a plan where there is none", k)
			}
		}
		if r, _ := Solve(context.Background(), p, &Settings{Gap: 0.05}); full.Status == Optimal && (r.Status != Feasible ||
			r.Bound > full.Cost || r.Cost < full.Cost || r.Gap() > 0.0501) {
			t.Errorf("problem %d with a gap allowed: %+v, optimum %d", k, r, full.Cost)
		}
		if r, _ := Solve(ended, p, nil); r.Nodes > 0 || full.Status == Optimal && r.Bound > full.Cost {
			t.Errorf("problem %d: went on for %d nodes after the end", k, r.Nodes)
		}
	}
	if early < 20 {
		t.Errorf("only %d searches were stopped early", early)
	}
}

// TestValidate: what is wrong is refused.
func TestValidate(t *testing.T) {
	for name, spoil := range map[string]func(*Problem){
		"exponent":   func(p *Problem) { p.Exponent = 0 },
		"order":      func(p *Problem) { p.Runs[1].Parent = 1 },
		"no option":  func(p *Problem) { p.Runs[0].Options = nil },
		"cost":       func(p *Problem) { p.Runs[0].Options[0].Cost = -1 },
		"resistance": func(p *Problem) { p.Runs[0].Options[0].Resistance = 0 },
		"tool":       func(p *Problem) { p.Tools[0].Run = 0 },
		"flow":       func(p *Problem) { p.Tools[0].Flow = 0 },
		"state":      func(p *Problem) { p.States[0].Running = []int{9} },
		"joint":      func(p *Problem) { p.Runs[1].Joint = [][]int64{{1}} },
		"both":       func(p *Problem) { p.Loadings = make([]Loading, 1) },
		"fan":        func(p *Problem) { p.Fan.Head = -1 },
	} {
		p := small(1)
		if err := p.Validate(); err != nil {
			t.Fatal(err)
		}
		spoil(p)
		if _, err := Solve(context.Background(), p, nil); !errors.Is(err, ErrProblem) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestStub: a run of next to no resistance does not turn rounding into a proof.
func TestStub(t *testing.T) {
	for _, r := range []float64{1e-2, 1e-4, 1e-6, 1e-9} {
		p := &Problem{Exponent: 2, Fan: Fan{Head: 400, Curve: 661.2244897959183}, Tools: []Tool{{Run: 1, Flow: 0.36591433870384676}},
			Runs: []Run{{Parent: -1, Options: []Option{{Cost: 5, Resistance: 2048.728671699411, Area: 0.01227}}},
				{Parent: 0, Options: []Option{{Cost: 1, Resistance: r, Area: 0.01}}}},
			States: []State{{Running: []int{0}}}}
		s, err := Solve(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		if met := NewEvaluator(p).Meets([]int{0, 0}); met != (s.Status == Optimal) {
			t.Errorf("resistance %g: %v, but the plan passes: %v", r, s.Status, met)
		}
	}
}
