package parts

import (
	"slices"
	"strings"

	"wyewright/network/units"
	"wyewright/optimize/price"
)

// Place is where some of a row goes.
type Place struct {
	// Where is a run, or with Point a point; Runs are the runs there between
	// which it lies, as in Line.
	Where string
	Point bool
	Runs  [2]string
	// Qty is the net quantity there, in the unit of the row.
	Qty float64
}

// String returns the place in words: "in main 2", "at J3 (saw drop to main 2)".
func (p *Place) String() string {
	if !p.Point {
		return "in " + p.Where
	}
	s := "at " + p.Where
	switch from, to := p.Runs[0], p.Runs[1]; {
	case from != "" && to != "":
		s += " (" + from + " to " + to + ")"
	case from != "" || to != "":
		s += " (" + from + to + ")"
	}
	return s
}

// atPoint reports whether a line belongs to a point: something at one price in
// place is given by name alone.
func (b *Builder) atPoint(l *Line) bool {
	_, known := b.o.Height[l.Where]
	return l.Point || l.Item.Kind == price.Whole && known
}

// place adds a line to the places of a row.
func (r *Row) place(l *Line, point bool) {
	p := Place{l.Where, point, l.Runs, l.Qty}
	if r.Everywhere() || r.Item.Kind == price.Hanger || r.Item == price.Work(price.Join) {
		p.Runs = [2]string{} // one of them is like the other
	}
	if i := slices.IndexFunc(r.Places, func(q Place) bool { return q.Where == p.Where && q.Point == p.Point && q.Runs == p.Runs }); i >= 0 {
		r.Places[i].Qty += p.Qty
		return
	}
	r.Places = append(r.Places, p)
}

// Where says where a row goes: "2 in main 2; at J3 (saw drop to main 2)". It is
// empty where nothing is known, and for spares.
func (r *Row) Where(sys units.System) string {
	var out []string
	for i := range r.Places {
		p := &r.Places[i]
		s := p.String()
		if amount := Amount(p.Qty, r.Unit, sys); r.Unit != "each" || amount != "1" {
			s = amount + " " + s
		}
		out = append(out, s)
	}
	return strings.Join(out, "; ")
}

// Everywhere reports whether a row is a consumable of every joint, whose places
// say little.
func (r *Row) Everywhere() bool {
	return r.Item.Kind == price.Sealant || r.Item.Kind == price.Screws
}
