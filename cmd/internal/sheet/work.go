package sheet

import (
	"wyewright/optimize/price"
)

// listWork lists the work, line by line: quantity, hours for one, cost.
func (l *lists) listWork() {
	t := &table{name: workName, title: "Work, place by place", hint: "Hours are those of " + l.w.book.Crew + " hands; the rate is on the sheet " + summaryName + ".",
		cols: l.staged(column{key: "task", head: "Task", width: 30, look: wordLook}, column{key: "where", head: "Where", width: 24, look: wordLook},
			column{key: "qty", head: "Quantity", width: 11, look: amountLook, input: true}, column{key: "unit", head: "Unit", width: 8, look: wordLook},
			column{key: "each", head: "Hours for one", width: 13, look: priceLook, input: true}, column{key: "hours", head: "Hours", width: 10, look: amountLook},
			column{key: "total", head: "Total, " + l.w.book.Currency.Code, width: 13, look: moneyLook})}
	l.work = t
	var sum price.Money
	hours := 0.0
	for b := range l.w.book.Bills {
		bill := &l.w.book.Bills[b]
		sum += bill.Labour
		for i := range bill.Tasks {
			k := &bill.Tasks[i]
			qty, unit := l.shown(k.Qty, k.Unit)
			hours += k.Hours
			l.add(t, b, k.Name, k.Where, amount(qty, unit), unit, k.Hours/qty, live{"{qty}*{each}", k.Hours}, live{l.rounded("{hours}*" + rateCell), k.Total})
		}
	}
	t.sums = map[string]float64{"hours": hours, "total": l.w.amount(sum)}
}

// listKept lists what stays and what comes out.
func (l *lists) listKept() {
	t := &table{name: keptName, title: "What stays, and what comes out", hint: "Neither costs nor earns anything here.",
		cols: l.staged(column{key: "what", head: "What", width: 12, look: wordLook}, column{key: "item", head: "Item", width: 50, look: wordLook},
			column{key: "qty", head: "Quantity", width: 12, look: amountLook}, column{key: "unit", head: "Unit", width: 8, look: wordLook})}
	l.kept = t
	for b := range l.w.book.Bills {
		bill := &l.w.book.Bills[b]
		for i := range bill.Kept {
			k := &bill.Kept[i]
			qty, unit := l.shown(k.Qty, k.Unit)
			l.add(t, b, k.What, k.Name, amount(qty, unit), unit)
		}
	}
}
