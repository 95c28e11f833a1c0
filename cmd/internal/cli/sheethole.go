package cli

import (
	"fmt"
	"math"
	"strings"

	"wyewright/network"
	"wyewright/network/units"
)

// sheetHole is a place to read at: a hole, or the tap at a collector.
type sheetHole struct {
	Number   int    `json:"number"`
	Place    string `json:"place"`
	Drill    string `json:"drill"`
	Distance string `json:"distance,omitempty"` // from the upstream end of the run
	Diameter string `json:"diameter"`
	Straight string `json:"straight,omitempty"` // behind and before, diameters
	Mark     string `json:"mark,omitempty"`
	Depths   string `json:"traverse,omitempty"` // from the wall
}

// hole is where to drill into a run.
type hole struct {
	diameter units.Length
	straight units.Length // of the straight pipe; 0 where there is none
	behind   units.Length // from the fitting upstream of it
	distance units.Length // from the upstream end of the run
	bends    bool         // known where they are
}

// Diameters of straight pipe behind a fitting, and before the next one (common
// practice).
const (
	wantedBehind = 8.5
	wantedBefore = 1.5
)

// holeIn finds the place to read a run: in the longest straight part of its
// narrowest pipe, which is the one that a reading of a run speaks of. It divides
// that part as the wanted lengths do, so that both are had or both are short.
func holeIn(n *network.Network, run int) hole {
	pieces, route := n.Spec().Runs[run].Pieces, n.Route(run)
	h := hole{diameter: pieces[0].Diameter, bends: route.Placed}
	total := units.Length(0)
	for _, p := range pieces {
		h.diameter = min(h.diameter, p.Diameter)
		total += p.Length
	}
	ends := bendsAlong(route, total)
	start := units.Length(0)
	for _, p := range pieces {
		end := start + p.Length
		if !p.Make.Hose() && p.Diameter == h.diameter {
			from := start
			for _, to := range append(ends, end) {
				if to = min(to, end); to-from > h.straight {
					h.straight, h.distance = to-from, from
				}
				from = max(from, to)
			}
		}
		start = end
	}
	h.behind = h.straight * wantedBehind / (wantedBehind + wantedBefore)
	h.distance += h.behind
	return h
}

// bendsAlong are the corners of a route, drawn to the length of the run.
func bendsAlong(route network.Route, total units.Length) []units.Length {
	var ends []units.Length
	along := units.Length(0)
	for i := 1; i < len(route.Path); i++ {
		a, b := route.Path[i-1], route.Path[i]
		along += units.Length(math.Hypot(math.Hypot(b.X-a.X, b.Y-a.Y), b.Z-a.Z))
		ends = append(ends, along/route.Length*total)
	}
	return ends
}

// describe says where to drill, how straight the pipe is, and how deep to go.
func (h *hole) describe(run *network.Run, sys units.System) sheetHole {
	behind, before := float64(h.behind/h.diameter), float64((h.straight-h.behind)/h.diameter)
	out := sheetHole{Place: run.ID, Diameter: h.diameter.DiameterText(sys), Drill: h.distance.Text(sys) + " from " + run.From, Distance: h.distance.Text(sys),
		Straight: fmt.Sprintf("%s / %s", number(behind, 1), number(before, 1))}
	var marks []string
	if behind < wantedBehind-1e-9 {
		marks = append(marks, "short, its longest straight part: read twice")
	}
	if !h.bends {
		marks = append(marks, "if straight: the file has no bends")
	}
	out.Mark = strings.Join(marks, "; ")
	var depths []string
	for _, d := range traverseDepths(h.diameter) {
		digits := 0
		if sys == units.US {
			digits = 2
		}
		depths = append(depths, number(d.DiameterIn(sys), digits))
	}
	out.Depths = strings.Join(depths, ", ")
	return out
}

// tap is the place to read a collector's suction at.
func tap(c *network.Collector, sys units.System) sheetHole {
	return sheetHole{Place: c.ID, Drill: "tap in the wall of its inlet", Diameter: c.Inlet.DiameterText(sys)}
}
