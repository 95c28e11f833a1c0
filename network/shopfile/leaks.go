package shopfile

import (
	"slices"

	"wyewright/network"
	"wyewright/network/units"
)

// bleedK is the loss of a bleed inlet's screen and gate on its own velocity
// pressure (common practice).
const bleedK = 1.5

var leakKeys = []string{"name", "at", "area", "cd", "seal"}

// leaks reads the section of that name, for each opening {at, area, cd, seal}.
// The area is the free one; cd is its discharge coefficient, 0.62 where the
// file is silent. seal is what closing it costs, "yes" where that is not known,
// "no" (or nothing) where it cannot be closed, or {cost, leaves}.
func (d *decoder) leaks(n *node) {
	for _, m := range d.members(n, isLeak) {
		d.define(isLeak, m.name)
		f := d.fields(m.value, leakKeys...)
		if f == nil {
			continue
		}
		l := network.Leak{ID: m.name.text}
		if at := f.need("at", "name the point it is nearest to"); at != nil {
			l.At = d.point(at)
		}
		l.Area, _ = quantity(d, f.need("area", "the free area: area: 4 cm2"), units.ParseArea, notNegative)
		if cd := f.at("cd"); cd != nil {
			v, ok := d.number(cd, 0)
			if ok && (v == 0 || v > 1) {
				d.fault(cd, "a sharp edge has 0.62", "cd %q: must be above 0 and at most 1", cd.text)
			}
			l.Cd = v
		}
		d.file.Seals = append(d.file.Seals, d.seal(f.at("seal"), m.name, l))
		d.file.Spec.Leaks = append(d.file.Spec.Leaks, l)
	}
}

// seal reads what it costs to close a leak: an amount, yes, no, or keys.
func (d *decoder) seal(n, name *node, l network.Leak) Seal {
	s := Seal{Leak: l.ID, Line: name.line, Column: name.col}
	if n == nil || n.refused {
		return s
	}
	s.Line, s.Column = n.line, n.col
	switch {
	case n.kind == mapping:
		f := d.fields(n, "cost", "leaves")
		s.Allowed = true
		s.Cost = d.amount(f.need("cost", "what sealing costs: cost: 12 EUR"))
		s.Leaves = d.leaves(f, l.Area)
	case n.text == "no" || n.text == "false":
	case n.text == "yes" || n.text == "true":
		s.Allowed = true
	default:
		s.Cost = d.amount(n)
		s.Allowed = s.Cost.Given
	}
	return s
}

var bleedKeys = []string{"name", "at", "size", "diameter", "k", "leak"}

// bleeds reads the section of that name: a bare name is a point at which a
// bleed inlet may be built, a mapping is one that exists.
func (d *decoder) bleeds(n *node) {
	for _, item := range d.items(n) {
		if item.kind == scalar {
			if name, ok := d.text(item); ok && d.refer(item, name, isPoint) {
				d.bleedNodes = append(d.bleedNodes, item)
				d.file.BleedPoints = append(d.file.BleedPoints, name)
			}
			continue
		}
		f := d.fields(item, bleedKeys...)
		if f == nil {
			continue
		}
		b := network.Bleed{K: bleedK}
		if name := f.need("name", ""); name != nil {
			if s, ok := d.text(name); ok {
				d.define(isBleed, name)
				b.ID = s
			}
		}
		if at := f.need("at", "name its point"); at != nil {
			b.At = d.point(at)
		}
		b.Size, b.Diameter = d.opening(f)
		if v, ok := d.number(f.at("k"), 0); ok {
			b.K = v
		}
		if v, ok := quantity(d, f.at("leak"), units.ParseArea, notNegative); ok {
			b.Leak = v
		}
		d.file.Spec.Bleeds = append(d.file.Spec.Bleeds, b)
	}
}

// ducted reports whether a point is one of the shop as built, and records a
// fault where it is only a corner of a route or an end of corridors.
func (d *decoder) ducted(n *node, name string) bool {
	if slices.ContainsFunc(d.file.Spec.Points, func(p network.Point) bool { return p.ID == name }) {
		return true
	}
	d.fault(n, "name a point at which a run starts or ends", "no duct meets at point %s", name)
	return false
}
