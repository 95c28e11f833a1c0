package project

import (
	"errors"
	"fmt"
	"io/fs"

	"wyewright/network/shopfile"
	"wyewright/network/units"
	"wyewright/optimize/parts"
	"wyewright/optimize/price"
)

// prices makes the price book of the file's currency with the user's own
// prices in front, and the builder of parts.
func (p *Project) prices(fsys fs.FS) error {
	f := p.File
	currency := f.Prices.Currency
	if currency == "" {
		currency = f.Currency
	}
	if currency == "" {
		currency = "EUR"
		if f.Units == units.US {
			currency = "USD"
		}
		p.Notes = append(p.Notes, "no currency in the file: prices in "+currency)
	}
	book, err := price.Builtin(currency)
	if err != nil {
		return err
	}
	p.Book, p.Currency = book, book.Currency
	if f.Prices.Path != "" {
		if err := p.priceFile(fsys, f.Prices.Path); err != nil {
			return err
		}
	}
	if err := p.ownPrices(); err != nil {
		return err
	}
	if !f.Prices.Labour.Given {
		p.Notes = append(p.Notes, "no price of labour in the file: the hours are counted and cost nothing (prices: {labour: 35 "+currency+"/h})")
	}
	o := parts.Options{Rate: price.Money(f.Prices.Labour.Minor), Height: map[string]units.Length{}}
	if f.Prices.Crew == shopfile.Professional {
		o.Crew = price.Professional
	}
	if w := f.Prices.Waste; w == 0 {
		o.Waste = -1 // none, where the file says so
	} else if w > 0 {
		o.Waste = w
	}
	o.Freight = price.Money(f.Prices.Freight.Minor)
	o.SetKerf(f.Prices.Kerf)
	for _, pt := range f.Spec.Points {
		if pt.Placed {
			o.Height[pt.ID] = units.Length(pt.At.Z)
		}
	}
	p.Builder, err = parts.New(p.Catalog, book, o)
	return err
}

// ownPrices puts the prices that the file itself names in front of the book.
// Every fault is reported, with its line.
func (p *Project) ownPrices() error {
	var faults []error
	override := func(item price.Item, cost shopfile.Amount) {
		if err := p.Book.Override(item, quote(cost)); err != nil {
			faults = append(faults, fmt.Errorf("line %d: %w", cost.Line, err))
		}
	}
	for _, own := range p.File.Prices.Own {
		item, err := parseItem(own.Item)
		if err != nil {
			faults = append(faults, fmt.Errorf("line %d: %w", own.Cost.Line, err))
			continue
		}
		override(item, own.Cost)
	}
	for _, s := range p.File.Seals {
		if s.Allowed && s.Cost.Given {
			override(price.Item{Kind: price.SealKit, Family: s.Leak}, s.Cost)
		}
	}
	return errors.Join(faults...)
}

// quote is an amount as a price of the user's own.
func quote(a shopfile.Amount) price.Quote {
	q := price.Quote{Money: price.Money(a.Minor), Per: 1}
	switch a.Per {
	case "ft":
		q.Unit, q.Per = "ft", float64(units.Foot)
	case "m":
		q.Unit = "m"
	}
	return q
}
