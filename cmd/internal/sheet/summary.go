package sheet

import (
	"fmt"

	"wyewright/optimize/price"
)

// The columns of the first sheet.
const (
	nowColumn  = "B"
	thenColumn = "C"
)

// The widths of its columns, and of all of them together.
var summaryWidths = []float64{46, 15, 15, 15, 40}

const summaryWidth = 46 + 3*15 + 40

// summary writes the first sheet: what holds for all lines and may be changed,
// and the sums as they are now, as the plan had them, and the difference.
func (l *lists) summary(w *writer) error {
	return w.sheet(summaryName, summaryWidths, 0, func(p *page) {
		s := &summary{l: l, p: p, row: 1}
		s.p.tall(s.row, 2, s.text(titleLook, w.book.Title))
		s.row++
		s.wide(w.book.Status)
		s.put(s.text(hintLook, "Framed cells, under the word change, are yours: prices, quantities, hours, and these. All else follows."))
		s.skip()
		s.head("For all lines", "change", "", "", "")
		s.input("Price of an hour of work, "+w.book.Currency.Code, moneyLook, w.book.Rate, "hours are those of "+w.book.Crew+" hands")
		s.input("Waste: pipe bought on top for offcuts", shareLook, w.book.Waste, "common practice")
		s.input("One spare coupling in every", countLook, w.book.SpareEvery, "common practice; on the shop list only")
		s.skip()
		s.sums()
		s.tasks()
	})
}

// summary is the first sheet while it is written.
type summary struct {
	l   *lists
	p   *page
	row int
	// planned and bought are the rows of the totals of each bill.
	planned, bought []int
}

func (s *summary) put(cells ...any) {
	s.p.row(s.row, cells...)
	s.row++
}

// wide writes a text over the whole width.
func (s *summary) wide(text string) {
	if s.p.err == nil {
		s.p.err = s.p.stream.MergeCell(fmt.Sprintf("A%d", s.row), fmt.Sprintf("E%d", s.row))
	}
	s.p.tall(s.row, lines(text, summaryWidth), s.text(statusLook, text))
	s.row++
}

func (s *summary) skip() { s.row++ }

func (s *summary) text(l look, text string) any { return s.p.cell(l, false, text) }

func (s *summary) head(words ...string) {
	var cells []any
	for i, t := range words {
		l := moneyLook
		if i == 0 || i == 4 {
			l = wordLook
		}
		cells = append(cells, s.text(l.head(), t))
	}
	s.put(cells...)
}

func (s *summary) input(name string, l look, v any, note string) {
	s.put(s.text(wordLook, name), s.p.cell(l, true, v), s.text(wordLook, ""), s.text(wordLook, ""), s.text(wordLook, note))
}

// line writes an amount as it is now and as it was, with a plain or a bold look.
func (s *summary) line(name string, bold bool, formula string, value price.Money, note string) int {
	w, m := wordLook, moneyLook
	if bold {
		w, m = w.sum(), m.sum()
	}
	n := s.row
	s.put(s.text(w, name), s.p.cell(m, false, live{formula, value}), s.p.cell(m, false, value),
		s.p.cell(m, false, live{fmt.Sprintf("%s%d-%s%d", nowColumn, n, thenColumn, n), 0.0}), s.text(w, note))
	return n
}

// sums writes the sums of each bill, and those of all where there are several.
func (s *summary) sums() {
	bills := s.l.w.book.Bills
	for i := range bills {
		s.bill(i, &bills[i])
	}
	if !s.l.several() {
		return
	}
	var planned, bought price.Money
	for i := range bills {
		planned += bills[i].Materials + bills[i].Labour
		bought += bills[i].Shelf
	}
	s.head("All stages, "+s.l.w.book.Currency.Code, "now", "as planned", "difference", "")
	s.line("Planning total", true, rows(s.planned), planned, "")
	s.line("Shop total", true, rows(s.bought), bought, "each stage bought by itself")
	s.skip()
}

// rows adds up cells of the column of amounts as they are now.
func rows(all []int) string {
	out := ""
	for i, n := range all {
		if i > 0 {
			out += "+"
		}
		out += fmt.Sprintf("%s%d", nowColumn, n)
	}
	return out
}

// bill writes the sums of one bill.
func (s *summary) bill(i int, b *Bill) {
	name := "Cost"
	if s.l.several() {
		name = fmt.Sprintf("Stage %d", i+1)
		if b.Name != "" {
			name += ": " + b.Name
		}
	}
	s.head(name+", "+s.l.w.book.Currency.Code, "now", "as planned", "difference", "")
	n := s.row
	s.line("Parts, with waste on pipe", false, s.sum(s.l.parts, i), b.Materials, "sheet "+partsName)
	s.line("Work", false, s.sum(s.l.work, i), b.Labour, "sheet "+workName)
	s.planned = append(s.planned, s.line("Planning total", true, rows([]int{n, n + 1}), b.Materials+b.Labour, "what the search goes by"))
	shop := s.row
	s.line("Whole sticks and packs", false, s.sum(s.l.shop, i), b.Shelf-b.Labour-b.Freight, "sheet "+shopName)
	s.line("Work", false, fmt.Sprintf("%s%d", nowColumn, n+1), b.Labour, "")
	s.freight(b.Freight)
	s.bought = append(s.bought, s.line("Shop total", true, rows([]int{shop, shop + 1, shop + 2}), b.Shelf, "what you pay for it"))
	if n := b.missing(); n > 0 {
		count := fmt.Sprintf(`COUNTIFS(%s,"%s"`, s.l.parts.span("total"), noPrice)
		if s.l.several() {
			count += fmt.Sprintf(",%s,%d", s.l.parts.span("stage"), i+1)
		}
		s.put(s.text(wordLook, "Lines without a price, in no sum"), s.p.cell(countLook, false, live{count + ")", n}))
	}
	s.skip()
}

// freight is an amount that may be changed.
func (s *summary) freight(m price.Money) {
	n := s.row
	s.put(s.text(wordLook, "Freight (change)"), s.p.cell(moneyLook, true, m), s.p.cell(moneyLook, false, m),
		s.p.cell(moneyLook, false, live{fmt.Sprintf("%s%d-%s%d", nowColumn, n, thenColumn, n), 0.0}), s.text(wordLook, ""))
}

// sum adds up the totals of a table, those of one stage where there are several.
func (s *summary) sum(t *table, bill int) string {
	if !s.l.several() {
		return "SUM(" + t.span("total") + ")"
	}
	return fmt.Sprintf("SUMIFS(%s,%s,%d)", t.span("total"), t.span("stage"), bill+1)
}

// missing counts the lines without a price.
func (b *Bill) missing() int {
	n := 0
	for i := range b.Parts {
		if !b.Parts[i].Item.Priced {
			n++
		}
	}
	return n
}

// tasks writes hours and cost by task, over all stages.
func (s *summary) tasks() {
	var names []string
	hours, cost := map[string]float64{}, map[string]price.Money{}
	for _, b := range s.l.w.book.Bills {
		for _, k := range b.Tasks {
			if _, ok := hours[k.Name]; !ok {
				names = append(names, k.Name)
			}
			hours[k.Name] += k.Hours
			cost[k.Name] += k.Total
		}
	}
	if len(names) == 0 {
		return
	}
	s.head("Work by task", "hours", s.l.w.book.Currency.Code, "", "")
	first := s.row
	all, total := 0.0, price.Money(0)
	for _, name := range names {
		by := fmt.Sprintf(",%s,A%d)", s.l.work.span("task"), s.row)
		s.put(s.text(wordLook, name), s.p.cell(amountLook, false, live{"SUMIFS(" + s.l.work.span("hours") + by, hours[name]}),
			s.p.cell(moneyLook, false, live{"SUMIFS(" + s.l.work.span("total") + by, cost[name]}))
		all += hours[name]
		total += cost[name]
	}
	s.put(s.text(wordLook.sum(), "All work"), s.p.cell(amountLook.sum(), false, live{fmt.Sprintf("SUM(B%d:B%d)", first, s.row-1), all}),
		s.p.cell(moneyLook.sum(), false, live{fmt.Sprintf("SUM(C%d:C%d)", first, s.row-1), total}))
}

const notesWidth = 104

// notes writes the last sheet.
func (l *lists) notes(w *writer) error {
	return w.sheet(notesName, []float64{notesWidth}, 0, func(p *page) {
		p.row(1, p.cell(titleLook, false, "Notes"))
		for i, t := range w.book.Notes {
			p.tall(3+i, lines(t, notesWidth), p.cell(wordLook, false, t))
		}
	})
}
