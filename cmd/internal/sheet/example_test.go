package sheet

import (
	"fmt"
	"math"
	"math/rand/v2"

	"wyewright/network/units"
	"wyewright/optimize/price"
)

// sample is a made-up plan from which a Book follows as a bill would make it.
type sample struct {
	system   units.System
	currency price.Currency
	rate     price.Money
	waste    float64
	every    int
	items    []sampleItem
	bills    []sampleBill
}

type sampleItem struct {
	name            string
	price           price.Money
	per, stick      float64 // stick: 0 for what is no pipe
	metres, couples bool
	unpriced        bool
}

func (i *sampleItem) unit() string {
	if i.metres {
		return "m"
	}
	return "each"
}

type sampleBill struct {
	parts   []samplePart
	tasks   []sampleTask
	freight price.Money
	sticks  []int // number of sticks by item
}

type samplePart struct {
	item int
	qty  float64
}

type sampleTask struct {
	name       string
	qty, hours float64 // hours for one
}

// example draws a plan: currencies of 0, 2 and 3 digits, metres and feet, one
// bill or three, quantities and prices that often end in half a minor unit.
func example(seed uint64) *sample {
	r := rand.New(rand.NewPCG(seed, 5))
	e := &sample{system: units.System(seed % 2), currency: price.Currency{Code: "EUR", Digits: []int{2, 2, 0, 3}[seed%4]},
		rate: price.Money(r.IntN(5000)) + 5, waste: []float64{.07, .1, .05}[seed%3], every: 10}
	for k := range 12 {
		i := sampleItem{name: fmt.Sprintf("item %d", k), price: price.Money(r.IntN(3000)) + 1, per: 1}
		switch k % 4 {
		case 0:
			i.metres, i.stick, i.per = true, 3, []float64{1, 0.3048, 3}[r.IntN(3)]
			if e.system == units.US {
				i.stick = 3.048
			}
		case 1:
			i.couples = true
		case 2:
			i.per = 100
		}
		if k == 11 { // an allowance for an easy way; halves of it round up, toward 0
			i.price = -2*i.price - 1
		}
		e.items = append(e.items, i)
	}
	for range []int{1, 3}[seed/2%2] {
		b := sampleBill{freight: price.Money(r.IntN(9000)), sticks: make([]int, len(e.items))}
		for k := range 60 {
			p := samplePart{item: k % len(e.items), qty: float64(1 + r.IntN(9))}
			if e.items[p.item].price < 0 {
				p.qty += 0.5
			}
			if i := &e.items[p.item]; i.metres {
				p.qty = []float64{float64(r.IntN(4000)) / 1000, float64(1+r.IntN(40)) / 8, r.Float64() * 5}[r.IntN(3)] + 0.001
				b.sticks[p.item] += r.IntN(2)
			}
			b.parts = append(b.parts, p)
		}
		for k := range 30 {
			b.tasks = append(b.tasks, sampleTask{[]string{"hang duct", "make joint"}[k%2], float64(1 + r.IntN(7)), float64(1+r.IntN(60)) / 40})
		}
		e.bills = append(e.bills, b)
	}
	return e
}

// book makes the Book, by price.Money.Times and price.Quote.Times.
func (e *sample) book() *Book {
	out := &Book{Title: "Sample", Status: "best found", Notes: []string{"A note."}, System: e.system, Currency: e.currency, Crew: "amateur", Rate: e.rate,
		Waste: e.waste, SpareEvery: e.every}
	for n, b := range e.bills {
		bill := Bill{Name: fmt.Sprint("part ", n), Freight: b.freight, Kept: []Kept{{"stays", "hose", 2, "m"}}}
		gross, net := make([]float64, len(e.items)), make([]float64, len(e.items))
		items := make([]Item, len(e.items))
		for k := range e.items {
			i := &e.items[k]
			items[k] = Item{Name: i.name, Quote: price.Quote{Money: i.price, Unit: "one", Per: i.per}, Priced: !i.unpriced, Unit: i.unit()}
			if i.unpriced {
				items[k].Quote = price.Quote{}
			}
		}
		for _, p := range b.parts {
			part := Part{Item: items[p.item], Where: "here", Qty: p.qty}
			if e.items[p.item].stick > 0 {
				part.Waste = e.waste
			}
			g := part.Qty * (1 + part.Waste)
			gross[p.item] += g
			net[p.item] += part.Qty
			if part.Item.Priced {
				part.Total = part.Item.Quote.Times(g)
			}
			bill.Materials += part.Total
			bill.Parts = append(bill.Parts, part)
		}
		for _, k := range b.tasks {
			task := Task{Name: k.name, Where: "there", Qty: k.qty, Unit: "each", Hours: k.qty * k.hours}
			task.Total = e.rate.Times(task.Hours)
			bill.Labour += task.Total
			bill.Tasks = append(bill.Tasks, task)
		}
		for k := range e.items {
			bill.Goods = append(bill.Goods, e.good(k, &bill, items[k], gross[k], net[k], b.sticks[k]))
		}
		for _, g := range bill.Goods {
			bill.Shelf += g.Total
		}
		bill.Shelf += bill.Labour + b.freight
		out.Bills = append(out.Bills, bill)
	}
	return out
}

// good is the shelf side of an item; its sticks get a cut each.
func (e *sample) good(k int, bill *Bill, item Item, need, net float64, sticks int) Good {
	i := &e.items[k]
	g := Good{Item: item, Need: need, Net: net, Pack: "one", Size: i.per, Sticks: float64(sticks)}
	if i.stick > 0 {
		g.Pack, g.Size = "stick", i.stick
	} else if i.unpriced {
		g.Size = 1
	}
	base := math.Ceil(need/g.Size - 1e-9)
	switch {
	case i.couples:
		g.Rule, g.Spare = SpareShare, float64(int(base)/e.every)
	case sticks > 0:
		base = max(math.Ceil(net/g.Size-0.01), g.Sticks)
		g.Rule, g.Spare = SpareWaste, max(math.Ceil(need/g.Size-1e-9)-base, 0)
	case k%4 == 2:
		g.Spare = 1
	}
	g.Qty = base + g.Spare
	if item.Priced {
		g.Total = item.Quote.Times(g.Qty * g.Size)
	}
	for range sticks {
		bill.Sticks = append(bill.Sticks, Stick{Name: item.Name, Length: units.Length(i.stick), Cuts: []Cut{{"run", 1}, {"other run", 0.5}}, Rest: units.Length(i.stick - 1.5)})
	}
	return g
}

func (b *Book) amount(m price.Money) float64 { return (&writer{book: b}).amount(m) }

func (b *Book) display(qty float64, unit string) float64 {
	x, _ := (&lists{w: &writer{book: b}}).shown(qty, unit)
	return x
}
