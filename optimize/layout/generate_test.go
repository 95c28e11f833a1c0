package layout

import (
	"math"
	"math/rand/v2"

	"wyewright/optimize/core"
)

// sizes are inner diameters in mm. All data of generated problems are invented.
var sizes = []float64{60, 80, 100, 112, 125, 140, 160, 180, 200, 225, 250, 280, 315, 355}

// ducts makes options for a length in m with loss factor k: friction 0.02·L/D
// and fittings at 1.2 kg/m³, costs in cents, SI units.
func ducts(rng *rand.Rand, count int, length, k float64) []core.Option {
	var list []core.Option
	first := 0
	if count < len(sizes) {
		first = rng.IntN(len(sizes) - count - 2)
	}
	for _, mm := range sizes[first : first+count] {
		d := mm / 1000
		area := math.Pi / 4 * d * d
		price := 300 + 9*mm + 0.02*mm*mm
		list = append(list, core.Option{Cost: int64(length * price * (0.95 + 0.1*rng.Float64())),
			Resistance: 0.6 * (k + 0.02*length/d) / (area * area), Area: area})
	}
	return list
}

// grid makes tools on a grid of points, options on every edge, the root in a
// corner; with a fan that is too strong (tighten it).
func grid(seed uint64, wide, high, tools, options int, transport float64) *Problem {
	rng := rand.New(rand.NewPCG(seed, 3))
	p := &Problem{Points: wide * high, Exponent: 2, Transport: transport}
	for y := range high {
		for x := range wide {
			v := y*wide + x
			if x+1 < wide {
				p.Edges = append(p.Edges, Edge{A: v, B: v + 1, Options: ducts(rng, options, 1.5+2*rng.Float64(), 0.2+0.3*rng.Float64())})
			}
			if y+1 < high {
				p.Edges = append(p.Edges, Edge{A: v, B: v + wide, Options: ducts(rng, options, 1.5+2*rng.Float64(), 0.2+0.3*rng.Float64())})
			}
		}
	}
	for _, v := range rng.Perm(p.Points - 1)[:tools] {
		p.Terminals = append(p.Terminals, Terminal{Point: v + 1, Flow: (400 + 1000*rng.Float64()) / 3600})
	}
	setHead(p, 20000)
	return p
}

// setHead gives a fan that moves nothing more at twice the largest flow.
func setHead(p *Problem, head float64) {
	free := 2 * 1400.0 / 3600
	p.Fan = core.Fan{Head: head, Curve: head / (free * free)}
}
