package parts

import (
	"slices"

	"wyewright/optimize/price"
)

// Action says what happens with a line's item.
type Action uint8

// Actions.
const (
	Buy    Action = iota // costs its price
	Reuse                // stays in place, costs nothing
	Remove               // comes out and is a spare, earns nothing
	Work                 // labour: Hours × rate
)

// String returns the action in lower case.
func (a Action) String() string {
	return [...]string{"buy", "reuse", "remove", "work"}[a]
}

// Line is one thing to buy, keep, take out or do.
type Line struct {
	Item price.Item
	// Qty is the net quantity in Unit, without waste.
	Qty  float64
	Unit string
	// Waste is the share bought on top for offcuts: the planning cost is that
	// of Qty·(1 + Waste).
	Waste  float64
	Action Action
	// Hours is the time of a Work line.
	Hours float64
	// Sum is the price of an item of kind price.Whole, which no book has.
	Sum price.Money
	// Where names the run, or with Point the point.
	Where string
	Point bool
	// Runs are the runs at a point between which it lies, from and to; either
	// may be empty.
	Runs [2]string
	// Leg says which leg of a joint the line belongs to.
	Leg Leg
	// Later marks what is bought or done only when a tool comes that comes later.
	Later bool
}

// Leg is a leg of a joint.
type Leg uint8

// Legs.
const (
	NoLeg     Leg = iota // the joint itself, or no joint
	MainLeg              // what joins the main to it: its bends and its change of size
	BranchLeg            // what joins the branch to it
)

// NowAndLater divides lines into what is bought and done now and what only when
// a tool comes that comes later.
func NowAndLater(lines []Line) (now, later []Line) {
	for _, l := range lines {
		if l.Later {
			later = append(later, l)
		} else {
			now = append(now, l)
		}
	}
	return now, later
}

// Lump is something with one price in place: a collector, a dearer way.
func Lump(what, where string, sum price.Money) Line {
	return Line{Item: price.Item{Kind: price.Whole, Family: what}, Qty: 1, Unit: price.Whole.Unit(), Where: where, Sum: sum}
}

// Gross is the quantity with waste.
func (l *Line) Gross() float64 { return l.Qty * (1 + l.Waste) }

// Cost is the planning cost of lines: each line is priced and rounded by
// itself (price.Quote.Times), then summed exactly. Lines to buy that have no
// price are not zero: their items come back in unpriced, in order and once
// each, and the sum then is no cost of the whole.
func (b *Builder) Cost(lines []Line) (j price.Money, unpriced []string) {
	for i := range lines {
		m, _, ok := b.price(&lines[i])
		if !ok {
			if name := lines[i].Item.String(); !slices.Contains(unpriced, name) {
				unpriced = append(unpriced, name)
			}
			continue
		}
		j += m
	}
	return j, unpriced
}

// price is the planning cost of one line with its quote; false means that the
// line is to be bought and has no price.
func (b *Builder) price(l *Line) (price.Money, price.Quote, bool) {
	switch l.Action {
	case Buy:
		if l.Item.Kind == price.Whole {
			return l.Sum, price.Quote{Money: l.Sum, Unit: l.Unit, Per: 1}, true
		}
		q, ok := b.Book.Price(l.Item)
		if !ok {
			return 0, q, false
		}
		return q.Times(l.Gross()), q, true
	case Work:
		return b.o.Rate.Times(l.Hours), price.Quote{Money: b.o.Rate, Unit: "h", Per: 1}, true
	}
	return 0, price.Quote{}, true
}
