package layout

import (
	"context"
	"errors"
	"math"
	"testing"

	"wyewright/optimize/core"
)

// star has tool 2 beyond tool 1, or beside it by a dearer way of less resistance.
func star(limit float64) *Problem {
	one := func(cost int64, r float64) []core.Option { return []core.Option{{Cost: cost, Resistance: r, Area: 1}} }
	return &Problem{Points: 3, Exponent: 2, Fan: core.Fan{Head: limit},
		Edges:     []Edge{{A: 1, B: 0, Options: one(10, 1)}, {A: 1, B: 2, Options: one(3, 1)}, {A: 2, B: 0, Options: one(8, 1.5)}},
		Terminals: []Terminal{{Point: 1, Flow: 1}, {Point: 2, Flow: 1}}}
}

// TestStar is hand-worked. With a strong fan the cheapest joins 1 to 2 (11);
// where no way may have more than 2.25, 1 needs a way of its own, as 1 + 1.5 is
// too much: 2 beyond 1 has 2 (13). Where no more than 1.75 is allowed, both
// need their own (18); with less than 1.5 there is nothing.
func TestStar(t *testing.T) {
	for _, c := range []struct {
		limit float64
		want  int64
	}{{2.5, 11}, {2.25, 13}, {2, 13}, {1.75, 18}, {1.5, 18}, {1.25, 0}} {
		r, err := Solve(context.Background(), star(c.limit), nil)
		if err != nil {
			t.Fatal(err)
		}
		if want := map[bool]core.Status{true: core.Optimal, false: core.Infeasible}[c.want > 0]; r.Status != want || r.Cost != c.want {
			t.Errorf("limit %v: %v at %d, want %d", c.limit, r.Status, r.Cost, c.want)
		}
	}
}

// TestWeakFan: the tree that is the cheapest by the price of one size is not
// always the best with a weak fan (all sizes of its ways tried by Solve).
func TestWeakFan(t *testing.T) {
	worse, none, same, cannot := 0, 0, 0, 0
	for seed := range uint64(30) {
		p := grid(seed, 4, 4, 4, 6, 12)
		for head := 500.0; head < 20000; head *= 1.1 {
			setHead(p, head)
			r, err := Solve(context.Background(), p, &Settings{MaxLabels: 100000})
			if err != nil {
				t.Fatal(err)
			}
			if r.Status == core.Infeasible {
				cannot++
				continue
			}
			if r.Status != core.Optimal || !p.Meets(r.Tree) {
				t.Errorf("seed %d, head %.0f: %v in %d labels", seed, head, r.Status, r.Labels)
			}
			short, err := Solve(context.Background(), shortest(t, p), nil)
			if err != nil {
				t.Fatal(err)
			}
			switch {
			case short.Status == core.Infeasible:
				none++
			case short.Cost > r.Cost:
				worse++
			case short.Cost < r.Cost:
				t.Errorf("seed %d: the shortest tree costs %d, all of them at least %d", seed, short.Cost, r.Cost)
			default:
				same++
			}
			break
		}
	}
	t.Logf("the shortest tree: %d best, %d dearer, %d cannot do it; %d heads too low", same, worse, none, cannot)
	if same == 0 || worse == 0 || none == 0 {
		t.Errorf("the shortest tree: %d best, %d dearer, %d cannot do it", same, worse, none)
	}
}

// shortest is p with the edges of its cheapest tree in the third size only.
func shortest(t *testing.T, p *Problem) *Problem {
	t.Helper()
	g := &Graph{Points: p.Points, Root: p.Root}
	for _, e := range p.Edges {
		g.Links = append(g.Links, Link{A: e.A, B: e.B, OneWay: e.OneWay, Cost: e.Options[2].Cost})
	}
	for _, x := range p.Terminals {
		g.Terminals = append(g.Terminals, x.Point)
	}
	trees, err := NewTrees(g)
	if err != nil {
		t.Fatal(err)
	}
	tree, ok := trees.Next(context.Background())
	if !ok {
		t.Fatal("no tree")
	}
	q := *p
	q.Edges = nil
	for _, w := range tree.Ways {
		q.Edges = append(q.Edges, p.Edges[w.Link])
	}
	return &q
}

// Every fault of a problem is named.
func TestValidate(t *testing.T) {
	for name, spoil := range map[string]func(p *Problem){
		"exponent":   func(p *Problem) { p.Exponent = 0 },
		"root":       func(p *Problem) { p.Root = 3 },
		"no point":   func(p *Problem) { p.Points = 0 },
		"end":        func(p *Problem) { p.Edges[0].B = 3 },
		"loop":       func(p *Problem) { p.Edges[0].B = 1 },
		"no option":  func(p *Problem) { p.Edges[0].Options = nil },
		"cost":       func(p *Problem) { p.Edges[0].Options[0].Cost = -1 },
		"costs":      func(p *Problem) { p.Edges[0].Options[0].Cost = 1 << 53 },
		"resistance": func(p *Problem) { p.Edges[0].Options[0].Resistance = 0 },
		"endless":    func(p *Problem) { p.Edges[0].Options[0].Resistance = math.Inf(1) },
		"area":       func(p *Problem) { p.Edges[0].Options[0].Area = math.NaN() },
		"terminal":   func(p *Problem) { p.Terminals[0].Point = -1 },
		"flow":       func(p *Problem) { p.Terminals[0].Flow = 0 },
		"budget":     func(p *Problem) { p.Terminals[0].Budget = math.NaN() },
		"fan":        func(p *Problem) { p.Fan.Curve = -1 },
		"transport":  func(p *Problem) { p.Transport = math.Inf(1) },
		"terminals": func(p *Problem) {
			p.Points = 40
			for v := range MaxServed + 1 {
				p.Terminals = append(p.Terminals, Terminal{Point: 1 + v, Flow: 1})
			}
		},
	} {
		p := star(3)
		spoil(p)
		if _, err := Solve(context.Background(), p, nil); !errors.Is(err, ErrProblem) {
			t.Errorf("%s: error %v", name, err)
		}
	}
	for name, g := range map[string]*Graph{
		"root":      {Points: 2, Root: 2},
		"end":       {Points: 2, Links: []Link{{A: 0, B: 2}}},
		"cost":      {Points: 2, Links: []Link{{A: 0, B: 1, Cost: -1}}},
		"terminal":  {Points: 2, Terminals: []int{2}},
		"terminals": {Points: 40, Terminals: []int{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21}},
	} {
		if _, err := NewTrees(g); !errors.Is(err, ErrProblem) {
			t.Errorf("graph, %s: error %v", name, err)
		}
	}
}

// Nothing to join is an empty tree; a terminal at the root needs only a fan
// that gives its flow.
func TestRoot(t *testing.T) {
	for _, c := range []struct {
		flow float64
		want core.Status
	}{{0, core.Optimal}, {1, core.Optimal}, {2, core.Infeasible}} {
		p := &Problem{Points: 1, Exponent: 2, Fan: core.Fan{Head: 1, Curve: 0.5}}
		if c.flow > 0 {
			p.Terminals = []Terminal{{Flow: c.flow}}
		}
		r, err := Solve(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		if r.Status != c.want || (r.Tree != nil) != (c.want == core.Optimal) || len(r.Tree) > 0 {
			t.Errorf("flow %v: %+v", c.flow, r)
		}
	}
}
