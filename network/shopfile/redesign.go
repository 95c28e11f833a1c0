package shopfile

import (
	"strings"

	"wyewright/network/catalog"
	"wyewright/network/units"
)

// mayWords are the kinds of change a redesign may make.
var mayWords = []string{"resize", "replace hose", "shorten hose", "seal", "repair gates", "bleed", "swap fittings", "routes", "collector", "companions"}

// redesign reads what may change and what has to hold:
//
//	families   that may be bought, in order of preference
//	keep       runs that stay as they are
//	may        resize, replace hose, shorten hose, seal, repair gates, bleed,
//	           swap fittings (new elbows and wyes in duct that stays, new
//	           duct with elbows of long radius), routes, collector,
//	           companions: N (default 1)
//	tail       hose that stays at a machine
//	sizes      {min, max} on offer
//	only       sizes on offer for single runs
//	limits     {margin, transport, ceiling, risers}; transport is "by dust" or
//	           one velocity for all, and is compared as typed
//	collector  the one to assume
//	bleed      {sizes, k} of the inlets that may be built
//	old duct   what becomes of duct that new ways leave out: leave it where
//	           it is, cut off (the default), or take down
//	years, hours, state hours, interest, motor efficiency
//	           what energy money is reckoned with (see running)
func (d *decoder) redesign(n *node) {
	r := &d.file.Redesign
	r.May.Companions = 1
	r.Limits.TransportByDust = true
	r.Bleed.K = bleedK
	if n == nil {
		return
	}
	f := d.fields(n, "families", "keep", "may", "tail", "sizes", "only", "limits", "collector", "bleed", "old duct",
		"years", "hours", "state hours", "interest", "motor efficiency")
	for _, item := range d.items(f.at("families")) {
		if name, ok := d.familyName(item); ok {
			r.Families = append(r.Families, name)
		}
	}
	for _, item := range d.names(f.at("keep")) {
		if d.refer(item, item.text, isRun) {
			r.Keep = append(r.Keep, item.text)
		}
	}
	for _, item := range d.items(f.at("may")) {
		d.may(item)
	}
	if v, ok := d.length(f.at("tail"), positive); ok {
		r.Tail = v
	}
	if n := d.mayNodes["resize"]; n != nil && !f.given["families"] {
		d.warn(n, "add what may be bought: families: [dust spiral, hose]", "sizes may change, but no family is named: nothing can be bought")
	}
	d.sizeBounds(f.at("sizes"))
	d.only(f.at("only"))
	d.limits(f.at("limits"))
	if c := f.at("collector"); c != nil && d.knownCollector(c) {
		r.Collector = c.text
	}
	if o := f.at("old duct"); o != nil {
		w, _ := d.word(o, "leave", "take down")
		r.TakeDown = w == "take down"
	}
	d.running(f)
	if b := f.at("bleed"); b != nil {
		bf := d.fields(b, "sizes", "k")
		r.Bleed.Sizes = d.sizeNames(bf.at("sizes"))
		if v, ok := d.number(bf.at("k"), 0); ok {
			r.Bleed.K = v
		}
	}
}

// may reads one permission: a word, or a word with a number.
func (d *decoder) may(n *node) {
	m := &d.file.Redesign.May
	key, value := n, (*node)(nil)
	if n.kind == mapping && len(n.entries) == 1 {
		key, value = n.entries[0].key, n.entries[0].value
	}
	w, ok := d.word(key, mayWords...)
	if !ok {
		return
	}
	if (w == "companions") != (value != nil) {
		d.fault(key, "write [resize, seal, companions: 1]", "%q needs %s", w,
			map[bool]string{true: "a number", false: "no value"}[w == "companions"])
		return
	}
	d.mayNodes[w] = key
	switch w {
	case "resize":
		m.Resize = true
	case "replace hose":
		m.ReplaceHose = true
	case "shorten hose":
		m.ShortenHose = true
	case "seal":
		m.Seal = true
	case "repair gates":
		m.RepairGates = true
	case "bleed":
		m.Bleed = true
	case "swap fittings":
		m.SwapFittings = true
	case "routes":
		m.Routes = true
	case "collector":
		m.Collector = true
	case "companions":
		if s, ok := d.text(value); ok {
			if len(s) != 1 || s[0] < '0' || s[0] > '9' {
				d.fault(value, "a whole number from 0 to 9", "companions %q: not a number of gates", s)
				return
			}
			m.Companions = int(s[0] - '0')
		}
	}
}

func (d *decoder) sizeBounds(n *node) {
	if n == nil {
		return
	}
	r := &d.file.Redesign
	f := d.fields(n, "min", "max")
	lo, ok1 := d.length(f.at("min"), positive)
	hi, ok2 := d.length(f.at("max"), positive)
	if ok1 && ok2 && lo > hi {
		d.fault(f.at("min"), "", "the least size is above the largest")
	}
	r.SizeMin, r.SizeMax = lo, hi
}

// only reads the sizes that single runs are limited to.
func (d *decoder) only(n *node) {
	if n == nil || n.refused {
		return
	}
	if n.kind != mapping {
		d.fault(n, "write only: {main 1: [200 mm, 224 mm]}", "only must be a set of runs, not %s", n.kindName())
		return
	}
	seen := map[string]bool{}
	for _, e := range n.entries {
		if !d.refer(e.key, e.key.text, isRun) {
			continue
		}
		if seen[e.key.text] {
			d.fault(e.key, "", "key %q is repeated", e.key.text)
			continue
		}
		seen[e.key.text] = true
		d.file.Redesign.Only = append(d.file.Redesign.Only, OnlySizes{e.key.text, d.sizeNames(e.value)})
	}
}

// sizeNames reads a list of sizes.
func (d *decoder) sizeNames(n *node) []string {
	var out []string
	for _, item := range d.names(n) {
		if _, err := catalog.ParseSize(item.text); err != nil {
			d.length(item, positive) // reports it like any other length
			continue
		}
		out = append(out, item.text)
	}
	return out
}

func (d *decoder) limits(n *node) {
	if n == nil {
		return
	}
	l := &d.file.Redesign.Limits
	f := d.fields(n, "margin", "transport", "ceiling", "risers")
	if v, ok := d.percent(f.at("margin")); ok {
		l.Margin = v
	}
	if t := f.at("transport"); t != nil && strings.TrimSpace(t.text) != "by dust" {
		if v, ok := d.velocity(t); ok {
			l.TransportByDust, l.Transport = false, v
		}
	}
	if v, ok := quantity(d, f.at("ceiling"), units.ParseVelocity, positive); ok {
		l.Ceiling = v
		if !l.TransportByDust && v <= l.Transport {
			d.fault(f.at("ceiling"), "", "the ceiling %q is not above the transport velocity", f.at("ceiling").text)
		}
	}
	if v, ok := d.percent(f.at("risers")); ok {
		l.Risers = v
	}
}

// prices reads the user's own figures: currency, a price file, labour per hour,
// crew (amateur or professional), waste, freight, the saw's kerf, energy per kWh, and own prices
// by item, per piece or with "/m" or "/ft".
func (d *decoder) prices(n *node) {
	p := &d.file.Prices
	p.Currency, p.Crew, p.Waste, p.Kerf = d.file.Currency, Amateur, -1, -1
	if n == nil {
		return
	}
	f := d.fields(n, "currency", "file", "labour", "crew", "waste", "freight", "kerf", "own", "energy")
	if c := f.at("currency"); c != nil {
		s, ok := d.text(c)
		switch {
		case !ok:
		case !isCurrency(s):
			d.fault(c, "three capital letters, such as EUR, USD or GBP", "unknown currency %q", s)
		case d.file.Currency != "" && d.file.Currency != s:
			d.fault(c, "take one of the two out", "the file's currency is %s", d.file.Currency)
		default:
			p.Currency, d.file.Currency = s, s
		}
	}
	if s, ok := d.text(f.at("file")); ok {
		p.Path = s
	}
	p.Labour = d.amount(f.at("labour"), "h")
	if w, ok := d.word(f.at("crew"), string(Amateur), string(Professional)); ok {
		p.Crew = Crew(w)
	}
	if v, ok := d.percent(f.at("waste")); ok {
		p.Waste = v
	}
	p.Freight = d.amount(f.at("freight"))
	d.kerf(f.at("kerf"))
	d.energyPrice(f.at("energy"))
	d.ownPrices(f.at("own"))
}

// suspectKerf is a width of cut that no saw for duct has.
const suspectKerf units.Length = 0.010

// kerf reads the width of a cut and doubts a wide one.
func (d *decoder) kerf(n *node) {
	v, ok := d.length(n, notNegative)
	if !ok {
		return
	}
	d.file.Prices.Kerf = v
	if v > suspectKerf {
		d.warn(n, "kerf is what the saw blade takes, some 1 to 3 mm", "%s %q: no saw for duct takes that much", n.label, n.text)
	}
}

func (d *decoder) ownPrices(n *node) {
	if n == nil || n.refused {
		return
	}
	if n.kind != mapping {
		d.fault(n, `write own: {"dust spiral 160 mm": 14.20 EUR/m}`, "own must be a set of items, not %s", n.kindName())
		return
	}
	seen := map[string]bool{}
	for _, e := range n.entries {
		switch {
		case seen[e.key.text]:
			d.fault(e.key, "", "key %q is repeated", e.key.text)
		case e.value.kind == empty:
			d.fault(e.key, "write a price after the colon", "key %q has no value", e.key.text)
		default:
			if a := d.amount(e.value, "", "m", "ft"); a.Given {
				d.file.Prices.Own = append(d.file.Prices.Own, OwnPrice{e.key.text, a})
			}
		}
		seen[e.key.text] = true
	}
}
