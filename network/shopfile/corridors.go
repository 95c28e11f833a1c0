package shopfile

import (
	"wyewright/network"
	"wyewright/network/units"
)

// Corridor is a way along which new duct may run, in either direction.
type Corridor struct {
	ID string
	// From and To are points; From stands first in the file and says no more
	// than that.
	From, To string
	// Via are corners between the two, from From to To. Without any the way
	// follows the axes, as that of a run.
	Via []network.Vec
	// Length along the way; 0 where it follows from the places of the points.
	Length units.Length
	// Cost multiplies material and work of duct there; 1 where the file is
	// silent, always above 0.
	Cost float64
	// Largest is the nominal size of the largest duct that fits; 0 means that
	// any does.
	Largest units.Length
	// Not lists the families that may not run there.
	Not          []string
	Line, Column int
}

// maxCost bounds the factor on the cost of a corridor: what is farther off is a
// price, not a factor.
const maxCost = 100

// placedCorridor is a corridor with the nodes it was read from.
type placedCorridor struct {
	Corridor
	name, from, to, length *node
}

var corridorKeys = []string{"name", "from", "to", "via", "length", "cost", "largest", "not"}

// corridors reads the section of that name, the ways along which new duct may
// run, for each:
//
//	from, to  its points; also points at which nothing else stands
//	via       corners, as those of a run
//	length    along the way; without it the way follows its points
//	cost      factor on material and work of duct there; default 1
//	largest   largest size that fits
//	not       families that may not run there
//
// A corridor has no direction.
func (d *decoder) corridors(n *node) {
	for _, m := range d.members(n, isCorridor) {
		d.define(isCorridor, m.name)
		f := d.fields(m.value, corridorKeys...)
		if f == nil {
			continue
		}
		c := placedCorridor{name: m.name, length: f.at("length")}
		c.ID, c.Cost, c.Line, c.Column = m.name.text, 1, m.name.line, m.name.col
		c.from, c.From = d.corridorEnd(f.need("from", "name one of its two points"))
		c.to, c.To = d.corridorEnd(f.need("to", "name the other of its two points"))
		c.Via = d.viaPlaces(f.at("via"))
		c.Length, _ = d.length(c.length, positive)
		if v, ok := d.number(f.at("cost"), 0); ok {
			c.Cost = v
			if v == 0 || v > maxCost {
				d.fault(f.at("cost"), "a factor on material and work: 1 for duct in the open, 1.5 where it is hard to hang",
					"cost %q: must be above 0 and at most %d", f.at("cost").text, maxCost)
			}
		}
		c.Largest, _ = d.length(f.at("largest"), positive)
		for _, item := range d.items(f.at("not")) {
			if name, ok := d.familyName(item); ok {
				c.Not = append(c.Not, name)
			}
		}
		if f.given["length"] && c.Length == 0 {
			c.length = f.n // a fault was reported
		}
		d.ways = append(d.ways, c)
		d.file.Corridors = append(d.file.Corridors, c.Corridor)
	}
}

// corridorEnd reads the name of an end, and remembers that a corridor is there.
func (d *decoder) corridorEnd(n *node) (*node, string) {
	if n == nil {
		return nil, ""
	}
	name := d.point(n)
	d.corridorAt[name]++
	return n, name
}
