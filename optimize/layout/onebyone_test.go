package layout

import (
	"context"
	"math"
	"testing"

	"wyewright/optimize/core"
)

// sized is the least cost of a tree's ducts by package core, which knows
// nothing of labels, math.MaxInt64 if none will do. Tools must be leaves.
func sized(t *testing.T, p *Problem, tree Tree) int64 {
	t.Helper()
	q := &core.Problem{Exponent: p.Exponent, Fan: p.Fan}
	run := map[int]int{p.Root: -1} // the run that leaves a point
	for len(run) <= len(tree.Ways) {
		for _, w := range tree.Ways {
			from, to := p.Edges[w.Link].A, p.Edges[w.Link].B
			if w.Reverse {
				from, to = to, from
			}
			parent, ready := run[to]
			if _, done := run[from]; ready && !done {
				run[from] = len(q.Runs)
				q.Runs = append(q.Runs, core.Run{Parent: parent, Options: p.Edges[w.Link].Options})
			}
		}
	}
	for k, x := range p.Terminals {
		q.Tools = append(q.Tools, core.Tool{Run: run[x.Point], Flow: x.Flow})
		q.States = append(q.States, core.State{Running: []int{k}, Transport: p.Transport})
	}
	r, err := core.Solve(context.Background(), q, nil)
	if err != nil {
		t.Fatal(err)
	}
	if r.Status != core.Optimal {
		return math.MaxInt64
	}
	return r.Cost
}

// TestOneByOne: trees in order of their least cost, each sized by package core
// until none can be cheaper, give what Solve finds (computed by that package).
func TestOneByOne(t *testing.T) {
	trees, dearer := 0, 0
	for seed := range uint64(60) {
		p := grid(seed, 3, 3, 3, 5, 10)
		for k := range p.Terminals { // each on a stub, so that it is a leaf
			x := &p.Terminals[k].Point
			p.Edges = append(p.Edges, Edge{A: p.Points, B: *x, OneWay: true, Options: []core.Option{{Resistance: 100}}})
			*x = p.Points
			p.Points++
		}
		g := &Graph{Points: p.Points, Root: p.Root}
		for _, e := range p.Edges {
			least := int64(math.MaxInt64)
			for _, o := range e.Options {
				least = min(least, o.Cost)
			}
			g.Links = append(g.Links, Link{A: e.A, B: e.B, OneWay: e.OneWay, Cost: least})
		}
		for _, x := range p.Terminals {
			g.Terminals = append(g.Terminals, x.Point)
		}
		setHead(p, 400+1200*float64(seed%8)/8)
		list, err := NewTrees(g)
		if err != nil {
			t.Fatal(err)
		}
		best, first := int64(math.MaxInt64), int64(-1)
		for list.Bound() < best {
			tree, ok := list.Next(context.Background())
			if !ok {
				break
			}
			cost := sized(t, p, tree)
			best = min(best, cost)
			if trees++; first < 0 {
				first = cost
			}
		}
		if first > best {
			dearer++
		}
		r, err := Solve(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		if best == math.MaxInt64 && r.Status != core.Infeasible || best < math.MaxInt64 && (r.Status != core.Optimal || r.Cost != best) {
			t.Errorf("seed %d: %v at %d, one by one %d", seed, r.Status, r.Cost, best)
		}
	}
	t.Logf("%d trees sized, in %d problems the first was not the best", trees, dearer)
	if dearer < 5 {
		t.Errorf("the first tree is nearly always the best: %d", dearer)
	}
}
