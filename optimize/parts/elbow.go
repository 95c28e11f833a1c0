package parts

import (
	"wyewright/network"
	"wyewright/network/catalog"
	"wyewright/network/units"
	"wyewright/optimize/price"
)

// Elbows gives the lines for new elbows in a duct that stays, at a run or
// point: per bend, in degrees, the elbows of the piece as it will be bent, a
// hanger each, the time to cut out what is there and to fit the new one, and a
// joint at either end, with clamps where the family has them. A hose bends by
// itself and has none.
func (b *Builder) Elbows(where string, height units.Length, p *network.Piece, bends []float64) []Line {
	l := b.list(where, height, 8)
	_, l.point = b.o.Height[where]
	e := b.end(p)
	if e.family == nil || e.hose() {
		return nil
	}
	n := 0
	for _, degrees := range bends {
		n += l.elbows(degrees, e.family.Name, e.size, e.long)
	}
	if n == 0 {
		return nil
	}
	l.buy(price.Hanger, "", float64(n))
	l.work(price.CutOut, float64(n), "each", e.d)
	l.work(price.Fit, float64(n), "each", e.d)
	if e.family.Joint == catalog.Clamp {
		l.buy(price.Coupling, e.family.Name, float64(2*n), e.size)
	}
	l.joints(2*n, e.d)
	return l.lines
}
