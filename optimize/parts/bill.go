package parts

import (
	"cmp"
	"slices"

	"wyewright/network/catalog"
	"wyewright/network/units"
	"wyewright/optimize/price"
)

// Row is one item of a bill, gathered over all places.
type Row struct {
	Item   price.Item
	Action Action
	// Qty is the net quantity, Gross the one with waste, in Unit.
	Qty, Gross float64
	Unit       string
	Hours      float64
	Quote      price.Quote
	// Unpriced says that the item is to be bought and has no price.
	Unpriced bool
	// Total is the planning cost: the sum of the lines, each rounded by
	// itself, so that it can differ from Gross × price by cents.
	Total price.Money
	// Net is the price of Qty, without waste.
	Net price.Money
	// ShelfQty, in ShelfUnit of ShelfSize each, is what a shop sells for it;
	// ShelfTotal is its price.
	ShelfQty   float64
	ShelfUnit  string
	ShelfSize  float64
	ShelfTotal price.Money
}

// Bill is the bill of materials and work of a plan.
type Bill struct {
	Currency             price.Currency
	Date, Region, Source string
	Crew                 price.Crew
	Rate                 price.Money
	Waste                float64
	// Rows are in order of action, kind, family and size.
	Rows []Row
	// Materials and Labour add up to Planning, the J of the search: exactly
	// what Builder.Cost gives for the same lines.
	Materials, Labour, Planning price.Money
	// Net is Planning without waste: a lower bound of Shelf less Freight.
	Net price.Money
	// Shelf is materials in whole sticks and packs, with labour and freight.
	// It is not what the search makes least.
	Shelf, Freight price.Money
	Hours          float64
	// Unpriced names items to buy that have no price: then the sums are no
	// cost of the whole.
	Unpriced []string
}

// rowKey tells which lines are one row.
type rowKey struct {
	item   price.Item
	action Action
}

// Bill gathers lines into a bill.
func (b *Builder) Bill(lines []Line) *Bill {
	bill := &Bill{Currency: b.Book.Currency, Date: b.Book.Date, Region: b.Book.Region, Source: b.Book.Source,
		Crew: b.o.Crew, Rate: b.o.Rate, Waste: b.o.Waste}
	at := map[rowKey]int{}
	for i := range lines {
		l := &lines[i]
		k := rowKey{l.Item, l.Action}
		n, ok := at[k]
		if !ok {
			n = len(bill.Rows)
			at[k] = n
			bill.Rows = append(bill.Rows, Row{Item: l.Item, Action: l.Action, Unit: l.Unit})
		}
		r := &bill.Rows[n]
		r.Qty += l.Qty
		r.Gross += l.Gross()
		r.Hours += l.Hours
		total, quote, priced := b.price(l)
		r.Total += total
		r.Quote, r.Unpriced = quote, !priced
	}
	b.sort(bill.Rows)
	sticks := map[price.Item]int{}
	for _, s := range b.CutList(lines) {
		sticks[price.Item{Kind: price.Pipe, Family: s.Family, Sizes: [3]string{s.Size}}]++
	}
	for i := range bill.Rows {
		b.finish(bill, &bill.Rows[i], sticks)
	}
	bill.Planning = bill.Materials + bill.Labour
	bill.Net += bill.Labour
	bill.Shelf += bill.Labour
	if len(bill.Rows) > 0 {
		bill.Freight = b.o.Freight
	}
	bill.Shelf += bill.Freight
	return bill
}

// finish fills the shelf side of a row and adds it to the sums.
func (b *Builder) finish(bill *Bill, r *Row, sticks map[price.Item]int) {
	switch {
	case r.Action == Work:
		bill.Labour += r.Total
		bill.Hours += r.Hours
	case r.Unpriced:
		bill.Unpriced = append(bill.Unpriced, r.Item.String())
	case r.Action == Buy:
		b.shelf(r, sticks[r.Item])
		r.Net = r.Quote.Times(r.Qty)
		bill.Materials += r.Total
		bill.Net += r.Net
		bill.Shelf += r.ShelfTotal
	}
}

// SpareCouplings is how many couplings bring one spare with them (common
// practice: one in ten).
const SpareCouplings = 10

// shelf rounds a row up to what a shop sells: pipe in sticks, enough for the
// length with waste and for the cut list; all else in whole units of its price
// (hose by the metre or foot, sealant by the tube), couplings with one spare in
// ten.
func (b *Builder) shelf(r *Row, sticks int) {
	r.ShelfUnit, r.ShelfSize = r.Quote.Unit, r.Quote.Per
	if f, ok := b.Catalog.Family(r.Item.Family); ok && r.Item.Kind == price.Pipe && f.Stick > 0 {
		r.ShelfUnit, r.ShelfSize = "stick", float64(f.Stick)
	}
	r.ShelfQty = max(ceil(r.Gross/r.ShelfSize), float64(sticks))
	if r.Item.Kind == price.Coupling {
		r.ShelfQty += float64(int(r.ShelfQty) / SpareCouplings)
	}
	r.ShelfTotal = r.Quote.Times(r.ShelfQty * r.ShelfSize)
}

// sort orders rows by action, kind, family and size.
func (b *Builder) sort(rows []Row) {
	type rank struct{ sizes [3]units.Length }
	ranks := map[price.Item]rank{}
	for i := range rows {
		var k rank
		for n, s := range rows[i].Item.Sizes {
			if d, err := catalog.ParseSize(s); err == nil {
				k.sizes[n] = d
			}
		}
		ranks[rows[i].Item] = k
	}
	slices.SortStableFunc(rows, func(x, y Row) int {
		kx, ky := ranks[x.Item].sizes, ranks[y.Item].sizes
		return cmp.Or(cmp.Compare(x.Action, y.Action), cmp.Compare(x.Item.Kind, y.Item.Kind),
			cmp.Compare(x.Item.Family, y.Item.Family), slices.Compare(kx[:], ky[:]), slices.Compare(x.Item.Sizes[:], y.Item.Sizes[:]))
	})
}
