package networktest

import (
	"fmt"
	"math/rand/v2"
	"slices"

	"wyewright/network"
	"wyewright/network/units"
)

// Any makes a shop of any kind: of one run to some hundreds, every second one
// with loops, some with a second collector, humped fans, leaks, gates in runs,
// runs written the wrong way round.
func Any(rng *rand.Rand) network.Spec {
	o := Options{Tools: 1 + rng.IntN(8), Leaks: rng.IntN(3), Placed: rng.IntN(2) == 0, Overrides: rng.IntN(3) == 0,
		Bleeds: rng.IntN(2) == 0, Odd: rng.IntN(2) == 0}
	if rng.IntN(10) == 0 {
		o.Tools = 1 + rng.IntN(140)
	}
	o.Extra = rng.IntN(o.Tools + 1)
	if rng.IntN(2) == 0 {
		o.GateLeak = 3e-4 * rng.Float64()
	}
	s := Random(rng, o)
	if rng.IntN(2) == 0 {
		Loop(rng, &s, 1+rng.IntN(4))
	}
	return s
}

// Loop adds that many cross-links between points of a shop, or a second
// collector, or both, and turns some runs round. It needs two junctions; a shop
// with fewer stays as it is.
func Loop(rng *rand.Rand, s *network.Spec, links int) {
	var inner []string
	for _, p := range s.Points {
		joined := 0
		for _, r := range s.Runs {
			if r.From == p.ID || r.To == p.ID {
				joined++
			}
		}
		if joined > 1 {
			inner = append(inner, p.ID)
		}
	}
	if len(inner) < 2 {
		return
	}
	for k := range links {
		i := rng.IntN(len(inner) - 1)
		j := i + 1 + rng.IntN(len(inner)-1-i)
		from, to := inner[i], inner[j]
		if rng.IntN(2) == 0 {
			from, to = to, from
		}
		r := network.Run{ID: fmt.Sprintf("link %d", k+1), From: from, To: to,
			Pieces: []network.Piece{Piece(Spiral(), Sizes[rng.IntN(len(Sizes))], 1+4*rng.Float64())}}
		if rng.IntN(4) == 0 {
			r.Gate = &network.Gate{Open: 0.2, Leak: units.Area(float64(rng.IntN(2)) * 1e-4)}
		}
		s.Runs = append(s.Runs, r)
	}
	if rng.IntN(3) == 0 {
		at := s.Points[0].At
		at.X, at.Y = at.X+20*rng.Float64(), at.Y+10
		s.Points = append(s.Points, network.Point{ID: "COL2", At: at, Placed: s.Points[0].Placed})
		s.Runs = append(s.Runs, network.Run{ID: "trunk of 2", From: inner[rng.IntN(len(inner))], To: "COL2",
			Pieces: []network.Piece{Piece(Spiral(), Sizes[4+rng.IntN(5)], 2+4*rng.Float64())}})
		second := s.Collectors[0]
		second.ID, second.At = "unit 2", "COL2"
		s.Collectors = append(slices.Clone(s.Collectors), second)
	}
	for i := range s.Runs {
		if r := &s.Runs[i]; rng.IntN(6) == 0 {
			r.From, r.To = r.To, r.From
			if len(network.Slips(s)) > 0 { // only runs on a loop may go either way
				r.From, r.To = r.To, r.From
			}
		}
	}
}
