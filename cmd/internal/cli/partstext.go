package cli

import (
	"fmt"
	"io"
	"strings"

	"wyewright/cmd/internal/ui"
	"wyewright/network/units"
	"wyewright/optimize/parts"
)

// quantity prints an amount of a bill.
func quantity(x float64, unit string, sys units.System) string { return parts.Amount(x, unit, sys) }

// writeBill prints a bill as text: what to buy by groups, the work, what comes
// out, the sums, where each part goes, and how to cut the pipe.
func writeBill(w io.Writer, b *parts.Bill, sys units.System) error {
	if len(b.Rows) == 0 {
		_, err := fmt.Fprintln(w, "Nothing to buy and nothing to do.")
		return err
	}
	work := ui.NewTable(ui.Word("work, "+b.Crew.String()), ui.Num("amount", ""), ui.Num("time", "h"), ui.Num("total", b.Currency.Code))
	other := ui.NewTable(ui.Word("stays or comes out"), ui.Word("what"), ui.Num("amount", ""), ui.Word("where"))
	n := [3]int{}
	for i := range b.Rows {
		r := &b.Rows[i]
		switch r.Action {
		case parts.Buy:
			n[0]++
		case parts.Work:
			n[1]++
			work.Row(r.Item.Family, quantity(r.Qty, r.Unit, sys), number(r.Hours, 2), b.Currency.Number(r.Total))
		case parts.Reuse, parts.Remove:
			n[2]++
			word := map[parts.Action]string{parts.Reuse: "stays", parts.Remove: "comes out"}[r.Action]
			other.Row(word, r.Item.String(), quantity(r.Qty, r.Unit, sys), r.Where(sys))
		}
	}
	for i, t := range []*ui.Table{buyTable(b, sys), work, other} {
		if n[i] == 0 {
			continue
		}
		if _, err := t.WriteTo(w); err != nil {
			return err
		}
		fmt.Fprintln(w)
	}
	if _, err := sumTable(b).WriteTo(w); err != nil {
		return err
	}
	if len(b.Unpriced) > 0 {
		fmt.Fprintf(w, "\nNo price, not in the sums: %s.\n", strings.Join(b.Unpriced, "; "))
	}
	for _, s := range []struct {
		head  string
		lines []string
	}{{"Where each part goes", whereLines(b, sys)}, {"Cut list", cutLines(b, sys)}, {"To know", b.Notes(sys)}} {
		if len(s.lines) > 0 {
			fmt.Fprintf(w, "\n%s\n", s.head)
			for _, l := range s.lines {
				fmt.Fprint(w, wrapped(l))
			}
		}
	}
	_, err := fmt.Fprintf(w, "\nPrices: %s, %s, %s. Put in your supplier's own before you buy.\n", b.Date, b.Region, b.Source)
	return err
}

// buyTable is what to buy, by groups with their sums.
func buyTable(b *parts.Bill, sys units.System) *ui.Table {
	code := b.Currency.Code
	t := ui.NewTable(ui.Word("to buy"), ui.Num("needed", ""), ui.Num("total", code), ui.Num("from the shop", ""), ui.Num("shop total", code))
	for _, g := range b.Subtotals() {
		needed := func(s string) string {
			if g.Group == parts.Spares {
				return ""
			}
			return s
		}
		t.Row(strings.ToUpper(g.Group.String()), "", needed(b.Currency.Number(g.Total)), "", b.Currency.Number(g.Shelf))
		for i := range g.Rows {
			r := &g.Rows[i]
			total, shelf, shelfTotal := "no price", "", ""
			if !r.Unpriced {
				total, shelf, shelfTotal = needed(b.Currency.Number(r.Total)), quantity(r.ShelfQty, r.ShelfUnit, sys), b.Currency.Number(r.ShelfTotal)
			}
			t.Row("  "+r.Item.String(), needed(quantity(r.Gross, r.Unit, sys)), total, shelf, shelfTotal)
		}
	}
	return t
}

// sumTable is the split of the cost.
func sumTable(b *parts.Bill) *ui.Table {
	t := ui.NewTable(ui.Word("cost"), ui.Num("amount", b.Currency.Code))
	for _, s := range b.Sums() {
		t.Row(s.Name, b.Currency.Number(s.Amount))
	}
	return t
}

// whereLines say where each part goes, one line a part.
func whereLines(b *parts.Bill, sys units.System) []string {
	var out []string
	for i := range b.Rows {
		r := &b.Rows[i]
		if r.Action != parts.Buy || len(r.Places) == 0 {
			continue
		}
		where := "every joint made"
		if !r.Everywhere() {
			where = r.Where(sys)
		}
		out = append(out, r.Item.String()+": "+where)
	}
	return out
}

// cutLines say how to cut the pipe: a line per family and size and, set in, one
// per stick.
func cutLines(b *parts.Bill, sys units.System) []string {
	var out []string
	for i := range b.Cuts {
		out = append(out, b.Cuts[i].Title(sys))
		for _, l := range b.Cuts[i].Lines(sys) {
			out = append(out, "  "+l)
		}
	}
	return append(out, b.CutNotes(sys)...)
}

// textWidth is the width to which long lines are broken.
const textWidth = 100

// wrapped breaks a line at its spaces and sets it in; what follows the first
// line is set in further.
func wrapped(line string) string {
	inset := "  "
	for strings.HasPrefix(line, "  ") {
		inset, line = inset+"  ", line[2:]
	}
	var out strings.Builder
	width := 0
	for i, word := range strings.Fields(line) {
		switch {
		case i == 0:
			out.WriteString(inset)
			width = len(inset)
		case width+1+ui.Width(word) > textWidth:
			out.WriteString("\n" + inset + "    ")
			width = len(inset) + 4
		default:
			out.WriteString(" ")
			width++
		}
		out.WriteString(word)
		width += ui.Width(word)
	}
	return out.String() + "\n"
}
