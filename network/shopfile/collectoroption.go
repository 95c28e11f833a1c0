package shopfile

import (
	"strings"

	"wyewright/network"
	"wyewright/network/fan"
)

// CollectorOption is one thing that may be done to a collector. Its price is
// the whole price put in place, labour included.
type CollectorOption struct {
	// Label says it in words: "fan at 110 % speed", "fan at 110 % speed,
	// renewed filter", "new cyclone".
	Label string
	Cost  Amount
	// Collector is the ID of the collector that is in place then; New says that
	// it takes the place of another.
	Collector string
	New       bool
	// Speed is the fan's over what the file describes; 1 leaves it.
	Speed float64
	// Renewed says that its filter is renewed.
	Renewed bool
	// Becomes is the collector as it is then: the fan as fitted to readings
	// and brought to the speed by the fan laws; a renewed filter without what
	// was fitted of the old one.
	Becomes      network.Collector
	Line, Column int
}

// spin is a change of a fan's speed on offer, by the laws of network.Collector's
// Spin.
type spin struct {
	by   float64
	cost Amount
	at   *node
}

// renewal is a renewed filter on offer.
type renewal struct {
	filter fan.Filter
	cost   Amount
	at     *node
}

// leastSpin and mostSpin bound the speed of a fan over what the file describes:
// beyond them its laws and its wheel are not to be trusted (common practice).
const leastSpin, mostSpin = 0.5, 1.5

// speeds reads the speeds that a fan may be brought to by another pulley or
// drive: a list of {speed, price}, the speed as a share of the one described.
func (d *decoder) speeds(n *node, collector string) {
	for _, item := range d.items(n) {
		f := d.fields(item, "speed", "price")
		speed := f.need("speed", "the share of the speed it has: speed: 110 %")
		cost := d.amount(f.need("price", "what it costs put in place: price: 45 EUR"))
		v, ok := d.percent(speed)
		switch {
		case !ok:
			continue
		case v < leastSpin || v > mostSpin:
			d.fault(speed, "from 50 % to 150 % of the speed that the file describes", "speed %q: too far from what the fan does", speed.text)
			continue
		case v == 1:
			d.fault(speed, "take it out", "speed %q: the fan has it", speed.text)
			continue
		}
		for _, s := range d.spins[collector] {
			if s.by == v {
				d.fault(speed, "take one of them out", "speed %q is on offer in line %d", speed.text, s.at.line)
			}
		}
		d.spins[collector] = append(d.spins[collector], spin{v, cost, item})
	}
}

// renew reads a renewed or cleaned filter, {price, clean, loaded}: what it may be
// reckoned with when loaded, and clean where that differs from the one there.
func (d *decoder) renew(n *node, c *network.Collector) {
	f := d.fields(n, "price", "clean", "loaded")
	if f == nil {
		return
	}
	cost := d.amount(f.need("price", "what it costs put in place: price: 90 EUR"))
	loaded, ok := d.pressureAt(f.need("loaded", "what it then loses when loaded: loaded: 300 Pa at 2500 m3/h"))
	if !ok {
		return
	}
	clean := min(c.Filter.Clean, loaded)
	if f.at("clean") != nil {
		if clean, ok = d.pressureAt(f.at("clean")); !ok {
			return
		}
		if clean > loaded {
			d.warn(f.at("loaded"), "", "the loaded filter loses less than the clean one")
		}
	} else if c.Filter.Clean > loaded {
		d.warn(f.at("loaded"), "give the new filter's clean loss too where it is another make", "loaded, the renewed filter loses less than the one that is there does clean")
	}
	d.renewals[c.ID] = renewal{fan.Filter{Clean: clean, Loaded: loaded}, cost, n}
}

// collectorOptions lists what may be done to the collectors, in file order.
func (d *decoder) collectorOptions() {
	prices := map[string]Amount{}
	for _, p := range d.file.CollectorPrices {
		prices[p.Collector] = p.Cost
	}
	inPlace := d.inPlace()
	for _, c := range d.file.Spec.Collectors {
		at := d.named[c.ID].at
		base := CollectorOption{Collector: c.ID, New: inPlace[c.At] != c.ID, Speed: 1, Becomes: c, Line: at.line, Column: at.col}
		offered := len(d.spins[c.ID]) > 0 || d.renewals[c.ID].at != nil
		switch {
		case base.New && !prices[c.ID].Given && offered:
			d.warn(at, "add price: what it costs put in place", "what may be done to collector %q is not on offer: it is not in place and has no price", c.ID)
			continue
		case base.New && !prices[c.ID].Given:
			continue
		case base.New:
			base.Label, base.Cost = "new "+strings.TrimPrefix(c.ID, "new "), prices[c.ID]
			d.file.CollectorOptions = append(d.file.CollectorOptions, base)
		}
		d.variants(base)
	}
	d.collectorAllowed()
}

// inPlace is the collector that a redesign assumes at each point.
func (d *decoder) inPlace() map[string]string {
	out := map[string]string{}
	for _, c := range d.file.Spec.Collectors {
		if _, ok := out[c.At]; !ok || c.ID == d.file.Redesign.Collector {
			out[c.At] = c.ID
		}
	}
	return out
}

// variants lists the speeds of a collector, its renewed filter, and both.
func (d *decoder) variants(base CollectorOption) {
	spun := []CollectorOption{base}
	for _, s := range d.spins[base.Collector] {
		o := d.with(base, "fan at "+decimal(100*s.by)+" % speed", s.cost, s.at)
		o.Speed = s.by
		o.Becomes.Spin(s.by)
		spun = append(spun, o)
	}
	d.file.CollectorOptions = append(d.file.CollectorOptions, spun[1:]...)
	r := d.renewals[base.Collector]
	if r.at == nil {
		return
	}
	if r.filter.Loaded >= base.Becomes.Filter.Loaded {
		d.warn(r.at, "", "the renewed filter loses no less than the loaded one")
	}
	for _, from := range spun {
		o := d.with(from, "renewed filter", r.cost, r.at)
		o.Renewed = true
		o.Becomes.Filter = r.filter
		d.file.CollectorOptions = append(d.file.CollectorOptions, o)
	}
}

// with adds a change to an option.
func (d *decoder) with(o CollectorOption, label string, cost Amount, at *node) CollectorOption {
	switch {
	case !o.Cost.Given:
		o.Cost = cost
	case cost.Given && cost.Currency != o.Cost.Currency:
		d.fault(at, "prices are not converted; write all of them in one currency", "%s is priced in %s, and %s in %s", label, cost.Currency, o.Label, o.Cost.Currency)
	default:
		o.Cost.Minor += cost.Minor
	}
	if o.Label != "" {
		label = o.Label + ", " + label
	}
	o.Label, o.Line, o.Column = label, at.line, at.col
	return o
}

// collectorAllowed warns where the options and the permission to take one do
// not go together.
func (d *decoder) collectorAllowed() {
	may := d.file.Redesign.May.Collector
	if may && len(d.file.CollectorOptions) == 0 {
		d.warn(d.mayNodes["collector"], "give another collector at its point a price, or the one there speeds or a filter to renew",
			"the collector may change, but nothing is on offer")
	}
	for _, c := range d.file.Spec.Collectors {
		if at := d.renewals[c.ID].at; !may && at != nil {
			d.warn(at, "add collector to redesign.may, or take it out", "the filter of %q may be renewed, but no redesign may do that", c.ID)
		}
		if s := d.spins[c.ID]; !may && len(s) > 0 {
			d.warn(s[0].at, "add collector to redesign.may, or take it out", "the speed of %q may change, but no redesign may do that", c.ID)
		}
	}
}
