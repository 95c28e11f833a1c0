package network

import (
	"math"

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
