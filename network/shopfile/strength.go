package shopfile

import (
	"wyewright/network"
	"wyewright/network/collapse"
	"wyewright/network/units"
)

// The bounds of what a file may say of the strength of duct. A wall below the
// least or above the most is a slip; no suction exceeds the pressure of the air.
const (
	leastWall units.Length   = 0.0001
	mostWall  units.Length   = 0.02
	mostStood units.Pressure = 101325
)

// Stands is the suction that a piece is said to stand: the file's limit for its
// family, else the estimate by the file's wall or that of the pipe's standard,
// else what the catalogue has.
func (f *File) Stands(p network.Piece) collapse.Limit {
	if v, ok := f.defaults.stands[p.Make.Family]; ok {
		return collapse.Limit{Suction: v, Basis: collapse.Stated}
	}
	fam, ok := f.catalog.Family(p.Make.Family)
	if !ok {
		return collapse.Limit{}
	}
	return fam.Stands(p.Size, p.Diameter, f.defaults.wall[p.Make.Family])
}

// strength reads defaults.wall, {family: 0.5 mm or 26 ga}, and
// defaults.collapse, {family: 2500 Pa}: the thickness of its wall, and the
// suction that its maker states.
func (d *decoder) strength(f *fields) {
	s := &d.file.defaults
	s.wall, s.stands = map[string]units.Length{}, map[string]units.Pressure{}
	d.byFamily(f.at("wall"), "{dust spiral: 0.5 mm, snap-lock: 28 ga}", func(n *node, name string, hose bool) {
		v, ok := quantity(d, n, collapse.ParseWall, positive)
		switch {
		case !ok:
		case hose:
			d.fault(n, "give the suction that its maker states under collapse: instead", "wall %q: hose is held open by its wire, not by its wall", n.text)
		case v < leastWall || v > mostWall:
			d.fault(n, "sheet-metal duct has walls of 0.4 to 1.5 mm (30 ga to 16 ga)", "wall %q: not between 0.1 and 20 mm", n.text)
		default:
			s.wall[name] = v
		}
	})
	d.byFamily(f.at("collapse"), "{dust spiral: 2500 Pa}", func(n *node, name string, _ bool) {
		v, ok := quantity(d, n, units.ParsePressure, positive)
		switch {
		case !ok:
		case v > mostStood:
			d.fault(n, "give the suction that the maker of the duct states, such as 2500 Pa or 10 in wg", "collapse %q: more than the air can press", n.text)
		default:
			s.stands[name] = v
		}
	})
}

// byFamily calls do for each family of a mapping by families.
func (d *decoder) byFamily(n *node, example string, do func(n *node, name string, hose bool)) {
	if n != nil && n.kind != mapping && !n.refused {
		d.fault(n, "write it by family: "+example, "%s must name families", n.label)
		return
	}
	f := d.fields(n, d.catalog.Names()...)
	if f == nil {
		return
	}
	for _, e := range n.entries {
		if v := f.at(e.key.text); v != nil {
			fam, _ := d.catalog.Family(e.key.text)
			do(v, fam.Name, fam.Hose)
		}
	}
}
