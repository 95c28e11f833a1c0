package parts

import (
	"math"

	"wyewright/network"
	"wyewright/network/catalog"
	"wyewright/network/units"
	"wyewright/optimize/price"
)

// end is what a duct offers to the next one: an end of a piece, of a wye, or a
// spigot of a machine.
type end struct {
	size    string
	d       units.Length // true inner diameter, for seams and labour
	nominal units.Length
	// family is nil for a spigot and for a duct that the catalogue does not
	// know: such an end takes any family of about its size.
	family *catalog.Family
	// fitting says that the end belongs to a fitting, not to a cut pipe.
	fitting bool
	// long says that its duct is bent with elbows of long radius.
	long bool
}

func (e *end) hose() bool { return e.family != nil && e.family.Hose }

func (b *Builder) end(p *network.Piece) end {
	e := end{size: p.Size, d: p.Diameter, nominal: p.Diameter}
	if f, ok := b.Catalog.Family(p.Make.Family); ok {
		if s, ok := f.Size(p.Size); ok {
			e.family, e.nominal, e.size, e.long = f, s.Nominal, s.Name, f.Long(&p.Make)
		}
	}
	return e
}

// spigot is the end of a machine or collector; its size decides, or d where
// the size cannot be read.
func spigot(size string, d units.Length) end {
	if n, err := catalog.ParseSize(size); err == nil {
		d = n
	}
	return end{size: size, d: d, nominal: d}
}

func fitting(f *catalog.Family, s catalog.Size) end {
	return end{size: s.Name, d: s.Diameter, nominal: s.Nominal, family: f, fitting: true}
}

// slipLimit is the relative difference of nominal size that a clamp or a
// sealed sleeve closes without an adapter: 100 mm and 4 in differ by 1.6 %,
// 120 mm and 125 mm by 4 % (common practice).
const slipLimit = 0.025

func slips(a, b units.Length) bool {
	return math.Abs(float64(a-b)) <= slipLimit*float64(max(a, b))
}

// connect adds what joins two ends after a bend: elbows of the first duct, an
// adapter where families differ, one reducer where sizes differ, the couplings
// that the fittings need among each other, seals and labour. It reports false
// where the trade sells no such change of size. A hose bends by itself.
func (l *list) connect(from end, bend float64, to end) (sold bool) {
	n, elbows := 0, 0
	if bend > 0 && from.family != nil && !from.hose() {
		elbows = l.elbows(bend, from.family.Name, from.size, from.long)
		n += elbows
	}
	steps, sold := l.step(from, to)
	n += steps
	d := max(from.d, to.d)
	l.buy(price.Hanger, "", float64(elbows))
	l.work(price.Fit, float64(n), "each", d)

	joints := n + 1
	for _, e := range []*end{&from, &to} {
		if e.hose() {
			joints-- // a clamp of the hose closes it
		}
	}
	f := to.family
	if f == nil || f.Hose {
		f = from.family
	}
	if joints <= 0 || f == nil || f.Hose {
		return sold
	}
	l.joints(joints, d)
	l.couplings(f, &from, &to, n, joints)
	return sold
}

// couplings adds those that n fittings of family f between two ends need, as
// the family's kind of joint has it.
func (l *list) couplings(f *catalog.Family, from, to *end, n, joints int) {
	up, down := from.size, to.size
	if from.family != f {
		up = down
	} else if to.family != f {
		down = up
	}
	pipes := n == 0 && joints == 1 && !from.fitting && !to.fitting && from.family != nil && to.family != nil
	switch {
	case f.Joint == catalog.Clamp:
		l.buy(price.Coupling, f.Name, float64(joints), down)
	case pipes && (f.Joint == catalog.Sleeve || f.Joint == catalog.Bell):
		l.buy(price.Coupling, f.Name, 1, down)
	case n > 0 && f.Joint == catalog.Sleeve:
		// Where fittings touch: among each other, and a fitting at either end.
		touching := n - 1
		if from.fitting {
			touching++
		}
		l.buy(price.Coupling, f.Name, float64(touching), up)
		if to.fitting {
			l.buy(price.Coupling, f.Name, 1, down)
		}
	}
}

// step buys the adapter and the reducer between two ends, and returns how many
// fittings these are.
func (l *list) step(from, to end) (n int, sold bool) {
	switch a, b := from.family, to.family; {
	case a == nil && b == nil:
		return 0, true
	case a != nil && b != nil && a == b:
		if from.size == to.size {
			if a.Hose {
				l.buy(price.Coupling, a.Name, 1, to.size)
			}
			return 0, true
		}
		l.buy(price.Reducer, a.Name, 1, from.size, to.size)
		return 1, a.Reducer(from.size, to.size)
	case b == nil || to.hose():
		if a == nil {
			return l.reach(to, from)
		}
		return l.reach(from, to)
	case a == nil || from.hose():
		return l.reach(to, from)
	}
	// Two families of pipe: the change of size is made in the downstream
	// family if it is sold there, else in the other one.
	if l.b.reaches(to, from) || !l.b.reaches(from, to) {
		return l.reach(to, from)
	}
	return l.reach(from, to)
}

// reaches reports whether the family of e sells a change of size to its mate
// for the other end.
func (b *Builder) reaches(e, other end) bool {
	m, ok := e.family.Mate(other.size)
	return ok && e.family.Reducer(e.size, m.Name)
}

// reach brings the end e, which has a family, to another end: a reducer in e's
// family to the size that mates with the other end, and an adapter where that
// mate does not slip on by itself.
func (l *list) reach(e, other end) (n int, sold bool) {
	f := e.family
	loose := other.family == nil || other.hose() || f.Hose // ends that a clamp or sleeve closes
	if loose && slips(e.nominal, other.nominal) && (!f.Plastic || other.hose()) {
		return 0, true
	}
	m, ok := f.Mate(other.size)
	if !ok {
		if other.family != nil && !other.hose() && !f.Hose {
			return 0, false
		}
		// A spigot or hose of a size that the family does not know: a change
		// of size made to order, priced by its larger end.
		l.buy(price.Reducer, f.Name, 1, e.size, other.size)
		return 1, true
	}
	sold = true
	if m.Name != e.size {
		l.buy(price.Reducer, f.Name, 1, e.size, m.Name)
		n, sold = 1, f.Hose || f.Reducer(e.size, m.Name)
	}
	if !(loose && slips(m.Nominal, other.nominal)) || f.Plastic && !other.hose() {
		l.buy(price.Adapter, f.Name, 1, m.Name, other.size)
		n++
	}
	return n, sold
}
