package mesh_test

import (
	"context"
	"fmt"
	"testing"

	"wyewright/network/mesh"
)

// grid is a square of side × side nodes joined to their neighbours by equal
// ducts, fed at one corner and drawn at the other.
func grid(side int) *mesh.Net {
	n := &mesh.Net{Nodes: side * side, Demand: make([]float64, side*side)}
	duct := newPipe(0.2, 3, 0.09e-3, 0.3, 0.6, 1.51e-5)
	for i := range side {
		for j := range side {
			at := i*side + j
			if j+1 < side {
				n.Links = append(n.Links, mesh.Link{From: at, To: at + 1, Law: duct})
			}
			if i+1 < side {
				n.Links = append(n.Links, mesh.Link{From: at, To: at + side, Law: duct})
			}
		}
	}
	n.Links = append(n.Links, mesh.Link{From: mesh.Room, To: 0, Law: duct})
	n.Demand[side*side-1] = 1
	return n
}

// BenchmarkGrid times one solve of square grids, cold, and what it takes to lay
// one out.
func BenchmarkGrid(b *testing.B) {
	for _, side := range []int{5, 10, 30, 100} {
		n := grid(side)
		b.Run(fmt.Sprintf("layout/%d", len(n.Links)), func(b *testing.B) {
			for b.Loop() {
				mesh.NewSolver(n, nil)
			}
		})
		b.Run(fmt.Sprintf("cold/%d", len(n.Links)), func(b *testing.B) {
			s := mesh.NewSolver(n, nil)
			b.ReportAllocs()
			for b.Loop() {
				if got := s.Run(context.Background(), mesh.Mask{}); got != mesh.Converged {
					b.Fatal(got)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(n.Links)), "ns/link")
			b.ReportMetric(float64(s.Iterations()), "steps")
		})
	}
}
