package price

import (
	"errors"
	"fmt"
	"slices"

	"wyewright/network/catalog"
)

// ErrCurrency is what an error about a currency without a book unwraps to.
var ErrCurrency = errors.New("price: no price book")

// Quote is the price of an item.
type Quote struct {
	// Money is the price of one Unit.
	Money Money
	// Unit is what is sold: "each", "m", "ft", "box".
	Unit string
	// Per is how much of the base unit of the item's kind one Unit holds:
	// 0.3048 for a foot of pipe, 100 for a box of a hundred.
	Per float64
	// Interpolated marks a price made from those of neighbouring sizes.
	Interpolated bool
	Source       string
}

// Times returns the price of a quantity in the base unit of the kind (pipe in
// metres, also where the price is per foot): quantity / Per × Money, rounded
// half up to the minor unit.
func (q Quote) Times(quantity float64) Money { return q.Money.Times(quantity / q.Per) }

// Book is a list of prices in one currency. It may be shared between
// goroutines once all overrides are made.
type Book struct {
	Currency Currency
	// Region, Date and Source say where and when the prices hold.
	Region, Date, Source string

	catalog   *catalog.Catalog
	tables    map[key]*table
	nominal   map[string]float64 // by size name, metres
	spelling  map[int]string     // the reverse, by micrometres
	overrides map[Item]Quote
}

// key finds a table of prices.
type key struct {
	kind   Kind
	family string
}

// table holds the prices of one kind in one family by nominal size.
type table struct {
	unit, source string
	per          float64
	sizes        []float64 // metres, ascending; empty where size does not matter
	prices       []Money   // one per size, or just one
}

// Builtin returns a fresh copy of the price book for a currency: "USD" or
// "EUR". The error for another one unwraps to ErrCurrency.
func Builtin(currency string) (*Book, error) {
	b, ok, err := readBook(currency)
	if err != nil {
		return nil, err
	}
	if !ok {
		return nil, fmt.Errorf("%w for currency %q (known: %v)", ErrCurrency, currency, Currencies())
	}
	return b, nil
}

// Currencies lists the currencies that have a book.
func Currencies() []string { return []string{"USD", "EUR"} }

// Price quotes an item. An override comes first; then the table of the item's
// family, or of no family where there is none. The size that counts is the
// largest that the item names. A size that is not listed is interpolated
// linearly in the nominal diameter, or extrapolated by at most one step of the
// catalogue; both are marked. The second result is false where the book has no
// price.
func (b *Book) Price(i Item) (Quote, bool) {
	if len(b.overrides) > 0 {
		if q, ok := b.overrides[b.normal(i)]; ok {
			return q, true
		}
	}
	t := b.tables[key{i.Kind, i.Family}]
	family := i.Family
	if t == nil {
		t, family = b.tables[key{i.Kind, ""}], ""
	}
	if t == nil {
		return Quote{}, false
	}
	q := Quote{Unit: t.unit, Per: t.per, Source: t.source}
	if len(t.sizes) == 0 {
		q.Money = t.prices[0]
		return q, true
	}
	d, ok := b.largest(i.Sizes)
	if !ok {
		return Quote{}, false
	}
	at, exact := slices.BinarySearchFunc(t.sizes, d, compareSize)
	if exact {
		q.Money = t.prices[at]
		return q, true
	}
	q.Interpolated = true
	q.Money, ok = b.between(t, family, at, d)
	return q, ok
}

// sizeGrid is the difference below which two sizes are one, metres.
const sizeGrid = 5e-5

func compareSize(a, b float64) int {
	switch {
	case a < b-sizeGrid:
		return -1
	case a > b+sizeGrid:
		return 1
	}
	return 0
}

// between makes a price for size d, which lies before sizes[at].
func (b *Book) between(t *table, family string, at int, d float64) (Money, bool) {
	last := len(t.sizes) - 1
	if last < 1 {
		return 0, false
	}
	if at == 0 && !b.oneStep(t, family, d, t.sizes[0]) || at > last && !b.oneStep(t, family, t.sizes[last], d) {
		return 0, false
	}
	at = min(max(at, 1), last)
	d0, d1 := t.sizes[at-1], t.sizes[at]
	p0, p1 := float64(t.prices[at-1]), float64(t.prices[at])
	m := round(p0 + float64((p1-p0)*((d-d0)/(d1-d0))))
	return m, m > 0
}

// oneStep reports whether no size of the family lies between two sizes. Where
// there is no family a step is as long as the table's nearest one.
func (b *Book) oneStep(t *table, family string, from, to float64) bool {
	f, ok := b.catalog.Family(family)
	if !ok {
		last := len(t.sizes) - 1
		step := t.sizes[1] - t.sizes[0]
		if from >= t.sizes[last] {
			step = t.sizes[last] - t.sizes[last-1]
		}
		return to-from <= step+sizeGrid
	}
	return !slices.ContainsFunc(f.Sizes, func(s catalog.Size) bool {
		return float64(s.Nominal) > from+sizeGrid && float64(s.Nominal) < to-sizeGrid
	})
}

// largest returns the largest nominal size named, metres.
func (b *Book) largest(sizes [3]string) (float64, bool) {
	most := 0.0
	for _, s := range sizes {
		if s == "" {
			continue
		}
		d, ok := b.nominal[s]
		if !ok {
			l, err := catalog.ParseSize(s)
			if err != nil {
				return 0, false
			}
			d = float64(l)
		}
		most = max(most, d)
	}
	return most, most > 0
}
