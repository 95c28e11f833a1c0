package shopfile

import (
	"errors"
	"math"
	"slices"
	"strings"

	"wyewright/network"
	"wyewright/network/catalog"
	"wyewright/network/loss"
	"wyewright/network/units"
)

// openGate and closedLeak are the gate of a port that says no more than that
// it has one: K of a fully open slide, and 0.25 in² of gap when closed (common
// practice).
var (
	openGate              = loss.Gate(1)
	closedLeak units.Area = 0.25 * 0.0254 * 0.0254
)

// defaults are what the file says once for all its parts.
type defaults struct {
	family    string
	roughness map[string]units.Length // by family; "" for every rigid one
	multiple  float64                 // of hose; 0 where not given
	wye       float64                 // branch angle, degrees; 0 where not given
	gate      *network.Gate
	repair    *Repair // of any gate at a port
	dust      string
	wall      map[string]units.Length   // by family
	stands    map[string]units.Pressure // by family
}

// apply changes a piece from the catalogue as the file says.
func (s *defaults) apply(p *network.Piece) {
	hose := p.Make.Hose()
	if hose && s.multiple > 0 {
		p.Make.Multiple = s.multiple
	}
	if s.wye > 0 {
		p.Make.WyeDegrees = s.wye
	}
	if v, ok := s.roughness[p.Make.Family]; ok {
		p.Make.Roughness = v
	} else if v, ok := s.roughness[""]; ok && !hose {
		p.Make.Roughness = v
	}
}

// Piece makes a piece as Decode does: from the catalogue, with the roughness
// the hose multiple that the file sets for all its ducts, and what was fitted. The errors are
// those of the catalogue. A length of 0 follows the route.
func (f *File) Piece(family, size string, length units.Length) (network.Piece, error) {
	return f.pieceAs(&f.Fitted, family, size, length)
}

// pieceAs makes a piece with a fit in force.
func (f *File) pieceAs(t *network.Factors, family, size string, length units.Length) (network.Piece, error) {
	fam, err := f.catalog.Lookup(family)
	if err != nil {
		return network.Piece{}, err
	}
	p, err := fam.Piece(size, length)
	if err != nil {
		return network.Piece{}, err
	}
	f.defaults.apply(&p)
	t.Make(&p.Make)
	return p, nil
}

// defaults reads the section of that name: {family, roughness, multiple, wye,
// gate, dust, wall, collapse}; wye is the branch angle of the shop's wyes, the
// repair of the gate that of every gate at a port. A roughness for all ducts leaves hose alone; one by family does not.
func (d *decoder) defaults(n *node) {
	s := &d.file.defaults
	s.dust = "chips"
	if n == nil {
		return
	}
	f := d.fields(n, "family", "roughness", "multiple", "wye", "gate", "dust", "wall", "collapse")
	d.strength(f)
	if v := f.at("family"); v != nil {
		s.family, _ = d.familyName(v)
	}
	s.roughness = d.roughnesses(f.at("roughness"))
	if v, ok := d.number(f.at("multiple"), 1); ok {
		s.multiple = v
	}
	if v, ok := quantity(d, f.at("wye"), units.ParseAngle, positive); ok {
		if s.wye = float64(v); s.wye < 15 || s.wye > 90 {
			d.fault(f.at("wye"), "give the angle between branch and main, such as 45 deg", "wye %q: not between 15 and 90 degrees", f.at("wye").text)
		}
	}
	s.gate = d.gate(f.at("gate"), "", 0, "")
	if n := len(d.file.Repairs); n > 0 {
		s.repair, d.file.Repairs = &d.file.Repairs[n-1], nil
	}
	if w, ok := d.word(f.at("dust"), d.classes...); ok {
		s.dust = w
	}
}

// familyName reads the name of a family of the catalogue.
func (d *decoder) familyName(n *node) (string, bool) {
	s, ok := d.text(n)
	if !ok {
		return "", false
	}
	fam, ok := d.catalog.Family(s)
	if !ok {
		d.fault(n, familyHint(s, d.catalog.Names()), "there is no family %q", s)
		return "", false
	}
	return fam.Name, true
}

// roughnesses reads one roughness, or one by family.
func (d *decoder) roughnesses(n *node) map[string]units.Length {
	if n == nil {
		return nil
	}
	out := map[string]units.Length{}
	if n.kind == scalar {
		if v, ok := d.roughness(n); ok {
			out[""] = v
		}
		return out
	}
	f := d.fields(n, d.catalog.Names()...)
	if f == nil {
		return nil
	}
	for _, e := range n.entries {
		if v, ok := d.roughness(f.at(e.key.text)); ok {
			out[e.key.text] = v
		}
	}
	return out
}

// maxRoughness bounds a roughness that holds for every size: rusted iron has
// 3 mm (from memory).
const maxRoughness units.Length = 0.003

func (d *decoder) roughness(n *node) (units.Length, bool) {
	v, ok := d.length(n, notNegative)
	if ok && v > maxRoughness {
		d.fault(n, "steel has 0.05 to 0.15 mm", "roughness %q: rougher than any duct", n.text)
		return 0, false
	}
	return v, ok
}

// catalogPiece looks a size up and says what sizes there are.
func (d *decoder) catalogPiece(n *node, fam *catalog.Family) (network.Piece, bool) {
	s, ok := d.text(n)
	if !ok {
		return network.Piece{}, false
	}
	p, err := fam.Piece(s, 0)
	if err == nil {
		return p, true
	}
	nominal, sizeErr := catalog.ParseSize(s)
	var pe *units.ParseError
	switch {
	case errors.As(sizeErr, &pe):
		// Reads the text once more, for the same message as any length.
		d.length(n, positive)
	case sizeErr != nil:
		d.fault(n, "", "size %q: must be above zero", s)
	default:
		d.fault(n, "nearest: "+sizesNear(fam, nominal)+"; for another duct add its true inner diameter: diameter: …",
			"%s is not sold in size %q", fam.Name, s)
	}
	return network.Piece{}, false
}

// sizesNear lists the three sizes of a family that are nearest to a length.
func sizesNear(fam *catalog.Family, nominal units.Length) string {
	sizes := slices.Clone(fam.Sizes)
	slices.SortStableFunc(sizes, func(a, b catalog.Size) int {
		da, db := math.Abs(float64(a.Nominal-nominal)), math.Abs(float64(b.Nominal-nominal))
		switch {
		case da < db:
			return -1
		case da > db:
			return 1
		}
		return 0
	})
	near := sizes[:min(3, len(sizes))]
	slices.SortFunc(near, func(a, b catalog.Size) int {
		if a.Nominal < b.Nominal {
			return -1
		}
		return 1
	})
	var names []string
	for _, s := range near {
		names = append(names, s.Name)
	}
	return strings.Join(names, ", ")
}

// gate reads a gate: yes, no, or {open, leak, repair, leaves}: its coefficient
// when open, its free area when closed, what it costs to make it tight and what
// it leaks then. Tool and port, or run, say whose gate it is.
func (d *decoder) gate(n *node, tool string, port int, run string) *network.Gate {
	if n == nil {
		return nil
	}
	g := network.Gate{Open: openGate, Leak: closedLeak}
	if def := d.file.defaults.gate; def != nil {
		g = *def
	}
	if n.kind == scalar {
		w, ok := d.word(n, "yes", "no")
		if !ok || w == "no" {
			return nil
		}
		d.repair(&g, tool, port)
		return &g
	}
	f := d.fields(n, "open", "leak", "repair", "leaves")
	if f == nil {
		return nil
	}
	if v, ok := d.number(f.at("open"), 0); ok {
		g.Open = v
	}
	if v, ok := quantity(d, f.at("leak"), units.ParseArea, notNegative); ok {
		g.Leak = v
	}
	if r := f.at("repair"); r != nil {
		rep := Repair{Tool: tool, Port: port, Run: run, Cost: d.amount(r), Line: r.line, Column: r.col}
		rep.Leaves = d.leaves(f, g.Leak)
		d.file.Repairs = append(d.file.Repairs, rep)
	} else {
		d.repair(&g, tool, port)
	}
	return &g
}

// repair offers the repair that the defaults have for a gate at a port, where it
// leaves less than the gate leaks.
func (d *decoder) repair(g *network.Gate, tool string, port int) {
	if def := d.file.defaults.repair; def != nil && tool != "" && g.Leak > def.Leaves {
		own := *def
		own.Tool, own.Port = tool, port
		d.file.Repairs = append(d.file.Repairs, own)
	}
}

// leaves reads the area that stays open after a repair.
func (d *decoder) leaves(f *fields, now units.Area) units.Area {
	n := f.at("leaves")
	v, ok := quantity(d, n, units.ParseArea, notNegative)
	if ok && v > now {
		d.fault(n, "", "leaves %q: more than leaks now", n.text)
	}
	return v
}
