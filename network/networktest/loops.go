package networktest

import (
	"fmt"
	"math/rand/v2"

	"wyewright/network"
	"wyewright/network/air"
	"wyewright/network/fan"
	"wyewright/network/units"
)

// Looped is a shop with loops and the states in which to solve it.
type Looped struct {
	Spec   network.Spec
	States []network.State
}

// randomLooped is how many of the networks of Loops are random.
const randomLooped = 16

// Loops makes the networks that another solver is held against: sixteen random
// shops with cross-links, every second one with overrides instead of converging
// wyes, and two ring mains. Each has at least one loop; every fan is a parabola.
func Loops() []Looped {
	var out []Looped
	for seed := uint64(0); len(out) < randomLooped; seed++ {
		rng := rand.New(rand.NewPCG(seed, 41))
		o := Options{Tools: 3 + rng.IntN(4), Extra: rng.IntN(3), Leaks: rng.IntN(3), Placed: rng.IntN(2) == 0,
			Bleeds: rng.IntN(2) == 0, Odd: rng.IntN(2) == 0}
		if rng.IntN(2) == 0 {
			o.GateLeak = 3e-4 * rng.Float64()
		}
		s := Random(rng, o)
		Loop(rng, &s, 1+rng.IntN(3))
		if len(s.Runs) < len(s.Points) { // as many runs as a tree, or fewer
			continue
		}
		s.Name = fmt.Sprintf("random loops %d", seed)
		calm := len(out)%2 == 1
		for i := range s.Runs {
			k := &s.Runs[i].K
			if calm {
				k.Junction = network.Override(0.1 + 0.4*rng.Float64())
			}
			if rng.IntN(3) == 0 {
				k.Bends = network.Override(0.5 * rng.Float64())
			}
		}
		for i := range s.Collectors {
			s.Collectors[i].Curve = fan.Quadratic{Shutoff: units.Pressure(2000 + 1500*rng.Float64()), FreeAir: units.Flow(0.7 + 0.6*rng.Float64())}
		}
		out = append(out, Looped{s, twoStates(rng, &s)})
	}
	for _, d := range []units.Length{0.16, 0.125} {
		s := ring(d)
		out = append(out, Looped{s, twoStates(rand.New(rand.NewPCG(7, 42)), &s)})
	}
	return out
}

// twoStates are everything with a loaded filter, and one tool or two, the bleed
// and some gates in runs with a clean one.
func twoStates(rng *rand.Rand, s *network.Spec) []network.State {
	all, few := network.State{Name: "all"}, network.State{Name: "few", Filter: network.Clean}
	for i := range s.Tools {
		all.Running = append(all.Running, s.Tools[i].ID)
	}
	few.Running = []string{s.Tools[rng.IntN(len(s.Tools))].ID}
	few.Open = []string{s.Tools[rng.IntN(len(s.Tools))].ID}
	for i := range s.Bleeds {
		few.Open = append(few.Open, s.Bleeds[i].ID)
	}
	for i := range s.Runs {
		if s.Runs[i].Gate == nil {
			continue
		}
		switch rng.IntN(4) {
		case 0:
			few.OpenGates = append(few.OpenGates, s.Runs[i].ID)
		case 1:
			few.ShutGates = append(few.ShutGates, s.Runs[i].ID)
		}
	}
	return []network.State{all, few}
}

// ring is a ring main of eight points, fed back to the fan from one of them: a
// tool at every other one, a hose among the ducts, a bypass across, one size
// for half the ring and d for the other, a change of size inside a run.
func ring(d units.Length) network.Spec {
	s := network.Spec{Name: fmt.Sprintf("ring main of %.0f mm", 1000*float64(d)), Air: air.Standard(),
		Points: []network.Point{{ID: "COL"}}}
	run := func(from, to string, pieces ...network.Piece) {
		s.Runs = append(s.Runs, network.Run{ID: from + " " + to, From: from, To: to, Pieces: pieces})
	}
	const points = 8
	name := func(i int) string { return fmt.Sprintf("R%d", i%points) }
	for i := range points {
		s.Points = append(s.Points, network.Point{ID: name(i)})
	}
	run(name(0), "COL", Piece(Spiral(), 0.224, 4))
	// Both ways round lead to R0.
	for i := 1; i <= points/2; i++ {
		run(name(i), name(i-1), Piece(Spiral(), 0.16, 3))
	}
	for i := points / 2; i < points; i++ {
		run(name(i), name(i+1), Piece(Spiral(), float64(d), 2), Piece(Spiral(), 0.14, 1.5))
	}
	run(name(2), name(6), Piece(Spiral(), 0.112, 5))
	for i := 1; i < points; i += 2 {
		at := "P" + name(i)
		s.Points = append(s.Points, network.Point{ID: at})
		m := Spiral()
		if i == 3 {
			m = Hose()
		}
		run(at, name(i), Piece(m, 0.1, 2))
		s.Tools = append(s.Tools, network.Tool{ID: "T" + name(i), Flow: 0.15, Transport: 17.8, Ports: []network.Port{{
			At: at, Diameter: 0.1, Size: "port", Entry: 1.2, Gate: &network.Gate{Open: 0.2, Leak: 1e-4}}}})
	}
	s.Leaks = []network.Leak{{ID: "far", At: name(points / 2), Area: 2e-4}}
	s.Collectors = []network.Collector{{ID: "unit", At: "COL", Inlet: 0.2, InletSize: "200 mm",
		Curve: fan.Quadratic{Shutoff: 2800, FreeAir: 1}, Meaning: network.FanStatic, Filter: fan.Filter{Clean: 200, Loaded: 500}}}
	return s
}
