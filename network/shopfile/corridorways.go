package shopfile

import (
	"math"
	"slices"

	"wyewright/network"
	"wyewright/network/units"
)

// checkCorridors judges the corridors once all points and runs are known.
func (d *decoder) checkCorridors() {
	before := len(d.faults)
	for i := range d.ways {
		c := &d.ways[i]
		switch {
		case c.From == "" || c.To == "":
		case c.From == c.To:
			d.fault(c.name, "name two points", "corridor %q starts and ends at %s", c.ID, c.From)
		case d.stray(c.from, c.From) || d.stray(c.to, c.To):
		default:
			d.corridorLength(c)
			d.doubled(i)
		}
	}
	if len(d.faults) == before {
		d.deadEnds()
	}
	d.routesAllowed()
}

// stray reports a point that nothing but this one corridor knows.
func (d *decoder) stray(n *node, name string) bool {
	if _, placed := d.placeOf(name); placed || d.misplaced[name] || d.corridorAt[name] > 1 || d.usedPoints()[name] || d.named[name].what != isPoint {
		return false
	}
	hint := "give it coordinates, or let another corridor or a run meet it"
	if near := Nearest(name, d.otherPoints(name)); near != "" {
		hint = didYouMean(name, d.otherPoints(name))
	}
	d.fault(n, hint, "there is no point named %q", name)
	return true
}

// corridorLength checks the length of a corridor against the places of its
// points.
func (d *decoder) corridorLength(c *placedCorridor) {
	from, ok1 := d.placeOf(c.From)
	to, ok2 := d.placeOf(c.To)
	switch {
	case d.misplaced[c.From] || d.misplaced[c.To]:
	case !ok1 || !ok2:
		if c.length == nil {
			d.fault(c.name, "add length: 3.2 m, or give both its points coordinates", "corridor %q has no length", c.ID)
		}
	case c.length == nil:
		if _, along := spans(from, to, c.Via); along < 1e-6 {
			d.fault(c.name, "add a length, or correct the coordinates", "corridor %q: its points are at the same place", c.ID)
		}
	case c.Length > 0:
		if straight, _ := spans(from, to, c.Via); float64(c.Length) < straight*0.99 {
			d.warn(c.length, "check the length and the coordinates", "corridor %q is %.2f m long, but its points are %.2f m apart",
				c.ID, float64(c.Length), straight)
		}
	}
}

// doubled reports a corridor that goes the way of a run or of an earlier
// corridor: between the same points by the same corners, and as long.
func (d *decoder) doubled(i int) {
	c := &d.ways[i].Corridor
	for k, r := range d.file.Spec.Runs {
		w := Corridor{From: r.From, To: r.To, Via: r.Via, Length: statedLength(r.Pieces)}
		if d.file.sameWay(c, &w) {
			d.fault(d.ways[i].name, "take it out: what lies there may be replaced where redesign.may has resize",
				"corridor %q goes the way of run %q in %s", c.ID, r.ID, d.runNodes[k].where())
			return
		}
	}
	for k := range d.ways[:i] {
		if d.file.sameWay(c, &d.ways[k].Corridor) {
			d.fault(d.ways[i].name, "take one of them out", "corridor %q goes the way of corridor %q in line %d",
				c.ID, d.ways[k].ID, d.ways[k].Line)
			return
		}
	}
}

// sameWay reports whether two ways join the same points by the same corners;
// of lengths that differ by more than a hundredth they are two ways all the same.
func (f *File) sameWay(a, b *Corridor) bool {
	via := slices.Clone(b.Via)
	switch {
	case a.From == b.From && a.To == b.To:
	case a.From == b.To && a.To == b.From:
		slices.Reverse(via)
	default:
		return false
	}
	if x, y := f.wayLength(a), f.wayLength(b); x > 0 && y > 0 && math.Abs(x-y) > 0.01*x {
		return false
	}
	return slices.EqualFunc(a.Via, via, samePlace)
}

// wayLength is the length of a way in metres, 0 where nothing says it.
func (f *File) wayLength(c *Corridor) float64 {
	from, ok1 := f.placeOf(c.From)
	to, ok2 := f.placeOf(c.To)
	if c.Length > 0 || !ok1 || !ok2 {
		return float64(c.Length)
	}
	_, along := spans(from, to, c.Via)
	return along
}

// statedLength is the sum of the pieces, 0 where one of them follows the route.
func statedLength(pieces []network.Piece) units.Length {
	sum := units.Length(0)
	for _, p := range pieces {
		if p.Length == 0 {
			return 0
		}
		sum += p.Length
	}
	return sum
}

// samePlace reports two places less than a micrometre apart along each axis.
func samePlace(a, b network.Vec) bool {
	return math.Abs(a.X-b.X) < readBack && math.Abs(a.Y-b.Y) < readBack && math.Abs(a.Z-b.Z) < readBack
}
