package sheet

import (
	"fmt"

	"wyewright/network/units"
	"wyewright/optimize/price"
)

// The names of the sheets, and where on the first one the cells are that hold
// for all lines.
const (
	summaryName = "Summary"
	pricesName  = "Prices"
	partsName   = "Parts"
	workName    = "Work"
	shopName    = "Shop"
	cutsName    = "Cuts"
	keptName    = "Kept"
	notesName   = "Notes"

	rateCell   = summaryName + "!$B$6"
	wasteCell  = summaryName + "!$B$7"
	sparesCell = summaryName + "!$B$8"
)

// noPrice stands where a price is missing; what is no number is in no sum.
const noPrice = "no price"

// lists are the sheets of rows.
type lists struct {
	w                                     *writer
	prices, parts, work, shop, cuts, kept *table
	numbers                               map[priced]int
}

// priced is what has one row of prices.
type priced struct {
	name  string
	quote price.Quote
}

// sheets makes all lists and returns what writes them, in order.
func (w *writer) sheets() []func(*writer) error {
	l := &lists{w: w, numbers: map[priced]int{}}
	l.listPrices()
	l.listCuts()
	l.listParts()
	l.listWork()
	l.listGoods()
	l.listKept()
	out := []func(*writer) error{l.summary}
	for _, t := range []*table{l.prices, l.parts, l.work, l.shop, l.cuts, l.kept} {
		out = append(out, t.write)
	}
	return append(out, l.notes)
}

// several reports whether rows say which bill they belong to.
func (l *lists) several() bool { return len(l.w.book.Bills) > 1 }

// staged puts the column of the stage in front where there are several.
func (l *lists) staged(cols ...column) []column {
	if l.several() {
		return append([]column{{key: "stage", head: "Stage", width: 7, look: codeLook}}, cols...)
	}
	return cols
}

// add adds a row to a table of bill number n.
func (l *lists) add(t *table, n int, values ...any) {
	if l.several() {
		values = append([]any{n + 1}, values...)
	}
	t.add(values...)
}

// shown is a quantity in the units of the workbook, with their name.
func (l *lists) shown(qty float64, unit string) (float64, string) {
	if unit == "m" && l.w.book.System == units.US {
		return qty / float64(units.Foot), "ft"
	}
	return qty, unit
}

// rounded rounds a formula as price.Money.Times does: half up to the minor
// unit, with the same grain.
func (l *lists) rounded(formula string) string {
	digits := l.w.book.Currency.Digits
	return fmt.Sprintf("ROUND(%s+1E-%d,%d)", formula, digits+6, digits)
}

// number is that of an item in the list of prices.
func (l *lists) number(i *Item) int {
	k := priced{i.Name, i.Quote}
	n, ok := l.numbers[k]
	if !ok {
		n = len(l.numbers) + 1
		l.numbers[k] = n
	}
	return n
}

// listPrices gives every item that is bought a number and a row.
func (l *lists) listPrices() {
	t := &table{name: pricesName, title: "Prices", hint: "Put your supplier's prices in: every total follows. The other sheets find a price by its number.",
		cols: []column{{key: "no", head: "No.", width: 6, look: codeLook}, {key: "item", head: "Item", width: 46, look: wordLook},
			{key: "price", head: "Price, " + l.w.book.Currency.Code, width: 13, look: moneyLook, input: true}, {key: "sold", head: "for one", width: 10, look: wordLook},
			{key: "holds", head: "that holds", width: 11, look: amountLook}, {key: "unit", head: "of", width: 7, look: wordLook}, {key: "each", head: "Price of one of these", width: 13, look: priceLook},
			{key: "from", head: "Where the price is from", width: 58, look: wordLook}}}
	l.prices = t
	take := func(i *Item) {
		if l.number(i) <= len(t.rows) {
			return
		}
		var sum any = i.Quote.Money
		if !i.Priced {
			sum = noPrice
		}
		holds, unit := l.shown(i.per(), i.Unit)
		sold := i.Quote.Unit
		if !i.Priced { // the price of one unit, to be put in
			holds, sold = 1, unit
		}
		from := i.Quote.Source
		if i.Quote.Interpolated {
			from += " (from neighbouring sizes)"
		}
		t.add(len(t.rows)+1, i.Name, sum, sold, amount(holds, unit), unit,
			live{`IF(ISNUMBER({price}),{price}/{holds},"` + noPrice + `")`, l.unitPrice(i, 1)}, from)
	}
	for b := range l.w.book.Bills {
		bill := &l.w.book.Bills[b]
		for i := range bill.Goods {
			take(&bill.Goods[i].Item)
		}
		for i := range bill.Parts {
			take(&bill.Parts[i].Item)
		}
	}
}

// per is how much of the item's unit one that is sold holds.
func (i *Item) per() float64 {
	if !i.Priced {
		return 1
	}
	return i.Quote.Per
}

// priceOf looks the price of so many units up by the number in the row: a
// number, or the words that there is none.
func (l *lists) priceOf(many string) string {
	t := l.prices
	find := fmt.Sprintf("VLOOKUP({no},%s!$%s$%d:$%s$%d,%d,FALSE)", t.name, t.letter("no"), firstRow, t.letter("each"), t.end(), t.index("each")+1)
	if many == "" {
		return find
	}
	return fmt.Sprintf(`IF(%s="%s","%s",%s*%s)`, find, noPrice, noPrice, find, many)
}

// costOf is the rounded cost of a quantity, if it has a price.
func (l *lists) costOf(quantity string) string {
	return fmt.Sprintf(`IF({price}="%s","%s",%s)`, noPrice, noPrice, l.rounded(quantity+"*{price}"))
}

// cost is the value of such a formula at the time of writing; without a price
// it is left to the spreadsheet.
func (i *Item) cost(v any) any {
	if !i.Priced {
		return nil
	}
	return v
}

// unitPrice is the value of priceOf.
func (l *lists) unitPrice(i *Item, many float64) any {
	per, _ := l.shown(i.per(), i.Unit)
	return i.cost(l.w.amount(i.Quote.Money) / per * many)
}
