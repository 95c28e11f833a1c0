package sheet

import (
	"fmt"
	"math"

	"wyewright/network/units"
	"wyewright/optimize/price"
)

// listParts lists what is bought, line by line: their sum is the planning
// total, each line rounded by itself.
func (l *lists) listParts() {
	code := l.w.book.Currency.Code
	t := &table{name: partsName, title: "Parts, place by place", hint: "What each run and joint takes. The planning total is the sum of these lines, each rounded by itself.",
		cols: l.staged(column{key: "no", head: "No.", width: 6, look: codeLook}, column{key: "item", head: "Item", width: 44, look: wordLook},
			column{key: "where", head: "Where", width: 20, look: wordLook}, column{key: "qty", head: "Quantity", width: 11, look: amountLook, input: true},
			column{key: "unit", head: "Unit", width: 7, look: wordLook}, column{key: "waste", head: "Waste", width: 9, look: shareLook},
			column{key: "gross", head: "With waste", width: 11, look: amountLook}, column{key: "price", head: "Price of one unit", width: 12, look: priceLook},
			column{key: "total", head: "Total, " + code, width: 13, look: moneyLook})}
	l.parts = t
	var sum price.Money
	for b := range l.w.book.Bills {
		bill := &l.w.book.Bills[b]
		sum += bill.Materials
		for i := range bill.Parts {
			p := &bill.Parts[i]
			qty, unit := l.shown(p.Qty, p.Item.Unit)
			l.add(t, b, l.number(&p.Item), p.Item.Name, p.Where, amount(qty, unit), unit, l.waste(p),
				amount(live{"{qty}*(1+{waste})", qty * (1 + p.Waste)}, unit), live{l.priceOf(""), l.unitPrice(&p.Item, 1)},
				live{l.costOf("{gross}"), p.Item.cost(p.Total)})
		}
	}
	t.sums = map[string]float64{"total": l.w.amount(sum)}
}

// waste is the cell of the whole workbook where a line takes its share.
func (l *lists) waste(p *Part) any {
	switch {
	case p.Waste == 0:
		return nil
	case p.Waste == l.w.book.Waste:
		return live{wasteCell, p.Waste}
	}
	return p.Waste
}

// listGoods lists what a shop sells for the parts: whole sticks and packs, not
// fewer than the cut list takes.
func (l *lists) listGoods() {
	code := l.w.book.Currency.Code
	t := &table{name: shopName, title: "Shop list: whole sticks and packs", hint: "Needed follows the sheet Parts. The sticks of the cut list hold until it is made anew.",
		cols: l.staged(column{key: "no", head: "No.", width: 6, look: codeLook}, column{key: "item", head: "Item", width: 44, look: wordLook},
			column{key: "need", head: "Needed", width: 11, look: amountLook}, column{key: "unit", head: "Unit", width: 7, look: wordLook},
			column{key: "pack", head: "Sold as", width: 10, look: wordLook}, column{key: "size", head: "that holds", width: 10, look: amountLook},
			column{key: "packs", head: "By need", width: 9, look: countLook}, column{key: "sticks", head: "By cut list", width: 9, look: countLook},
			column{key: "spare", head: "Spare", width: 10, look: countLook, input: true}, column{key: "buy", head: "To buy", width: 9, look: countLook},
			column{key: "price", head: "Price of one", width: 12, look: priceLook}, column{key: "total", head: "Total, " + code, width: 13, look: moneyLook},
			column{key: "got", head: "Got", width: 6, look: wordLook})}
	l.shop = t
	sum := 0.0
	for b := range l.w.book.Bills {
		bill := &l.w.book.Bills[b]
		for i := range bill.Goods {
			g := &bill.Goods[i]
			need, unit := l.shown(g.Need, g.Item.Unit)
			size, _ := l.shown(g.Size, g.Item.Unit)
			packs := live{"ROUNDUP({need}/{size}-1E-9,0)", math.Ceil(need/size - 1e-9)}
			if g.Sticks > 0 { // the cut list has the waste; a stick may be short of a piece by a millimetre
				net, _ := l.shown(g.Net, g.Item.Unit)
				packs = live{"ROUNDUP(" + l.sum("qty") + "/{size}-0.01,0)", math.Ceil(net/size - 0.01)}
			}
			l.add(t, b, l.number(&g.Item), g.Item.Name, amount(live{l.sum("gross"), need}, unit), unit, g.Pack, amount(size, unit),
				packs, live{l.sticks(), g.Sticks}, g.spare(), live{"MAX({packs},{sticks})+{spare}", g.Qty},
				live{l.priceOf("{size}"), l.unitPrice(&g.Item, size)}, live{l.costOf("{buy}"), g.Item.cost(g.Total)}, "")
			if g.Item.Priced {
				sum += l.w.amount(g.Total)
			}
		}
	}
	t.sums = map[string]float64{"total": sum}
}

// spare is the number of spares, live where a rule gives it.
func (g *Good) spare() any {
	switch g.Rule {
	case SpareShare:
		return live{fmt.Sprintf("IF(%s>0,INT(MAX({packs},{sticks})/%s),0)", sparesCell, sparesCell), g.Spare}
	case SpareWaste:
		return live{"MAX(ROUNDUP({need}/{size}-1E-9,0)-MAX({packs},{sticks}),0)", g.Spare}
	}
	return g.Spare
}

// sum sums what all places take of an item, in one stage.
func (l *lists) sum(key string) string {
	return l.among("SUMIFS("+l.parts.span(key)+",", l.parts)
}

// sticks counts those of an item in the cut list, in one stage.
func (l *lists) sticks() string { return l.among("COUNTIFS(", l.cuts) }

// among ends a formula with its conditions: the number of the row, and its
// stage where there are several.
func (l *lists) among(begin string, t *table) string {
	out := begin + t.span("no") + ",{no}"
	if l.several() {
		out += "," + t.span("stage") + ",{stage}"
	}
	return out + ")"
}

// listCuts lists the cuts, stick by stick. The first row of a stick has its
// number in the list of prices, so that sticks are counted by it; the last one
// has what is left over.
func (l *lists) listCuts() {
	mark := "mm"
	if l.w.book.System == units.US {
		mark = "in"
	}
	t := &table{name: cutsName, title: "Cut list", hint: "Stick by stick, the longest piece first. It is not made anew when a length is changed: run wyewright again.",
		cols: l.staged(column{key: "stick", head: "Stick", width: 7, look: codeLook}, column{key: "no", head: "No.", width: 6, look: codeLook}, column{key: "item", head: "Pipe", width: 40, look: wordLook},
			column{key: "length", head: "Stick, " + mark, width: 11, look: l.markLook()}, column{key: "cut", head: "Cut, " + mark, width: 11, look: l.markLook()},
			column{key: "where", head: "For", width: 24, look: wordLook}, column{key: "rest", head: "Left over, " + mark, width: 12, look: l.markLook()}, column{key: "status", head: "Fewest sticks?", width: 34, look: wordLook}, column{key: "done", head: "Done", width: 7, look: wordLook})}
	l.cuts = t
	stick := 0
	for b := range l.w.book.Bills {
		bill := &l.w.book.Bills[b]
		for i := range bill.Sticks {
			s := &bill.Sticks[i]
			stick++
			for k, c := range s.Cuts {
				var no, name, length, rest, status any
				if k == 0 {
					no, name, length, status = l.named(bill, s.Name), s.Name, l.mark(s.Length), s.Status
				}
				if k == len(s.Cuts)-1 {
					rest = l.mark(s.Rest)
				}
				l.add(t, b, stick, no, name, length, l.mark(c.Length), c.Where, rest, status, "")
			}
		}
	}
}

// mark is a length as one marks it on a pipe: millimetres, or tenths of an inch.
func (l *lists) mark(x units.Length) float64 {
	if l.w.book.System == units.US {
		return math.Round(10*float64(x/units.Inch)) / 10
	}
	return math.Round(1000 * float64(x))
}

// markLook shows such a length.
func (l *lists) markLook() look {
	if l.w.book.System == units.US {
		return tenthLook
	}
	return countLook
}

// named is the number of an item of a bill by its name, nil if it is not bought.
func (l *lists) named(b *Bill, name string) any {
	for i := range b.Goods {
		if b.Goods[i].Item.Name == name {
			return l.number(&b.Goods[i].Item)
		}
	}
	return nil
}
