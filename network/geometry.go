package network

import (
	"math"

	"wyewright/network/units"
)

// Route is the way a run takes through the shop.
type Route struct {
	// Placed is false where an end has no coordinates: then there are no
	// corners and Length is 0.
	Placed bool
	Length units.Length
	// Corners are the bends inside the run, degrees.
	Corners []float64
	// Path holds the corner points with both ends.
	Path []Vec
	// Start and End are unit vectors of the first and last leg.
	Start, End Vec
	// Rise is the share of the length that is vertical.
	Rise float64
}

// minLeg is the shortest leg that counts, metres: below it two places are one.
const minLeg = 1e-6

// straightDegrees is the bend below which a joint counts as straight.
const straightDegrees = 5

func (v Vec) sub(w Vec) Vec      { return Vec{v.X - w.X, v.Y - w.Y, v.Z - w.Z} }
func (v Vec) dot(w Vec) float64  { return v.X*w.X + v.Y*w.Y + v.Z*w.Z }
func (v Vec) norm() float64      { return math.Sqrt(v.dot(v)) }
func (v Vec) over(s float64) Vec { return Vec{v.X / s, v.Y / s, v.Z / s} }

// angle returns the degrees between two unit vectors.
func angle(a, b Vec) float64 {
	return math.Acos(max(-1, min(1, a.dot(b)))) * 180 / math.Pi
}

// axes returns the corners of the way along the axes between two places. The
// vertical leg stands at the lower end (a drop to a machine, or the way down
// to the collector); next to the upper end runs the longer horizontal leg.
func axes(a, b Vec) []Vec {
	if b.Z < a.Z { // the way down is the way up read backwards
		up := axes(b, a)
		for i, j := 0, len(up)-1; i < j; i, j = i+1, j-1 {
			up[i], up[j] = up[j], up[i]
		}
		return up
	}
	path := []Vec{a, {a.X, a.Y, b.Z}}
	if math.Abs(b.X-a.X) <= math.Abs(b.Y-a.Y) {
		path = append(path, Vec{b.X, a.Y, b.Z})
	} else {
		path = append(path, Vec{a.X, b.Y, b.Z})
	}
	return append(path, b)
}

// route computes the way of a run between two points.
func route(r *Run, from, to *Point) Route {
	if !from.Placed || !to.Placed {
		return Route{}
	}
	return RouteOf(from.At, to.At, r.Via)
}

// RouteOf is the way between two places through corners; without any it follows the
// axes, as Run.Via says. Two places closer than a micrometre are one.
func RouteOf(from, to Vec, via []Vec) Route {
	path := axes(from, to)
	if len(via) > 0 {
		path = append(append([]Vec{from}, via...), to)
	}
	out := Route{Placed: true, Path: []Vec{path[0]}}
	var last Vec
	var length, rise float64
	for _, p := range path[1:] {
		leg := p.sub(out.Path[len(out.Path)-1])
		l := leg.norm()
		if l < minLeg {
			continue
		}
		dir := leg.over(l)
		length += l
		rise += math.Abs(leg.Z)
		switch bend := angle(last, dir); {
		case len(out.Path) == 1:
			out.Start = dir
		case bend > straightDegrees:
			out.Corners = append(out.Corners, bend)
		}
		last = dir
		out.Path = append(out.Path, p)
	}
	out.End = last
	out.Length = units.Length(length)
	if length > 0 {
		out.Rise = rise / length
	}
	return out
}
