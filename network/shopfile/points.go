package shopfile

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"wyewright/network"
	"wyewright/network/units"
)

// pointUnits are the units in which coordinates may be given.
var pointUnits = map[string]units.Length{"m": units.Metre, "cm": 0.01, "mm": units.Millimetre, "ft": units.Foot, "in": units.Inch}

// points reads the coordinates, {unit, at: {name: [x, y, z]}}: the one place
// where numbers stand without a unit, because one is given for all. A point
// that is only named in runs and ports needs no coordinates, but its runs then
// need a length. z points up.
// Under at may stand the name of a table with the columns point, x, y and z. It
// returns false where that cannot be read.
func (d *decoder) points(n *node) bool {
	if n == nil {
		return true
	}
	f := d.fields(n, "unit", "at")
	if f == nil {
		return true
	}
	if w, ok := d.word(f.need("unit", "give one unit for all coordinates: unit: m"), "m", "cm", "mm", "ft", "in"); ok {
		d.unit, d.file.unit = pointUnits[w], pointUnits[w]
	}
	at := f.need("at", "name the points: at: {J1: [1.5, 4.5, 3.0]}")
	if at == nil {
		return true
	}
	if at.kind == scalar && !at.refused {
		if at = d.pointsTable(at); at == nil {
			return false
		}
	}
	for _, m := range d.members(at, isPoint) {
		d.define(isPoint, m.name)
		if v, ok := d.place(m.value); ok {
			d.file.places = append(d.file.places, network.Point{ID: m.name.text, At: v, Placed: true})
			continue
		}
		d.misplaced[m.name.text] = true
		d.bare = append(d.bare, m.name.text)
	}
	return true
}

// place reads [x, y, z].
func (d *decoder) place(n *node) (network.Vec, bool) {
	if n.refused {
		return network.Vec{}, false
	}
	if n.kind != sequence || len(n.items) != 3 {
		d.fault(n, "write three numbers: [x, y, z], z upward", "%s must be a place of three numbers", n.label)
		return network.Vec{}, false
	}
	var v [3]float64
	good := true
	for i, item := range n.items {
		s, ok := d.text(item)
		if !ok {
			good = false
			continue
		}
		x, err := strconv.ParseFloat(s, 64)
		switch {
		case err != nil && strings.Contains(s, ","):
			d.fault(item, "write a decimal point", "coordinate %q: comma in the number", s)
			good = false
		case err != nil && !notFinite(s):
			d.fault(item, "the unit of all coordinates stands under unit", "coordinate %q: not a bare number", s)
			good = false
		case err != nil || math.IsNaN(x) || math.IsInf(x, 0):
			d.fault(item, "", "coordinate %q: not a finite number", s)
			good = false
		case math.Abs(x*float64(d.unit)) > maxPlace:
			d.fault(item, "the unit of all coordinates stands under unit", "coordinate %q: more than %g m from the origin", s, maxPlace)
			good = false
		}
		v[i] = x * float64(d.unit)
	}
	return network.Vec{X: v[0], Y: v[1], Z: v[2]}, good
}

// maxPlace bounds a coordinate: no workshop is larger than ten kilometres.
const maxPlace = 1e4

// placeOf returns the coordinates of a point.
func (d *decoder) placeOf(name string) (network.Vec, bool) { return d.file.placeOf(name) }

func (f *File) placeOf(name string) (network.Vec, bool) {
	for _, p := range f.places {
		if p.ID == name {
			return p.At, p.Placed
		}
	}
	return network.Vec{}, false
}

// addBarePoints lists the points without coordinates behind the others, and
// takes out those that are only corners of a route, or ends of corridors.
func (d *decoder) addBarePoints() {
	s := &d.file.Spec
	used := d.usedPoints()
	all := slices.Clone(d.file.places)
	for _, name := range d.bare {
		all = append(all, network.Point{ID: name})
	}
	for _, p := range all {
		switch {
		case used[p.ID]:
			s.Points = append(s.Points, p)
		case d.corridorAt[p.ID] > 0:
			d.file.CorridorPoints = append(d.file.CorridorPoints, p)
		case !d.via[p.ID] || !p.Placed:
			s.Points = append(s.Points, p)
		}
	}
}

// usedPoints are the points at which something stands or ends.
func (d *decoder) usedPoints() map[string]bool {
	return pointsOf(&d.file.Spec)
}

// pointsOf are the points of a shop at which something stands or ends.
func pointsOf(s *network.Spec) map[string]bool {
	used := map[string]bool{}
	for _, c := range s.Collectors {
		used[c.At] = true
	}
	for _, r := range s.Runs {
		used[r.From], used[r.To] = true, true
	}
	for _, t := range s.Tools {
		for _, p := range t.Ports {
			used[p.At] = true
		}
	}
	for _, l := range s.Leaks {
		used[l.At] = true
	}
	for _, b := range s.Bleeds {
		used[b.At] = true
	}
	return used
}
