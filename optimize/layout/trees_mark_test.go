package layout

import (
	"context"
	"math/rand/v2"
	"testing"
	"time"
)

// hall is a random tree of a trunk with tools on it, and extra links between
// points of the trunk and tools: few cycles.
func hall(seed uint64, points, tools, extra int) *Graph {
	rng := rand.New(rand.NewPCG(seed, 21))
	g := &Graph{Points: points}
	for v := 1; v < points; v++ {
		to := rng.IntN(max(1, min(v, points-tools)))
		if v < points-tools {
			to = max(0, v-1-rng.IntN(3))
		}
		g.Links = append(g.Links, Link{A: v, B: to, Cost: 100 + rng.Int64N(500)})
	}
	for v := points - tools; v < points; v++ {
		g.Terminals = append(g.Terminals, v)
	}
	for range extra {
		a := 1 + rng.IntN(points-1)
		g.Links = append(g.Links, Link{A: a, B: (a + 1 + rng.IntN(points-1)) % points, Cost: 100 + rng.Int64N(700)})
	}
	return g
}

// TestTreesMark prints how long the first trees take.
func TestTreesMark(t *testing.T) {
	for _, c := range []struct{ points, tools, extra, trees int }{
		{40, 12, 8, 50}, {40, 12, 15, 10}, {45, 20, 8, 50}, {45, 20, 12, 20},
	} {
		for seed := range uint64(1 + *seeds) {
			begin := time.Now()
			trees, err := NewTrees(hall(seed, c.points, c.tools, c.extra))
			if err != nil {
				t.Fatal(err)
			}
			first := time.Duration(0)
			count, last := 0, int64(0)
			for count < c.trees {
				tree, ok := trees.Next(context.Background())
				if !ok {
					break
				}
				if count++; count == 1 {
					first = time.Since(begin)
				}
				if tree.Cost < last {
					t.Errorf("tree %d costs %d after %d", count, tree.Cost, last)
				}
				last = tree.Cost
			}
			t.Logf("%+v: %d trees, first %v, all %v", c, count, first, time.Since(begin))
		}
	}
}

// BenchmarkTrees yields 20 trees of a workshop with 12 tools, 40 points and 8
// links more than a tree has.
func BenchmarkTrees(b *testing.B) {
	for b.Loop() {
		trees, err := NewTrees(hall(0, 40, 12, 8))
		if err != nil {
			b.Fatal(err)
		}
		for range 20 {
			if _, ok := trees.Next(context.Background()); !ok {
				b.Fatal("no tree")
			}
		}
	}
}
