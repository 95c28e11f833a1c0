package network_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"wyewright/network"
	"wyewright/network/networktest"
)

// BenchmarkTree times one solve of trees with full physics and every tool
// open: cold from the first guess, warm from the answer with the filter in its
// other state. Time per run shows whether the cost is linear.
func BenchmarkTree(b *testing.B) {
	for _, runs := range []int{20, 200, 2000, 20000} {
		n, err := network.New(networktest.Tree(rand.New(rand.NewPCG(uint64(runs), 20)), runs))
		if err != nil {
			b.Fatal(err)
		}
		b.Run(fmt.Sprintf("cold/%d", runs), func(b *testing.B) { timeSolve(b, n, (*network.Solver).Run) })
		b.Run(fmt.Sprintf("warm/%d", runs), func(b *testing.B) { timeSolve(b, n, (*network.Solver).Again) })
	}
}

// allOpen is the case in which every tool runs.
func allOpen(b testing.TB, n *network.Network) *network.Case {
	st := network.State{}
	for _, tool := range n.Spec().Tools {
		st.Running = append(st.Running, tool.ID)
	}
	c, err := n.Case(st)
	if err != nil {
		b.Fatal(err)
	}
	return c
}

// timeSolve solves a case with the loaded and the clean filter in turn.
func timeSolve(b *testing.B, n *network.Network, solve func(*network.Solver, context.Context, *network.Case) network.Status) {
	loaded := allOpen(b, n)
	clean := loaded.Clone()
	clean.Filter = network.Clean
	cases := [2]*network.Case{loaded, clean}
	solver := network.NewSolver(n, nil)
	for _, c := range cases {
		solver.Run(b.Context(), c)
	}
	b.ReportAllocs()
	b.ResetTimer()
	i := 0
	for b.Loop() {
		if solve(solver, b.Context(), cases[i&1]) != network.Converged {
			b.Fatal(solver.Status())
		}
		i++
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(n.Spec().Runs)), "ns/run")
}
