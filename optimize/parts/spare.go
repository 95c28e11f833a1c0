package parts

import "wyewright/optimize/price"

// SpareCouplings is how many couplings bring one spare with them (common
// practice: one in ten).
const SpareCouplings = 10

// spare is a row of what a person takes home besides what is needed (common
// practice): one coupling more in ten, one more tube of sealant, and one more
// stick of pipe where less is left of the sticks than the waste allows for.
// Its price is what it adds to that of the row, so that both together are rounded
// once. false means none.
func (b *Builder) spare(r *Row) (Row, bool) {
	n := 0.0
	switch r.Item.Kind {
	case price.Coupling:
		n = float64(int(r.ShelfQty) / SpareCouplings)
	case price.Sealant:
		if r.ShelfUnit == "tube" {
			n = 1
		}
	case price.Pipe:
		n = max(ceil(r.Gross/r.ShelfSize)-r.ShelfQty, 0)
	}
	if n == 0 {
		return Row{}, false
	}
	return Row{Item: r.Item, Action: Buy, Spare: true, Unit: r.Unit, Quote: r.Quote, ShelfQty: n, ShelfUnit: r.ShelfUnit, ShelfSize: r.ShelfSize,
		ShelfTotal: r.Quote.Times((r.ShelfQty+n)*r.ShelfSize) - r.ShelfTotal}, true
}
