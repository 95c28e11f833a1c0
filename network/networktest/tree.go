package networktest

import (
	"fmt"
	"math"
	"math/rand/v2"

	"wyewright/network"
	"wyewright/network/air"
	"wyewright/network/fan"
	"wyewright/network/units"
)

// Tree makes a plant of exactly that many runs, at least 3, for timing: trunks
// with a wye at every point and a tool on every loose end. Sizes carry about
// 20 m/s, so that every run matters; the fan is a parabola for the whole flow.
func Tree(rng *rand.Rand, runs int) network.Spec {
	s := network.Spec{Name: fmt.Sprintf("tree of %d runs", runs), Air: air.Standard()}
	// Every point but the root has one run toward a parent; a point takes two
	// runs at most, so that the tree is as deep as it is wide.
	parent, kids := make([]int, runs+1), make([]int, runs+1)
	open := []int{0}
	for i := 1; i <= runs; i++ {
		k := rng.IntN(len(open))
		if i%2 == 0 {
			k = len(open) - 1 // lengthen the last trunk
		}
		p := open[k]
		parent[i] = p
		if kids[p]++; kids[p] == 2 {
			open = append(open[:k], open[k+1:]...)
		}
		open = append(open, i)
	}
	tools := make([]int, runs+1)
	for i := runs; i > 0; i-- {
		if kids[i] == 0 {
			tools[i] = 1
		}
		tools[parent[i]] += tools[i]
	}
	const flow = 0.25 // m³/s of a tool
	size := func(n int) float64 { return math.Sqrt(float64(n) * flow / 20 * 4 / math.Pi) }
	s.Points = append(s.Points, network.Point{ID: "COL"})
	name := func(i int) string { return s.Points[i].ID }
	for i := 1; i <= runs; i++ {
		s.Points = append(s.Points, network.Point{ID: fmt.Sprintf("P%d", i)})
		s.Runs = append(s.Runs, network.Run{ID: fmt.Sprintf("run %d", i), From: name(i), To: name(parent[i]),
			Pieces: []network.Piece{Piece(Spiral(), size(tools[i]), 1+2*rng.Float64())}})
		if kids[i] == 0 {
			s.Tools = append(s.Tools, network.Tool{ID: "T " + name(i), Flow: flow, Transport: 17.8, Ports: []network.Port{{
				At: name(i), Diameter: units.Length(size(1)), Size: "port", Entry: 1 + rng.Float64(), Gate: &network.Gate{Open: 0.2}}}})
		}
	}
	all := float64(tools[0]) * flow
	s.Collectors = []network.Collector{{ID: "unit", At: "COL", Inlet: units.Length(size(tools[0])), InletSize: "inlet",
		Curve: fan.Quadratic{Shutoff: 6000, FreeAir: units.Flow(1.6 * all)}, Meaning: network.FanStatic,
		Filter: fan.Filter{Clean: 200 / all, Loaded: 400 / all}}}
	return s
}
