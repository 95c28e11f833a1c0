package network

import (
	"errors"
	"fmt"
	"slices"
)

// A Slip is a run or point of a shop with loops whose direction cannot be meant:
// the file says by the direction of the runs which way the wyes are made.
type Slip struct {
	// Run leads away from the only side of it that has a collector; −1 where
	// it is a point that is wrong.
	Run int
	// Point is where every run ends and none leads on, without a collector.
	Point int
}

// Slips finds what in a shop of any layout is written the wrong way round. Runs
// on a loop, and those that join two collectors, may go either way.
func Slips(s *Spec) []Slip {
	t := &topology{}
	var f faults
	t.index(s, &f)
	t.connect(s, &f)
	if len(f) > 0 || t.root < 0 {
		return nil
	}
	return t.slips()
}

func (t *topology) slips() []Slip {
	out := t.away()
	for p := range t.outs {
		if len(t.outs[p]) == 0 && len(t.in[p]) > 1 && !slices.Contains(t.homes, p) &&
			!slices.ContainsFunc(out, func(s Slip) bool { return s.Run >= 0 && t.to[s.Run] == p }) {
			out = append(out, Slip{Run: -1, Point: p})
		}
	}
	return out
}

// away finds the runs without which the shop falls apart, and that lead from
// the part with a collector to the part without one: the bridges of the graph,
// by the times and least reachable times of a depth-first walk (Tarjan 1974, from
// memory).
func (t *topology) away() []Slip {
	var out []Slip
	n := len(t.outs)
	time, low, fans := make([]int, n), make([]int, n), make([]int, n)
	for _, p := range t.homes {
		fans[p]++
	}
	clock := 0
	var walk func(p, by int)
	walk = func(p, by int) {
		clock++
		time[p], low[p] = clock, clock
		visit := func(r, q int, leaves bool) {
			switch {
			case r == by:
			case time[q] > 0:
				low[p] = min(low[p], time[q])
			default:
				walk(q, r)
				low[p] = min(low[p], low[q])
				fans[p] += fans[q]
				if low[q] > time[p] && fans[q] == 0 && leaves {
					out = append(out, Slip{Run: r, Point: -1})
				}
			}
		}
		for _, r := range t.outs[p] {
			visit(r, t.to[r], true)
		}
		for _, r := range t.in[p] {
			visit(r, t.from[r], false)
		}
	}
	walk(t.root, -1)
	slices.SortFunc(out, func(a, b Slip) int { return a.Run - b.Run })
	return out
}

// refuse turns slips into faults.
func (t *topology) refuse(s *Spec) error {
	var f faults
	for _, slip := range t.slips() {
		if slip.Run >= 0 {
			f.add("runs/"+s.Runs[slip.Run].ID, "leads away from the collector", "exchange its from and to")
		} else {
			f.add("points/"+s.Points[slip.Point].ID, fmt.Sprintf("no run leaves point %q", s.Points[slip.Point].ID),
				"exchange from and to of the run that leads on")
		}
	}
	return errors.Join(f...)
}
