package core

import (
	"context"
	"flag"
	"math"
	"math/rand/v2"
	"testing"
)

var problems = flag.Int("problems", 240, "problems solved by brute force too")

// brute enumerates all plans: the least cost, math.MaxInt64 where none meets
// everything.
func brute(p *Problem) int64 {
	e := NewEvaluator(p)
	pick := make([]int, len(p.Runs))
	best := int64(math.MaxInt64)
	for {
		if c := p.Cost(pick); c < best && e.Meets(pick) {
			best = c
		}
		i := 0
		for ; i < len(pick); i++ {
			if pick[i]++; pick[i] < len(p.Runs[i].Options) {
				break
			}
			pick[i] = 0
		}
		if i == len(pick) {
			return best
		}
	}
}

// small makes problem k of the property test: 3 or 4 tools, up to 8 runs,
// 4 options, closed gates that leak 4 % each in three of four.
func small(k int) *Problem {
	rng := rand.New(rand.NewPCG(uint64(k), 5))
	sh := shape{tools: 3 + k%2, options: 4, alone: true, stretch: 1.002 + 0.1*rng.Float64()*rng.Float64(), joints: k%3 == 0}
	if k%4 != 0 {
		sh.leak = 0.04
	}
	switch k % 5 {
	case 0:
		sh.transport = 12 + 8*rng.Float64()
	case 1:
		sh.pairs = 2
	case 2:
		sh.transport, sh.pairs, sh.pairTransport = 12, 2, 10+8*rng.Float64()
	case 3:
		sh.alone, sh.pairs, sh.pairTransport = false, 3, 10+8*rng.Float64()
	}
	if k%7 == 0 {
		sh.exponent = 1.852
	}
	switch {
	case sh.tools == 4:
		sh.options = 3
	case k%8 == 0:
		sh.series = 3
	}
	p := generate(uint64(k), sh)
	if k%6 == 1 { // all at once, and one with a companion
		p.States = append(p.States, State{Running: []int{0, 1, 2}, Transport: 8}, State{Running: []int{1}, Open: []int{0}, Transport: 9})
	}
	if rng.IntN(3) == 0 {
		p.Fan.Slope = p.Fan.Head * 0.3
	}
	return p
}

// TestBrute: the least cost equals that of enumeration (computed by brute).
func TestBrute(t *testing.T) {
	solved, none, nodes := 0, 0, 0
	for k := range *problems {
		p := small(k)
		want := brute(p)
		r, err := Solve(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		switch {
		case want == math.MaxInt64:
			none++
			if r.Status != Infeasible {
				t.Errorf("problem %d: %v, but no plan meets it", k, r.Status)
			}
			continue
		case r.Status != Optimal || r.Cost != want || p.Cost(r.Pick) != want || !NewEvaluator(p).Meets(r.Pick):
			t.Errorf("problem %d: %v %d (%v), want %d", k, r.Status, r.Cost, r.Pick, want)
		}
		solved++
		nodes += r.Nodes
	}
	t.Logf("%d solved in %d nodes, %d have no plan", solved, nodes, none)
	if solved < *problems/2 || none < *problems/40 {
		t.Errorf("the problems are too easy or too hard: %d solved, %d infeasible", solved, none)
	}
}
