package layout

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// allTrees enumerates all sets of links: the trees toward the root that join
// every terminal and have no other leaves.
func allTrees(g *Graph) map[string]int64 {
	all := map[string]int64{}
	for set := range 1 << len(g.Links) {
		picks := orient(g.Points, g.Root, set, func(i int) (int, int, bool) { l := g.Links[i]; return l.A, l.B, l.OneWay }, len(g.Links))
		if picks == nil {
			continue
		}
		tree := Tree{Ways: []Way{}}
		joined, inner := map[int]bool{g.Root: true}, map[int]bool{}
		for _, x := range picks {
			l := g.Links[x.Edge]
			from, to := l.A, l.B
			if x.Reverse {
				from, to = to, from
			}
			joined[from], inner[to] = true, true
			tree.Ways = append(tree.Ways, Way{x.Edge, x.Reverse})
			tree.Cost += l.Cost
		}
		fine := true
		for _, v := range g.Terminals {
			fine = fine && joined[v]
		}
		for v := range joined {
			fine = fine && (inner[v] || v == g.Root || slices.Contains(g.Terminals, v))
		}
		if fine {
			slices.SortFunc(tree.Ways, func(a, b Way) int { return a.Link - b.Link })
			all[fmt.Sprint(tree.Ways)] = tree.Cost
		}
	}
	return all
}

// randomGraph has loops, parallel and one-way links, links for nothing, terminals
// inside and at the root.
func randomGraph(k int) *Graph {
	rng := rand.New(rand.NewPCG(uint64(k), 9))
	g := &Graph{Points: 2 + rng.IntN(6)}
	g.Root = rng.IntN(g.Points)
	most := int64(1 + rng.IntN(20))
	for range g.Points - 1 + rng.IntN(7) {
		a := rng.IntN(g.Points)
		g.Links = append(g.Links, Link{A: a, B: (a + 1 + rng.IntN(g.Points-1)) % g.Points, OneWay: rng.IntN(4) == 0, Cost: rng.Int64N(most)})
	}
	for range 1 + rng.IntN(g.Points) {
		g.Terminals = append(g.Terminals, rng.IntN(g.Points))
	}
	return g
}

// TestTrees: all trees of random graphs, in order of cost, each once (computed
// by enumeration).
func TestTrees(t *testing.T) {
	none, many := 0, 0
	for k := range 1000 {
		g := randomGraph(k)
		want := allTrees(g)
		trees, err := NewTrees(g)
		if err != nil {
			t.Fatal(err)
		}
		got, last := map[string]bool{}, int64(0)
		for {
			bound := trees.Bound()
			tree, ok := trees.Next(context.Background())
			if !ok {
				break
			}
			name := fmt.Sprint(tree.Ways)
			if cost, ok := want[name]; !ok || cost != tree.Cost || got[name] || tree.Cost < last || bound > tree.Cost {
				t.Fatalf("graph %d %+v: %v, cost %d (%v, %d), after %d, bound %d, seen %v", k, g, name, tree.Cost, ok, cost, last, bound, got[name])
			}
			got[name], last = true, tree.Cost
		}
		if len(got) != len(want) || trees.Bound() != math.MaxInt64 {
			t.Errorf("graph %d %+v: %d trees, want %d", k, g, len(got), len(want))
		}
		switch {
		case len(want) == 0:
			none++
		case len(want) > 5:
			many++
		}
	}
	t.Logf("%d without a tree, %d with more than 5", none, many)
	if none < 50 || many < 100 {
		t.Errorf("the graphs are too easy: %d without a tree, %d with more than 5", none, many)
	}
}

// TestBothWays: the subset program and the spanning trees find trees of the same
// cost, in whole graphs.
func TestBothWays(t *testing.T) {
	for k := range 300 {
		g := randomGraph(k)
		c := &contraction{n: g.Points, root: g.Root, need: make([]bool, g.Points)}
		for i, l := range g.Links {
			c.joints = append(c.joints, joint{from: l.A, to: l.B, cost: l.Cost, arcs: []int{i}})
			if !l.OneWay {
				c.joints = append(c.joints, joint{from: l.B, to: l.A, cost: l.Cost, arcs: []int{i}})
			}
		}
		for _, v := range g.Terminals {
			c.need[v] = v != g.Root
		}
		if !c.prune() {
			continue
		}
		need, free := c.left()
		if len(need) == 0 {
			continue
		}
		total := func(chosen []int, ok bool) (sum int64) {
			for _, j := range chosen {
				sum += c.joints[j].cost
			}
			if !ok {
				return -1
			}
			return sum
		}
		if one, two := total(c.steiner(need)), total(c.spanning(free)); one != two || one < 0 {
			t.Errorf("graph %d: %d by the subset program, %d by spanning trees", k, one, two)
		}
	}
}

// TestTreesStop: an ended context yields nothing and loses nothing, and a graph
// with too many choices is refused.
func TestTreesStop(t *testing.T) {
	g := randomGraph(0)
	for k := 1; len(allTrees(g)) < 6; k++ {
		g = randomGraph(k)
	}
	trees, err := NewTrees(g)
	if err != nil {
		t.Fatal(err)
	}
	ended, cancel := context.WithCancel(context.Background())
	cancel()
	count := 0
	for {
		if _, ok := trees.Next(ended); ok || trees.Bound() == math.MaxInt64 {
			t.Fatalf("after %d trees: %v with the bound %d", count, ok, trees.Bound())
		}
		if _, ok := trees.Next(context.Background()); !ok {
			break
		}
		if count++; count == len(allTrees(g)) {
			break
		}
	}
	if count != len(allTrees(g)) {
		t.Errorf("%d trees, want %d", count, len(allTrees(g)))
	}
	dense := &Graph{Points: 60}
	for v := range 60 {
		for _, step := range []int{1, 7, 8} {
			dense.Links = append(dense.Links, Link{A: v, B: (v + step) % 60, Cost: int64(v)})
		}
		if v%3 == 1 {
			dense.Terminals = append(dense.Terminals, v)
		}
	}
	if _, err := NewTrees(dense); err == nil {
		t.Error("a graph of 180 links and 20 terminals is accepted")
	}
}
