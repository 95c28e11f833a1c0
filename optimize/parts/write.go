package parts

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"wyewright/optimize/price"
)

// WriteCSV writes one record per row of the bill, with a header; quantities
// have full precision, amounts the currency's decimals.
func (b *Bill) WriteCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	records := [][]string{{"action", "kind", "family", "size", "other size", "quantity", "quantity with waste", "unit", "hours",
		"price", "price per", "price note", "total " + b.Currency.Code, "shelf quantity", "shelf unit",
		"shelf total " + b.Currency.Code, "price source"}}
	for i := range b.Rows {
		r := &b.Rows[i]
		money := func(m price.Money) string { return b.Currency.Number(m) }
		rec := []string{r.Action.String(), r.Item.Kind.String(), r.Item.Family, r.Item.Sizes[0], r.Item.Sizes[1],
			decimal(r.Qty, 4), decimal(r.Gross, 4), r.Unit, "", "", "", r.note(), "", "", "", "", ""}
		switch {
		case r.Unpriced:
		case r.Action == Buy:
			copy(rec[9:11], []string{money(r.Quote.Money), r.Quote.Unit})
			copy(rec[12:], []string{money(r.Total), decimal(r.ShelfQty, 0), r.ShelfUnit, money(r.ShelfTotal), r.Quote.Source})
		case r.Action == Work:
			rec[8] = decimal(r.Hours, 2)
			copy(rec[9:11], []string{money(b.Rate), "h"})
			rec[12] = money(r.Total)
		}
		records = append(records, rec)
	}
	if err := out.WriteAll(records); err != nil {
		return fmt.Errorf("parts: write bill: %w", err)
	}
	return nil
}

// note says what is particular about the price.
func (r *Row) note() string {
	switch {
	case r.Unpriced:
		return "no price"
	case r.Quote.Interpolated:
		return "interpolated"
	}
	return ""
}

// decimal writes a number with at most that many decimals and no trailing
// zeros.
func decimal(x float64, digits int) string {
	s := strconv.FormatFloat(x, 'f', digits, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// WriteMarkdown writes the bill as tables: to buy, work, stays and comes out,
// the sums, and what to know about the prices.
func (b *Bill) WriteMarkdown(w io.Writer) error {
	var s strings.Builder
	if len(b.Rows) == 0 {
		s.WriteString("Nothing to buy and nothing to do.\n")
	} else {
		b.writeBuy(&s)
		b.writeWork(&s)
		b.writeOther(&s)
		b.writeSums(&s)
	}
	if _, err := io.WriteString(w, s.String()); err != nil {
		return fmt.Errorf("parts: write bill: %w", err)
	}
	return nil
}

func (b *Bill) writeBuy(s *strings.Builder) {
	t := grid{head: []string{"To buy", "Quantity", "Price", "Total", "From the shop", "Shop total"}, left: 1}
	for i := range b.Rows {
		r := &b.Rows[i]
		if r.Action != Buy {
			continue
		}
		row := []string{r.Item.String(), amount(r.Gross, r.Unit), "no price", "", "", ""}
		if !r.Unpriced {
			mark := ""
			if r.Quote.Interpolated {
				mark = " *"
			}
			row[2] = b.Currency.Number(r.Quote.Money) + mark
			if u := r.Quote.Unit; u != "each" {
				row[2] = b.Currency.Number(r.Quote.Money) + "/" + u + mark
			}
			row[3] = b.Currency.Number(r.Total)
			row[4] = amount(r.ShelfQty, r.ShelfUnit)
			row[5] = b.Currency.Number(r.ShelfTotal)
		}
		t.rows = append(t.rows, row)
	}
	t.write(s)
}

// amount is a quantity with its unit, in the plural where it has one; pieces
// need no unit.
func amount(qty float64, unit string) string {
	s := decimal(qty, 2)
	switch {
	case unit == "each":
		return s
	case len(unit) <= 2 || s == "1": // m, ft, h
	case unit == "box":
		unit = "boxes"
	default:
		unit += "s"
	}
	return s + " " + unit
}

func (b *Bill) writeWork(s *strings.Builder) {
	t := grid{head: []string{"Work", "Quantity", "Hours"}, left: 1}
	for i := range b.Rows {
		if r := &b.Rows[i]; r.Action == Work {
			t.rows = append(t.rows, []string{r.Item.Family, amount(r.Qty, r.Unit), strconv.FormatFloat(r.Hours, 'f', 2, 64)})
		}
	}
	t.write(s)
}

func (b *Bill) writeOther(s *strings.Builder) {
	t := grid{head: []string{"Other", "What", "Quantity"}, left: 2}
	for i := range b.Rows {
		r := &b.Rows[i]
		switch r.Action {
		case Reuse:
			t.rows = append(t.rows, []string{"stays", r.Item.String(), amount(r.Qty, r.Unit)})
		case Remove:
			t.rows = append(t.rows, []string{"spare", r.Item.String(), amount(r.Qty, r.Unit)})
		}
	}
	t.write(s)
}

func (b *Bill) writeSums(s *strings.Builder) {
	t := grid{head: []string{"Sum", b.Currency.Code}, left: 1}
	add := func(name string, m price.Money) { t.rows = append(t.rows, []string{name, b.Currency.Number(m)}) }
	add("Materials, "+decimal(100*b.Waste, 1)+" % waste on pipe", b.Materials)
	add(fmt.Sprintf("Labour, %s h (%s) at %s/h", decimal(b.Hours, 2), b.Crew, b.Currency.Number(b.Rate)), b.Labour)
	add("Planning total", b.Planning)
	if b.Freight != 0 {
		add("Freight", b.Freight)
	}
	add("Shop total: whole sticks and packs, labour, freight", b.Shelf)
	t.write(s)
	if len(b.Unpriced) > 0 {
		fmt.Fprintf(s, "No price, not in the sums: %s.\n", strings.Join(b.Unpriced, "; "))
	}
	s.WriteString("Totals are sums of amounts rounded place by place. * between the listed sizes (interpolated).\n")
	fmt.Fprintf(s, "Prices: %s, %s, %s. Put in your supplier's own before you buy.\n", b.Date, b.Region, b.Source)
}

// grid is a table in Markdown; the first left columns are flush left, the
// others flush right.
type grid struct {
	head []string
	rows [][]string
	left int
}

// write pads the cells, so that the table reads well as plain text too, and
// ends with an empty line. A table without rows is not written.
func (g *grid) write(s *strings.Builder) {
	if len(g.rows) == 0 {
		return
	}
	width := make([]int, len(g.head))
	for _, row := range append([][]string{g.head}, g.rows...) {
		for k, c := range row {
			width[k] = max(width[k], utf8.RuneCountInString(c))
		}
	}
	line := func(row []string) {
		for k, c := range row {
			pad := strings.Repeat(" ", width[k]-utf8.RuneCountInString(c))
			if k < g.left {
				s.WriteString("| " + c + pad + " ")
			} else {
				s.WriteString("| " + pad + c + " ")
			}
		}
		s.WriteString("|\n")
	}
	line(g.head)
	for k, n := range width {
		rule := strings.Repeat("-", n+1)
		if k < g.left {
			s.WriteString("|:" + rule)
		} else {
			s.WriteString("|" + rule + ":")
		}
	}
	s.WriteString("|\n")
	for _, row := range g.rows {
		line(row)
	}
	s.WriteString("\n")
}
