package layout

import (
	"context"
	"flag"
	"math"
	"math/rand/v2"
	"testing"

	"wyewright/optimize/core"
)

var problems = flag.Int("problems", 400, "problems solved by brute force too")

// brute enumerates all sets of edges that are trees toward the root and all
// options of their edges: the least cost, math.MaxInt64 where nothing meets it.
func brute(p *Problem) int64 {
	best := int64(math.MaxInt64)
	for set := range 1 << len(p.Edges) {
		tree := orient(p.Points, p.Root, set, func(i int) (int, int, bool) { e := p.Edges[i]; return e.A, e.B, e.OneWay }, len(p.Edges))
		if tree == nil {
			continue
		}
		for {
			if c := p.Cost(tree); c < best && p.Meets(tree) {
				best = c
			}
			i := 0
			for ; i < len(tree); i++ {
				if tree[i].Option++; tree[i].Option < len(p.Edges[tree[i].Edge].Options) {
					break
				}
				tree[i].Option = 0
			}
			if i == len(tree) {
				break
			}
		}
	}
	return best
}

// orient turns a set of edges toward the root, nil where it is no tree there.
func orient(points, root, set int, ends func(i int) (a, b int, oneWay bool), edges int) []Pick {
	tree := []Pick{}
	seen := make([]bool, points)
	seen[root] = true
	used := 0
	for again := true; again; {
		again = false
		for i := range edges {
			if set>>i&1 == 0 || used>>i&1 == 1 {
				continue
			}
			a, b, oneWay := ends(i)
			if seen[a] && seen[b] {
				return nil
			}
			if seen[b] {
				seen[a], again = true, true
				used |= 1 << i
				tree = append(tree, Pick{Edge: i})
			} else if seen[a] {
				if oneWay {
					return nil
				}
				seen[b], again = true, true
				used |= 1 << i
				tree = append(tree, Pick{Edge: i, Reverse: true})
			}
		}
	}
	if used != set {
		return nil
	}
	return tree
}

// small makes problem k of the property test: loops, one-way edges, terminals
// inside and at one point, both kinds.
func small(k int) *Problem {
	rng := rand.New(rand.NewPCG(uint64(k), 5))
	p := &Problem{Points: 4 + rng.IntN(3), Exponent: 2, Together: k%2 == 1}
	p.Root = rng.IntN(p.Points)
	if k%5 == 0 {
		p.Exponent = 1.852
	}
	if k%4 == 0 {
		p.Transport = 10 + 8*rng.Float64()
	}
	for range p.Points + rng.IntN(4) {
		a := rng.IntN(p.Points)
		e := Edge{A: a, B: (a + 1 + rng.IntN(p.Points-1)) % p.Points, OneWay: rng.IntN(5) == 0,
			Options: ducts(rng, 1+rng.IntN(3), 1+4*rng.Float64(), 0.2)}
		if rng.IntN(6) == 0 {
			e.Options[0].Cost = 0
		}
		if last := len(e.Options) - 1; rng.IntN(6) == 0 { // the widest is cheap
			e.Options[last].Cost = e.Options[0].Cost / 2
		}
		p.Edges = append(p.Edges, e)
	}
	for range 1 + rng.IntN(4) {
		p.Terminals = append(p.Terminals, Terminal{Point: rng.IntN(p.Points), Flow: (200 + 1200*rng.Float64()) / 3600})
	}
	setHead(p, 1000)
	lo, hi := 1.0, 200000.0 // the least head, roughly
	for range 12 {
		mid := math.Sqrt(lo * hi)
		if setStrength(p, mid); brute(p) < math.MaxInt64 {
			hi = mid
		} else {
			lo = mid
		}
	}
	setStrength(p, hi*(0.98+1.5*rng.Float64()*rng.Float64()))
	return p
}

// setStrength sets the head, or budgets of that size.
func setStrength(p *Problem, head float64) {
	setHead(p, head)
	for t := range p.Terminals {
		p.Terminals[t].Budget = head * (1 + 0.2*float64(t))
	}
}

// TestBrute: the least cost equals that of enumeration (computed by brute).
func TestBrute(t *testing.T) {
	solved, none, branched := 0, 0, 0
	for k := range *problems {
		p := small(k)
		want := brute(p)
		r, err := Solve(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		if r.Clashes > 0 {
			branched++
		}
		switch {
		case want == math.MaxInt64:
			if none++; r.Status != core.Infeasible || r.Tree != nil {
				t.Errorf("problem %d: %v, but nothing meets it", k, r.Status)
			}
		case r.Status != core.Optimal || r.Cost != want || r.Bound != want || p.Cost(r.Tree) != want || !p.Meets(r.Tree):
			t.Errorf("problem %d: %v %d (%v, meets %v), want %d", k, r.Status, r.Cost, r.Tree, p.Meets(r.Tree), want)
		default:
			solved++
		}
	}
	t.Logf("%d solved, %d without an answer, %d branched", solved, none, branched)
	if solved < *problems/2 || none < *problems/40 || branched < *problems/40 {
		t.Errorf("too easy or too hard: %d solved, %d infeasible, %d branched", solved, none, branched)
	}
}

// TestStopped: whatever limit stops a search, its bound holds and its tree meets
// everything.
func TestStopped(t *testing.T) {
	seen := map[core.Status]int{}
	for k := range *problems {
		p := small(k)
		want := brute(p)
		for _, set := range []*Settings{{MaxLabels: 1}, {MaxLabels: 12}, {MaxLabels: 50}, {MaxNodes: 1}, nil} {
			ctx, cancel := context.WithCancel(context.Background())
			if set == nil {
				cancel()
			}
			r, err := Solve(ctx, p, set)
			cancel()
			if err != nil {
				t.Fatal(err)
			}
			seen[r.Status]++
			fine := r.Bound <= want
			switch r.Status {
			case core.Optimal:
				fine = r.Cost == want && r.Bound == want
			case core.Infeasible:
				fine = want == math.MaxInt64
			case core.Feasible:
				fine = fine && r.Cost >= want && p.Cost(r.Tree) == r.Cost && p.Meets(r.Tree)
			case core.Undecided:
				fine = fine && r.Tree == nil
			}
			if !fine {
				t.Errorf("problem %d with %+v: %+v, want %d", k, set, r, want)
			}
		}
	}
	t.Log(seen)
	for _, s := range []core.Status{core.Optimal, core.Infeasible, core.Feasible, core.Undecided} {
		if seen[s] < 10 {
			t.Errorf("%v only %d times", s, seen[s])
		}
	}
}

// TestRank: bounds hold with few levels of several widths, too (computed by brute).
func TestRank(t *testing.T) {
	several := 0
	for k := range *problems {
		p := small(k)
		m := newModel(p)
		if m == nil || len(m.start) == 0 || len(m.levels) < 3 {
			continue
		}
		several++
		m.rank(2)
		s := &search{ctx: context.Background(), m: m, labelsLeft: math.MaxInt}
		s.run()
		if got, want := s.result().Cost, brute(p); s.best != nil && got != want || (s.best == nil) != (want == math.MaxInt64) {
			t.Errorf("problem %d: %d, want %d", k, got, want)
		}
	}
	if several < *problems/20 {
		t.Errorf("only %d problems with more than two widths", several)
	}
}
