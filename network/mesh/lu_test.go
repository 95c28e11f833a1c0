package mesh

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// TestFactorsSolve: the sparse elimination gives what gonum's dense LU with
// pivoting gives, on random matrices of symmetric pattern. Computed by gonum
// v0.17.0.
func TestFactorsSolve(t *testing.T) {
	for seed := range 200 {
		rng := rand.New(rand.NewPCG(uint64(seed), 2))
		n := 2 + rng.IntN(40)
		var joined [][2]int
		for range rng.IntN(4 * n) {
			joined = append(joined, [2]int{rng.IntN(n), rng.IntN(n)})
		}
		p := newPattern(n, n, joined)
		m := newMatrix(p)
		dense := mat.NewDense(n, n, nil)
		put := func(i, j int, x float64) {
			m.add(p.slot(i, j), x)
			dense.Set(i, j, dense.At(i, j)+x)
		}
		for i := range n {
			put(i, i, 8+rng.Float64())
		}
		for _, e := range joined {
			if e[0] != e[1] {
				put(e[0], e[1], rng.NormFloat64())
				put(e[1], e[0], rng.NormFloat64())
			}
		}
		right, x := mat.NewVecDense(n, nil), make([]float64, n)
		for i := range n {
			v := rng.NormFloat64()
			right.SetVec(i, v)
			x[p.place[i]] = v
		}
		var want mat.VecDense
		if err := want.SolveVec(dense, right); err != nil {
			t.Fatal(err)
		}
		m.factor()
		m.solve(x)
		for i := range n {
			if d := math.Abs(x[p.place[i]] - want.AtVec(i)); d > 1e-9*(1+math.Abs(want.AtVec(i))) {
				t.Fatalf("seed %d: unknown %d is %g, want %g", seed, i, x[p.place[i]], want.AtVec(i))
			}
		}
	}
}

// TestTreeFillsNothing: on a tree the order of elimination adds no entry, so
// that the cost is in proportion to the size.
func TestTreeFillsNothing(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	const n = 3000
	var joined [][2]int
	for i := 1; i < n; i++ {
		joined = append(joined, [2]int{i, rng.IntN(i)})
	}
	if p := newPattern(n, n, joined); len(p.cols) != n-1 {
		t.Errorf("%d entries for %d edges", len(p.cols), n-1)
	}
}

// TestPivotsTellStability: two fans side by side on one duct, both on the rising
// branch of their curves, would tip over to one side; on the falling branch they
// share. Hand-worked: the loop of the two has the slope −2·dp/dq.
func TestPivotsTellStability(t *testing.T) {
	for _, c := range []struct {
		slope float64 // of a fan's pressure by its flow
		want  bool
	}{{-50, true}, {50, false}} {
		n := &Net{Nodes: 1, Links: []Link{{From: Room, To: 0, Law: line{100, 0}}, {From: 0, To: Room, Law: line{-c.slope, -100}},
			{From: 0, To: Room, Law: line{-c.slope, -100}}}}
		s := NewSolver(n, nil)
		s.From(t.Context(), Mask{}, []float64{0, 0, 0}, []float64{0})
		if s.Status() != Converged || s.Stable() != c.want {
			t.Errorf("slope %g: %v, stable %v", c.slope, s.Status(), s.Stable())
		}
	}
}

// line is Δp = p0 + r·q.
type line struct{ r, p0 float64 }

func (l line) Loss(q float64) (dp, slope float64) { return l.p0 + l.r*q, l.r }

// TestStatusesOfMesh provokes the ways a solve can end, and their words.
func TestStatusesOfMesh(t *testing.T) {
	n := &Net{Nodes: 1, Links: []Link{{From: Room, To: 0, Law: line{10, 0}}, {From: 0, To: Room, Law: line{10, -50}}}}
	s := NewSolver(n, nil)
	if s.Status() != NotSolved {
		t.Error(s.Status())
	}
	if got := s.Run(t.Context(), Mask{}); got != Converged || math.Abs(s.Flow(0)-2.5) > 1e-9 {
		t.Errorf("%v, %g m³/s", got, s.Flow(0))
	}
	// A demand that nothing can feed.
	dead := &Net{Nodes: 1, Links: []Link{{From: Room, To: 0, Law: line{10, 0}}}, Demand: []float64{1}}
	shut := NewSolver(dead, nil)
	if got := shut.Run(t.Context(), Mask{Links: []bool{false}}); got != Stalled || shut.Flow(0) != 0 {
		t.Errorf("%v, %g m³/s through a shut link", got, shut.Flow(0))
	}
	if got := NewSolver(n, &Settings{PressureTol: 1e-30, MassTol: 1e-30}).Run(t.Context(), Mask{}); got == IterationLimit || got == NotSolved {
		t.Error(got)
	}
	for want, s := range map[string]Status{"not solved": NotSolved, "converged": Converged, "iteration limit": IterationLimit,
		"stalled": Stalled, "interrupted": Interrupted, "unknown status": 99} {
		if s.String() != want {
			t.Errorf("%d reads %q", s, s)
		}
	}
}

// drip is a leak that lets in rate for each pascal of suction.
type drip struct{ rate float64 }

func (d drip) Inflow(static float64) (q, slope float64) { return -d.rate * static, -d.rate }

// TestAgainForgetsWhatIsShut: a leak takes its static pressure from a duct; once
// that duct is shut nothing of its speed is left in the answer.
func TestAgainForgetsWhatIsShut(t *testing.T) {
	n := &Net{Nodes: 2, Links: []Link{{From: Room, To: 0, Law: line{10, 0}}, {From: 0, To: 1, Law: line{10, 0}}, {From: 1, To: Room, Law: line{10, -50}}},
		Seeps: []Seep{{Node: 1, Link: 1, C: 5, Law: drip{0.01}}}}
	shut := Mask{Links: []bool{true, false, true}}
	s, fresh := NewSolver(n, nil), NewSolver(n, nil)
	s.Run(t.Context(), Mask{})
	s.Again(t.Context(), shut)
	fresh.Run(t.Context(), shut)
	if a, b := s.SeepFlow(0), fresh.SeepFlow(0); math.Abs(a-b) > 1e-9 || b <= 0 {
		t.Errorf("the leak lets in %g, in a fresh solve %g", a, b)
	}
}
