// Package project turns a shop file into a redesign problem and a plan back
// into files: it is the one place that knows shop file, catalogue, prices and
// search together.
package project

import (
	"fmt"
	"io/fs"
	"slices"

	"wyewright/network"
	"wyewright/network/catalog"
	"wyewright/network/shopfile"
	"wyewright/network/units"
	"wyewright/optimize"
	"wyewright/optimize/parts"
	"wyewright/optimize/price"
)

// Project is a decoded shop with everything a redesign needs.
type Project struct {
	File    *shopfile.File
	Catalog *catalog.Catalog
	Book    *price.Book
	Builder *parts.Builder
	// Network is the shop as found, with the collector that the redesign
	// assumes in place.
	Network *network.Network
	// Currency that costs are in.
	Currency price.Currency
	// Folder is where the file and the files it names lie.
	Folder fs.FS
	// Notes say what was assumed on the way.
	Notes []string
}

// Load decodes a shop file from a file system. Faults name it as shown.
func Load(fsys fs.FS, name, shown string) (*shopfile.File, *catalog.Catalog, error) {
	c, err := catalog.Builtin()
	if err != nil {
		return nil, nil, err
	}
	src, err := fs.ReadFile(fsys, name)
	if err != nil {
		return nil, nil, err
	}
	f, err := shopfile.Decode(shown, src, c)
	return f, c, err
}

// New makes a project of a decoded file. A price file that the shop names is
// read from fsys.
func New(f *shopfile.File, c *catalog.Catalog, fsys fs.FS) (*Project, error) {
	p := &Project{File: f, Catalog: c, Folder: fsys}
	if err := p.prices(fsys); err != nil {
		return nil, err
	}
	n, err := network.New(f.Spec)
	if err != nil {
		return nil, err
	}
	p.Network = n
	if name := f.Redesign.Collector; name != "" {
		i := slices.IndexFunc(f.Spec.Collectors, func(c network.Collector) bool { return c.ID == name })
		if i > 0 {
			p.Network = n.WithCollector(i)
		}
	}
	return p, nil
}

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
	for _, own := range f.Prices.Own {
		item, err := parseItem(own.Item)
		if err != nil {
			return err
		}
		if err := book.Override(item, quote(own.Cost)); err != nil {
			return err
		}
	}
	for _, s := range f.Seals {
		if s.Allowed && s.Cost.Given {
			if err := book.Override(price.Item{Kind: price.SealKit, Family: s.Leak}, quote(s.Cost)); err != nil {
				return err
			}
		}
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
	for _, pt := range f.Spec.Points {
		if pt.Placed {
			o.Height[pt.ID] = units.Length(pt.At.Z)
		}
	}
	p.Builder, err = parts.New(p.Catalog, book, o)
	return err
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

// Limits are the rules of the file.
func Limits(f *shopfile.File) network.Limits {
	l := f.Redesign.Limits
	out := network.Limits{Margin: units.Ratio(l.Margin), Ceiling: l.Ceiling, Riser: units.Ratio(l.Risers)}
	if !l.TransportByDust {
		out.Transport = l.Transport
	}
	return out
}

// Problem formulates the redesign that the file asks for.
func (p *Project) Problem() (*optimize.Problem, error) {
	f := p.File
	r := &f.Redesign
	o := optimize.Options{
		Families: r.Families, Piece: f.Piece, Keep: r.Keep,
		Resize: r.May.Resize, ReplaceHose: r.May.ReplaceHose, ShortenHose: r.May.ShortenHose,
		Seal: r.May.Seal, Repair: r.May.RepairGates, Bleed: r.May.Bleed,
		Tail: r.Tail, Min: r.SizeMin, Max: r.SizeMax, Only: map[string][]string{},
		Seals:  map[string]optimize.Seal{},
		Bleeds: f.BleedPoints, BleedSizes: r.Bleed.Sizes, BleedK: r.Bleed.K,
		Companions: r.May.Companions, Limits: Limits(f),
	}
	for _, only := range r.Only {
		o.Only[only.Run] = append(o.Only[only.Run], only.Sizes...)
	}
	for _, s := range f.Seals {
		if s.Allowed {
			o.Seals[s.Leak] = optimize.Seal{Leaves: s.Leaves}
		}
	}
	for _, rep := range f.Repairs {
		if rep.Tool != "" {
			o.Repairs = append(o.Repairs, optimize.Repair{Tool: rep.Tool, Port: rep.Port,
				Seal: optimize.Seal{Cost: price.Money(rep.Cost.Minor), Priced: rep.Cost.Given, Leaves: rep.Leaves}})
		}
	}
	states := slices.Clone(f.States)
	for i := range states {
		if states[i].Collector == r.Collector {
			states[i].Collector = ""
		}
	}
	problem, err := optimize.Formulate(p.Network, states, o, p.Builder)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", f.Name, err)
	}
	return problem, nil
}

// Edits are the changes that a plan makes to the text of the shop file.
func Edits(p *optimize.Problem, r *optimize.Result, head string) shopfile.Edits {
	e := shopfile.Edits{Head: head, DropReadings: true}
	spec := p.Base.Spec()
	for i, a := range r.Best.Pick {
		c := &p.Choices[i]
		for _, ch := range c.Alternatives[a].Changes {
			switch ch := ch.(type) {
			case network.ReplaceRun:
				e.Runs = append(e.Runs, shopfile.RunEdit{Run: spec.Runs[ch.Run].ID, Pieces: ch.Pieces})
			case network.ShortenHose:
				e.Runs = append(e.Runs, shopfile.RunEdit{Run: spec.Runs[ch.Run].ID, Pieces: c.Alternatives[a].Pieces, Keep: true})
			case network.SetLeak:
				e.Leaks = append(e.Leaks, shopfile.LeakEdit{Leak: spec.Leaks[ch.Leak].ID, Area: ch.Area})
			case network.SetGate:
				e.Gates = append(e.Gates, shopfile.GateEdit{Tool: spec.Tools[ch.Tool].ID, Port: ch.Port, Leak: ch.Leak})
			case network.SetBleed:
				b := spec.Bleeds[ch.Bleed]
				b.Leak = ch.Leak
				e.Bleeds = append(e.Bleeds, b)
			}
		}
	}
	for _, s := range r.States {
		e.States = append(e.States, s.State)
	}
	return e
}
