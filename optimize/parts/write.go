package parts

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"wyewright/network/units"
	"wyewright/optimize/price"
)

// WriteMarkdown writes the bill as tables: to buy by groups, work, what stays
// and comes out, the sums; then where each part goes, the cut list, and what to
// know. Lengths are in feet and inches where the system has them.
func (b *Bill) WriteMarkdown(w io.Writer, sys units.System) error {
	m := markdown{Bill: b, sys: sys}
	if len(b.Rows) == 0 {
		m.WriteString("Nothing to buy and nothing to do.\n")
	} else {
		m.buy()
		m.work()
		m.other()
		m.sums()
		m.where()
		m.cuts()
		m.notes()
	}
	if _, err := io.WriteString(w, m.String()); err != nil {
		return fmt.Errorf("parts: write bill: %w", err)
	}
	return nil
}

// markdown is a bill on its way to text.
type markdown struct {
	*Bill
	strings.Builder
	sys units.System
}

func (m *markdown) buy() {
	t := grid{head: []string{"To buy", "Needed", "Price", "Total", "From the shop", "Shop total"}, left: 1}
	for _, g := range m.Subtotals() {
		total := m.Currency.Number(g.Total)
		if g.Group == Spares {
			total = ""
		}
		t.rows = append(t.rows, []string{"**" + g.Group.String() + "**", "", "", total, "", m.Currency.Number(g.Shelf)})
		for i := range g.Rows {
			t.rows = append(t.rows, m.row(&g.Rows[i]))
		}
	}
	t.write(&m.Builder)
}

// row is a row to buy.
func (m *markdown) row(r *Row) []string {
	row := []string{r.Item.String(), Amount(r.Gross, r.Unit, m.sys), "no price", "", "", ""}
	if r.Spare {
		row[1] = ""
	}
	if r.Unpriced {
		return row
	}
	row[2] = m.Currency.Number(r.Quote.Money)
	if u := r.Quote.Unit; u != "each" {
		row[2] += "/" + u
	}
	if r.Quote.Interpolated {
		row[2] += " *"
	}
	row[3], row[4], row[5] = r.total(m.Bill), Amount(r.ShelfQty, r.ShelfUnit, m.sys), m.Currency.Number(r.ShelfTotal)
	return row
}

func (m *markdown) work() {
	t := grid{head: []string{"Work (" + m.Crew.String() + ")", "Quantity", "Hours", m.Currency.Code}, left: 1}
	for i := range m.Rows {
		if r := &m.Rows[i]; r.Action == Work {
			t.rows = append(t.rows, []string{r.Item.Family, Amount(r.Qty, r.Unit, m.sys), strconv.FormatFloat(r.Hours, 'f', 2, 64), m.Currency.Number(r.Total)})
		}
	}
	t.write(&m.Builder)
}

func (m *markdown) other() {
	t := grid{head: []string{"Other", "What", "Quantity", "Where"}, left: 4}
	for i := range m.Rows {
		r := &m.Rows[i]
		if word, ok := map[Action]string{Reuse: "stays", Remove: "comes out"}[r.Action]; ok {
			t.rows = append(t.rows, []string{word, r.Item.String(), Amount(r.Qty, r.Unit, m.sys), r.Where(m.sys)})
		}
	}
	t.write(&m.Builder)
}

func (m *markdown) sums() {
	t := grid{head: []string{"Sum", m.Currency.Code}, left: 1}
	for _, s := range m.Sums() {
		t.rows = append(t.rows, []string{s.Name, m.Currency.Number(s.Amount)})
	}
	t.write(&m.Builder)
	if len(m.Unpriced) > 0 {
		fmt.Fprintf(m, "No price, not in the sums: %s.\n\n", strings.Join(m.Unpriced, "; "))
	}
	m.WriteString("Totals are sums of amounts rounded place by place. * between the listed sizes (interpolated).\n")
	fmt.Fprintf(m, "Prices: %s, %s, %s. Put in your supplier's own before you buy.\n\n", m.Date, m.Region, m.Source)
}

// Sum is one line of the split of a bill.
type Sum struct {
	Name   string
	Amount price.Money
}

// Sums split the cost of a bill: the planning cost, which a search goes by,
// and then the total of the shop.
func (b *Bill) Sums() []Sum {
	spares := price.Money(0)
	for _, g := range b.Subtotals() {
		if g.Group == Spares {
			spares = g.Shelf
		}
	}
	out := []Sum{
		{"materials with " + decimal(100*b.Waste, 1) + " % waste on pipe", b.Materials},
		{fmt.Sprintf("work, %.1f hours, %s, %s", b.Hours, b.Crew, b.rate()), b.Labour},
		{"planning cost, which the search goes by", b.Planning},
		{"from the shop in whole sticks and packs", b.Shelf - b.Labour - b.Freight - spares},
	}
	if spares != 0 {
		out = append(out, Sum{"spares", spares})
	}
	if b.Freight != 0 {
		out = append(out, Sum{"freight", b.Freight})
	}
	return append(out, Sum{"shelf total: from the shop, and the work", b.Shelf})
}

// rate is the price of an hour in words.
func (b *Bill) rate() string {
	if b.Rate == 0 {
		return "not paid for"
	}
	return b.Currency.Number(b.Rate) + "/h"
}

// where says where each part goes.
func (m *markdown) where() {
	t := grid{head: []string{"Part", "Where it goes"}, left: 2}
	for i := range m.Rows {
		r := &m.Rows[i]
		if r.Action != Buy || len(r.Places) == 0 {
			continue
		}
		where := "every joint made"
		if !r.Everywhere() {
			where = r.Where(m.sys)
		}
		t.rows = append(t.rows, []string{r.Item.String(), where})
	}
	if len(t.rows) > 0 {
		m.WriteString("## Where each part goes\n\n")
	}
	t.write(&m.Builder)
}

func (m *markdown) cuts() {
	if len(m.Cuts) == 0 {
		return
	}
	m.WriteString("## Cut list\n\n")
	for i := range m.Cuts {
		g := &m.Cuts[i]
		fmt.Fprintf(m, "**%s**\n\n- %s\n\n", g.Title(m.sys), strings.Join(g.Lines(m.sys), "\n- "))
	}
	m.WriteString(strings.Join(m.CutNotes(m.sys), " ") + "\n\n")
}

func (m *markdown) notes() {
	if notes := m.Notes(m.sys); len(notes) > 0 {
		m.WriteString("## To know\n\n- " + strings.Join(notes, "\n- ") + "\n")
	}
}
