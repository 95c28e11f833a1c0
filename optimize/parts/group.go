package parts

import "wyewright/optimize/price"

// Group is what a person buys in one place, or does in one go.
type Group uint8

// Groups, in the order of a bill.
const (
	PipeGroup  Group = iota
	HoseGroup        // with its clamps
	Fittings         // elbows, wyes, reducers, couplings, gates, caps
	Hanging          //
	Sealing          // with screws, and kits for leaks
	BondGroup        //
	InPlace          // at one price in place: a collector, an allowance
	Spares           // not in the planning cost
	OtherGroup       // work, and what stays or comes out
)

// String returns the group in words: "sealing and screws".
func (g Group) String() string {
	return [...]string{"pipe", "hose", "fittings", "hanging", "sealing and screws", "bonding", "in place", "spares", ""}[g]
}

// Group is the group that a row belongs to.
func (r *Row) Group() Group {
	switch {
	case r.Action != Buy:
		return OtherGroup
	case r.Spare:
		return Spares
	}
	switch r.Item.Kind {
	case price.Pipe:
		return PipeGroup
	case price.Hose, price.HoseClamp:
		return HoseGroup
	case price.Hanger:
		return Hanging
	case price.Sealant, price.Screws, price.GateSeal, price.SealKit:
		return Sealing
	case price.Bonding:
		return BondGroup
	case price.Whole:
		return InPlace
	}
	return Fittings
}

// Subtotal is a group of a bill with its sums.
type Subtotal struct {
	Group Group
	// Rows are those to buy, in the order of the bill.
	Rows []Row
	// Total is the planning cost, Shelf the price in the shop.
	Total, Shelf price.Money
}

// Subtotals are the groups of what is to be bought, in order, without empty
// ones.
func (b *Bill) Subtotals() []Subtotal {
	var out []Subtotal
	for g := PipeGroup; g < OtherGroup; g++ {
		s := Subtotal{Group: g}
		for i := range b.Rows {
			if r := &b.Rows[i]; r.Group() == g {
				s.Rows = append(s.Rows, *r)
				s.Total += r.Total
				s.Shelf += r.ShelfTotal
			}
		}
		if len(s.Rows) > 0 {
			out = append(out, s)
		}
	}
	return out
}
