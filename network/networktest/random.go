// Package networktest makes random shops for tests. Everything in them is
// invented.
package networktest

import (
	"fmt"
	"math/rand/v2"

	"wyewright/network"
	"wyewright/network/air"
	"wyewright/network/fan"
	"wyewright/network/loss"
	"wyewright/network/units"
)

// Sizes are the diameters that Random uses, metres.
var Sizes = []float64{0.100, 0.112, 0.125, 0.140, 0.160, 0.180, 0.200, 0.224, 0.250}

// Options of Random.
type Options struct {
	// Tools is the number of tools, at least 1.
	Tools int
	// Extra is the number of two-run points put into branches.
	Extra int
	// GateLeak is the free area of every shut gate, m².
	GateLeak float64
	// Leaks is the number of leaks.
	Leaks int
	// Placed gives the points coordinates.
	Placed bool
	// Overrides gives some runs as-built coefficients.
	Overrides bool
	// Bleeds puts a bleed inlet at the far end of the trunk.
	Bleeds bool
	// Odd adds what most shops do not have: gates in runs, leaking seams, a
	// second port, a humped fan curve, a separator.
	Odd bool
}

// Spiral is the make of a usual steel duct.
func Spiral() network.Make {
	return network.Make{Family: "steel", Roughness: 0.09e-3, Elbow: loss.FivePiece, ElbowRD: 1.5, WyeDegrees: 45, TaperDegrees: 30}
}

// Hose is the make of a usual hose.
func Hose() network.Make {
	return network.Make{Family: "hose", Roughness: 0.03e-3, Multiple: 3, Elbow: loss.Smooth, ElbowRD: 1.5, WyeDegrees: 45, TaperDegrees: 30}
}

// Piece is a piece of a size with the make's name for it.
func Piece(m network.Make, diameter, length float64) network.Piece {
	return network.Piece{Size: fmt.Sprintf("%.0f mm", diameter*1000), Diameter: units.Length(diameter), Length: units.Length(length), Make: m}
}

// Random makes a shop: a trunk with branches to it, every tool behind a gate.
func Random(rng *rand.Rand, o Options) network.Spec {
	s := network.Spec{Name: "random", Air: air.Standard()}
	pick := func(lo, hi int) float64 { return Sizes[lo+rng.IntN(hi-lo)] }
	point := func(id string, x, y, z float64) {
		s.Points = append(s.Points, network.Point{ID: id, At: network.Vec{X: x, Y: y, Z: z}, Placed: o.Placed})
	}
	run := func(id, from, to string, d, length float64, m network.Make) {
		r := network.Run{ID: id, From: from, To: to, Pieces: []network.Piece{Piece(m, d, length)}}
		if o.Overrides && rng.IntN(2) == 0 {
			r.K.Junction = network.Override(rng.Float64() * 0.5)
			if rng.IntN(2) == 0 {
				r.K.Bends = network.Override(rng.Float64() * 0.6)
			}
		}
		s.Runs = append(s.Runs, r)
	}
	point("COL", 0, 0, 1.5)
	prev, at := "COL", 0.0
	junctions := 1 + rng.IntN(o.Tools)
	for j := range junctions {
		id := fmt.Sprintf("J%d", j+1)
		at += 2 + rng.Float64()*3
		point(id, at, 0, 3)
		run(fmt.Sprintf("trunk %d", j+1), id, prev, pick(4, 9), 2+rng.Float64()*4, Spiral())
		prev = id
	}
	tools := map[int]int{}
	for k := range o.Tools {
		j := 1 + rng.IntN(junctions)
		if k == 0 {
			j = junctions // no dead end
		}
		tools[j]++
		to := fmt.Sprintf("J%d", j)
		id := fmt.Sprintf("T%d", k+1)
		side := 1.0
		if tools[j]%2 == 0 {
			side = -1
		}
		x, _ := s.Points[j].At.X, 0
		point("P"+id, x, side*(2+rng.Float64()*3), 1)
		from := "P" + id
		d := pick(0, 5)
		if k < o.Extra {
			mid := "M" + id
			point(mid, x, side*1.5, 3)
			m := Spiral()
			if rng.IntN(2) == 0 {
				m = Hose()
			}
			run("tail "+id, from, mid, pick(0, 5), 1+rng.Float64()*3, m)
			from = mid
		}
		run("drop "+id, from, to, d, 1.5+rng.Float64()*4, Spiral())
		port := Sizes[1+rng.IntN(4)]
		gate := &network.Gate{Open: 0.2, Leak: units.Area(o.GateLeak)}
		need := (17 + rng.Float64()*6) * 0.7854 * port * port
		s.Tools = append(s.Tools, network.Tool{ID: id, Flow: units.Flow(need), Transport: 17.8,
			Ports: []network.Port{{At: "P" + id, Diameter: units.Length(port), Size: "port", Entry: 1 + 1.5*rng.Float64(), Gate: gate}}})
	}
	for l := range o.Leaks {
		s.Leaks = append(s.Leaks, network.Leak{ID: fmt.Sprintf("L%d", l+1), At: fmt.Sprintf("J%d", 1+rng.IntN(junctions)),
			Area: units.Area((1 + 5*rng.Float64()) * 1e-4)})
	}
	if o.Bleeds {
		s.Bleeds = []network.Bleed{{ID: "bleed", At: fmt.Sprintf("J%d", junctions), Size: "125 mm", Diameter: 0.125, K: 1.5}}
	}
	if o.Odd {
		odd(rng, &s, at)
	}
	shut := 2200 + 1500*rng.Float64()
	free := 0.6 + 0.8*rng.Float64()
	hump := 1.0
	if o.Odd && rng.IntN(2) == 0 {
		hump = 0.8
	}
	curve, err := fan.NewTable([]fan.Point{{Flow: 0, Pressure: units.Pressure(hump * shut)}, {Flow: units.Flow(free / 2), Pressure: units.Pressure(0.85 * shut)},
		{Flow: units.Flow(0.8 * free), Pressure: units.Pressure(0.5 * shut)}, {Flow: units.Flow(free), Pressure: units.Pressure(0.05 * shut)}})
	if err != nil {
		panic("networktest: " + err.Error())
	}
	s.Collectors = []network.Collector{{ID: "unit", At: "COL", Inlet: 0.2, InletSize: "200 mm", Curve: curve, Meaning: network.FanStatic,
		Filter: fan.Filter{Clean: 200, Loaded: 500}}}
	if o.Odd && rng.IntN(2) == 0 {
		s.Collectors[0].Meaning = network.SuctionAtInlet
		s.Collectors[0].Separator = &fan.Separator{Heads: 3, Inlet: 0.05}
	}
	return s
}

// odd adds the rarer parts of a shop; far is where the trunk ends.
func odd(rng *rand.Rand, s *network.Spec, far float64) {
	for i := range s.Runs {
		switch rng.IntN(4) {
		case 0:
			s.Runs[i].LeakClass = 0.027e-3 * rng.Float64()
		case 1:
			s.Runs[i].Gate = &network.Gate{Open: 0.2, Leak: units.Area(float64(rng.IntN(2)) * 1e-4)}
		}
	}
	tool := &s.Tools[rng.IntN(len(s.Tools))]
	if rng.IntN(2) == 0 {
		second := tool.Ports[0]
		s.Points = append(s.Points, network.Point{ID: "second", At: network.Vec{X: far / 2, Y: 2.5, Z: 1}, Placed: s.Points[0].Placed})
		s.Runs = append(s.Runs, network.Run{ID: "drop second", From: "second", To: "J1", Pieces: []network.Piece{Piece(Spiral(), 0.1, 4)}})
		second.At = "second"
		if rng.IntN(2) == 0 {
			second.Min = tool.Flow / 5
		}
		tool.Ports = append(tool.Ports, second)
	}
}
