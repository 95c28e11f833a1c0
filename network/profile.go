package network

import (
	"math"
	"slices"

	"wyewright/network/units"
)

// Station is a place on the way of the air: how far from the port, and the
// suction there. Two stations at one distance are a jump.
type Station struct {
	// Name is the tool, point or collector there, empty inside a run.
	Name          string
	Distance      units.Length
	Total, Static units.Pressure // below the room, positive
}

// Profile is the suction along a way: it grows by friction along each piece,
// and jumps where the air meets a bend, a change of size or a wye. Fixed losses
// of a piece stand at its end.
func (n *Network) Profile(s *Solution, w *Way) []Station {
	spec := &n.spec
	var out []Station
	var d units.Length
	at := n.point[spec.Tools[w.Tool].Ports[w.Port].At]
	total := -s.Points[at].Total
	name := spec.Tools[w.Tool].ID
	for _, run := range w.Runs {
		q := math.Abs(float64(s.Runs[run].Flow))
		shares, pieces := n.shares(run), n.pieces[run]
		to := n.to[run]
		for i := range pieces {
			k := i
			if s.Runs[run].Flow < 0 {
				k, to = len(pieces)-1-i, n.from[run]
			}
			c := pieces[k]
			speed := units.Pressure(c.c * q * q)
			out = append(out, Station{name, d, total, total + speed})
			name = ""
			c.k = 0
			rub, _ := c.loss(q, spec.Friction)
			d += spec.Runs[run].Pieces[k].Length
			total += units.Pressure(rub)
			out = append(out, Station{name, d, total, total + speed})
			total += speed * units.Pressure(shares[k].sum())
		}
		at = to
		total, name = -s.Points[at].Total, spec.Points[at].ID
	}
	if w.Collector >= 0 {
		c := &s.Collectors[w.Collector]
		out = append(out, Station{c.ID, d, c.Total, c.Static})
	}
	return out
}

// SuctionIn is the static pressure below the room that a hole in the wall of a
// run shows, Pa, at a distance from its upstream end as the file has it: the
// total suction at the end that the air comes from, plus friction up to there,
// plus what bends and changes of size before it take, plus ½ρV² of the piece. A
// distance beyond the run means its end.
func (n *Network) SuctionIn(s *Solution, run int, distance units.Length) units.Pressure {
	spec := &n.spec
	q := math.Abs(float64(s.Runs[run].Flow))
	shares, pieces, from := slices.Clone(n.shares(run)), slices.Clone(n.pieces[run]), n.from[run]
	lengths := make([]units.Length, len(pieces))
	sum := units.Length(0)
	for k := range pieces {
		lengths[k] = spec.Runs[run].Pieces[k].Length
		sum += lengths[k]
	}
	distance = max(0, min(distance, sum))
	if s.Runs[run].Flow < 0 {
		slices.Reverse(shares)
		slices.Reverse(pieces)
		slices.Reverse(lengths)
		from, distance = n.to[run], sum-distance
	}
	total := -s.Points[from].Total
	for k, c := range pieces {
		speed := units.Pressure(c.c * q * q)
		c.k = 0
		rub, _ := c.loss(q, spec.Friction)
		if distance <= lengths[k] || k == len(pieces)-1 {
			if lengths[k] > 0 {
				total += units.Pressure(rub) * units.Pressure(distance/lengths[k])
			}
			return total + speed
		}
		distance -= lengths[k]
		total += units.Pressure(rub) + speed*units.Pressure(shares[k].sum())
	}
	return total
}
