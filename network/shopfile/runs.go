package shopfile

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"wyewright/network"
	"wyewright/network/loss"
	"wyewright/network/units"
)

// pieceKeys are the keys of a piece; a run of one piece takes most of them
// itself.
var pieceKeys = []string{"size", "diameter", "family", "length", "roughness", "multiple", "k"}

// shortKeys are the keys of a piece that a run may take itself.
var shortKeys = []string{"size", "diameter", "family", "roughness", "multiple"}

var runKeys = slices.Concat([]string{"name", "from", "to", "via", "length", "pieces", "k", "gate", "main", "leak class", "new", "elbows", "rejoined"}, shortKeys)

// runs reads the section of that name, for each run:
//
//	from, to    its points, toward the collector
//	via         corners of its route: names of points, or [x, y, z]
//	length      along the run; without it the run follows its route
//	pieces      in the order of the air, see piece; or the keys of one piece
//	k           {bends, junction, steps}: coefficients known for the run as
//	            built, on the velocity pressure of its last piece
//	gate        a gate in the run, see gate
//	main        true where it is the main at its downstream point
//	leak class  of the duct's wall: ATC2 to ATC6, or SMACNA 48
//	new         true for a run that a redesign put in
//	elbows      long where they are those of long radius that the family of
//	            the last piece sells beside its usual ones
//	rejoined    true for a run whose joint at its downstream end a redesign
//	            made anew: what k of its legs says of that joint lapses
func (d *decoder) runs(n *node) {
	for _, m := range d.members(n, isRun) {
		d.define(isRun, m.name)
		f := d.fields(m.value, runKeys...)
		if f == nil {
			continue
		}
		r := network.Run{ID: m.name.text, Main: d.flag(f.at("main")), New: d.flag(f.at("new")), Rejoined: d.flag(f.at("rejoined"))}
		if n := f.need("from", "name the point the air comes from"); n != nil {
			r.From = d.point(n)
		}
		if n := f.need("to", "name the next point toward the collector"); n != nil {
			r.To = d.point(n)
		}
		r.Via = d.viaPlaces(f.at("via"))
		d.overrides(f.at("k"), &r)
		r.Gate = d.gate(f.at("gate"), "", 0, r.ID)
		r.LeakClass = d.leakClass(f.at("leak class"))
		d.runPieces(f, &r)
		d.elbows(f.at("elbows"), &r)
		d.file.Spec.Runs = append(d.file.Spec.Runs, r)
		d.runNodes = append(d.runNodes, m.name)
		d.runFields = append(d.runFields, f)
	}
}

// viaPlaces reads the corners of a route: names of points, or [x, y, z] in
// the unit of the points.
func (d *decoder) viaPlaces(n *node) []network.Vec {
	var out []network.Vec
	for _, item := range d.items(n) {
		if item.kind == sequence {
			if v, ok := d.place(item); ok {
				out = append(out, v)
			}
			continue
		}
		name, ok := d.text(item)
		if !ok {
			continue
		}
		v, placed := d.placeOf(name)
		if !placed {
			d.fault(item, didYouMean(name, d.known(isPoint)), "corner %q is not a point with coordinates", name)
			continue
		}
		d.via[name] = true
		out = append(out, v)
	}
	return out
}

// overrides reads the coefficients known for a run as built.
func (d *decoder) overrides(n *node, r *network.Run) {
	if n == nil {
		return
	}
	if n.kind == scalar {
		d.fault(n, "write k: {bends: …, junction: …, steps: …}, each on the velocity pressure of the run's last piece",
			"k of a run needs to say what it replaces")
		return
	}
	f := d.fields(n, "bends", "junction", "steps")
	if v, ok := d.number(f.at("bends"), 0); ok {
		r.K.Bends = network.Override(v)
	}
	// A junction may drive the air: its coefficient can be negative.
	if v, ok := d.number(f.at("junction"), leastJunction); ok {
		r.K.Junction = network.Override(v)
	}
	if v, ok := d.number(f.at("steps"), 0); ok {
		r.K.Steps = network.Override(v)
	}
}

// leastJunction is the lowest coefficient that is believed of a junction: a
// stream gains no more than a few velocity pressures from another (the through
// leg of Bassett, Winterbone & Pearson 2001 ends at −4.4 for 45 degrees and a
// branch of a quarter of the area).
const leastJunction = -4.5

// leakClass reads "ATC4" or "SMACNA 48" as m³/s per m² at 1 Pa.
func (d *decoder) leakClass(n *node) float64 {
	s, ok := d.text(n)
	if !ok {
		return 0
	}
	if c, ok := loss.LeakClass(s); ok {
		return c
	}
	if digits, found := strings.CutPrefix(s, "SMACNA "); found {
		if v, err := strconv.ParseFloat(digits, 64); err == nil && v >= 0 && v <= 1000 {
			return loss.SMACNAClass(v)
		}
	}
	d.fault(n, "ATC2 (tightest) to ATC6, or SMACNA with a number: SMACNA 48", "leak class %q is not known", s)
	return 0
}

// runPieces reads the pieces of a run, in either form.
func (d *decoder) runPieces(f *fields, r *network.Run) {
	list := f.at("pieces")
	if list == nil {
		if f.given["pieces"] {
			return
		}
		p, ok := d.pieceOf(f)
		length, _ := d.pieceLength(f.at("length"), p)
		if ok {
			p.Length = length
			r.Pieces = []network.Piece{p}
		}
		return
	}
	for _, key := range shortKeys {
		if n := f.at(key); n != nil {
			d.fault(n, "write it in the pieces it belongs to", "run %q has both pieces and %s", r.ID, key)
		}
	}
	items := d.items(list)
	if len(items) == 0 && list.kind == sequence && len(list.items) == 0 {
		d.fault(list, "pieces: [{size: 160 mm, family: dust spiral}]", "run %q has no pieces", r.ID)
	}
	good := len(items) > 0
	for _, item := range items {
		p, ok := d.piece(item)
		good = good && ok
		r.Pieces = append(r.Pieces, p)
	}
	if good {
		d.shareLength(f, items, r)
	}
}

// shareLength gives what is left of the run's stated length to the piece that
// has none.
func (d *decoder) shareLength(f *fields, items []*node, r *network.Run) {
	open, sum := -1, units.Length(0)
	for i, p := range r.Pieces {
		switch {
		case p.Length > 0:
			sum += p.Length
		case open >= 0:
			d.fault(items[i], "give all but one piece a length", "two pieces of run %q have no length", r.ID)
			return
		default:
			open = i
		}
	}
	n := f.at("length")
	if n == nil {
		return
	}
	total, ok := d.length(n, positive)
	switch {
	case !ok:
	case open < 0 && math.Abs(float64(total-sum)) > 0.001*float64(total)+0.0005:
		d.fault(n, "leave one of them out", "length %q: the pieces add up to %s", n.text, sum.Text(d.file.Units))
	case open >= 0 && total <= sum:
		d.fault(n, "", "length %q: nothing is left for the piece without a length", n.text)
	case open >= 0:
		r.Pieces[open].Length = total - sum
	}
}

// piece reads one piece of a list:
//
//	size, family  as the catalogue has them
//	diameter      the true inner diameter, for duct that it does not have
//	length        one piece of a run may leave it out and takes the rest
//	roughness     of the wall
//	multiple      of hose: friction over that of smooth pipe
//	k             what it loses on top: a kink, a crushed spot
func (d *decoder) piece(n *node) (network.Piece, bool) {
	f := d.fields(n, pieceKeys...)
	if f == nil {
		return network.Piece{}, false
	}
	p, good := d.pieceOf(f)
	length, ok := d.pieceLength(f.at("length"), p)
	if p.Length = length; !good || !ok && f.given["length"] {
		return p, false
	}
	if k := f.at("k"); k != nil {
		p.K, _ = d.number(k, 0)
	}
	return p, true
}

// pieceLength reads the length of a piece, 0 where it follows the route.
func (d *decoder) pieceLength(n *node, p network.Piece) (units.Length, bool) {
	l, ok := d.length(n, notNegative)
	if ok && l == 0 {
		what := "a piece"
		if p.Make.Hose() {
			what = "a hose"
		}
		d.fault(n, "give its length, or take the piece out", "length %q: %s of no length", n.text, what)
		return 0, false
	}
	return l, ok
}

// pieceOf reads size, family and make from the keys of a piece or of a run.
func (d *decoder) pieceOf(f *fields) (network.Piece, bool) {
	family := d.file.defaults.family
	if n := f.at("family"); n != nil {
		name, ok := d.text(n)
		if !ok {
			return network.Piece{}, false
		}
		family = name
	} else if family == "" || f.given["family"] {
		f.need("family", "known: "+list(d.catalog.Names(), 12))
		return network.Piece{}, false
	}
	fam, ok := d.catalog.Family(family)
	if !ok {
		d.fault(f.at("family"), familyHint(family, d.catalog.Names()), "there is no family %q", family)
		return network.Piece{}, false
	}
	size, p := f.at("size"), network.Piece{Make: fam.Make}
	if n := f.at("diameter"); n != nil {
		v, ok := d.length(n, positive)
		if !ok {
			return p, false
		}
		p.Size, p.Diameter = n.text, v
		if size != nil {
			p.Size = size.text
		}
	} else {
		if size == nil {
			f.need("size", "the size it is sold by: "+sizesNear(fam, 0))
			return p, false
		}
		if p, ok = d.catalogPiece(size, fam); !ok {
			return p, false
		}
	}
	d.file.defaults.apply(&p)
	if n := f.at("roughness"); n != nil {
		if v, ok := d.length(n, notNegative); ok {
			p.Make.Roughness = v
		}
	}
	if n := f.at("multiple"); n != nil {
		if v, ok := d.number(n, 1); ok {
			p.Make.Multiple = v
		}
	}
	if d.badRoughness(f, p) {
		return p, false
	}
	return p, true
}

// badRoughness reports a wall so rough that it is a mistyped unit: friction
// laws end at one twentieth of the diameter.
func (d *decoder) badRoughness(f *fields, p network.Piece) bool {
	n := f.at("roughness")
	if n == nil || float64(p.Make.Roughness) <= 0.05*float64(p.Diameter) {
		return false
	}
	d.fault(n, "steel has 0.05 to 0.15 mm", "roughness %q: more than a twentieth of the diameter", n.text)
	return true
}
