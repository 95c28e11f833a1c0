package layout

import (
	"context"
	"flag"
	"math"
	"testing"
	"time"

	"wyewright/optimize/core"
)

var (
	find  = flag.Bool("find", false, "search the least heads of TestMarks again")
	seeds = flag.Int("seeds", 0, "grids of each kind that TestMarks solves, at most 8")
)

// mark is a kind of generated grid, and the least head found that does for
// each seed (pinned; renew with -find).
type mark struct {
	name                       string
	wide, high, tools, options int
	heads                      []float64
}

var marks = []mark{
	{"8 tools, 35 points", 7, 5, 8, 14, []float64{1491, 1420, 1455, 1262, 1122, 1237, 1664, 1473}},
	{"6 tools, 70 points", 10, 7, 6, 14, []float64{1887, 1565, 2097, 1347, 1698, 1461, 1849, 2014}},
}

func (m *mark) problem(seed int) *Problem {
	return grid(uint64(seed), m.wide, m.high, m.tools, m.options, 18)
}

// leastHead is the least head, to 1/128, with which a search of 150,000 labels
// finds something.
func leastHead(t *testing.T, p *Problem) float64 {
	t.Helper()
	lo, hi := 500.0, 4000.0
	for hi/lo > 1+1.0/128 {
		mid := math.Sqrt(lo * hi)
		setHead(p, mid)
		r, err := Solve(context.Background(), p, &Settings{MaxLabels: 150000})
		if err != nil {
			t.Fatal(err)
		}
		if r.Tree != nil {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}

// TestMarks solves tight grids with 1, 3 and 10 % more head than the least
// found, and prints how long that takes.
func TestMarks(t *testing.T) {
	if *seeds == 0 {
		t.Skip("only with -seeds 1 to 8")
	}
	for _, m := range marks {
		for seed, least := range m.heads[:*seeds] {
			p := m.problem(seed)
			if *find {
				least = leastHead(t, p)
				t.Logf("%s, seed %d: least head %.0f", m.name, seed, least)
			}
			for _, stretch := range []float64{1.01, 1.03, 1.1} {
				setHead(p, math.Round(least)*stretch)
				begin := time.Now()
				r, err := Solve(context.Background(), p, nil)
				if err != nil {
					t.Fatal(err)
				}
				if r.Status != core.Optimal || r.Bound != r.Cost || !p.Meets(r.Tree) || p.Cost(r.Tree) != r.Cost {
					t.Errorf("%s, seed %d: %v at %d", m.name, seed, r.Status, r.Cost)
				}
				t.Logf("%s, seed %d × %v: %d, %d nodes, %d labels, %.2f s", m.name, seed, stretch, r.Cost, r.Nodes, r.Labels, time.Since(begin).Seconds())
			}
		}
	}
}

// BenchmarkSolve solves a tight grid of 35 points with 8 tools.
func BenchmarkSolve(b *testing.B) {
	p := marks[0].problem(3)
	setHead(p, marks[0].heads[3]*1.03)
	for b.Loop() {
		if r, err := Solve(context.Background(), p, nil); err != nil || r.Status != core.Optimal {
			b.Fatal(err, r)
		}
	}
}
