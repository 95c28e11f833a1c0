package cli

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"wyewright/cmd/internal/ui"
	"wyewright/network/units"
	"wyewright/optimize/parts"
)

// quantity prints an amount of a bill: pieces as they are, metres as feet
// where that is asked for.
func quantity(x float64, unit string, sys units.System) string {
	switch {
	case unit == "each":
		return strconv.FormatFloat(x, 'f', -1, 64)
	case unit == "m" && sys == units.US:
		return fmt.Sprintf("%.2f ft", x/float64(units.Foot))
	case unit == "m" || unit == "ft" || unit == "h":
		return fmt.Sprintf("%.2f %s", x, unit)
	case unit == "box" && x != 1:
		unit = "boxe"
	}
	return count(int(x), unit)
}

// writeBill prints a bill as text: what to buy, the work, what comes out, the
// sums, and how to cut the pipe.
func writeBill(w io.Writer, b *parts.Bill, cuts []parts.Stick, sys units.System) error {
	code := b.Currency.Code
	buy := ui.NewTable(ui.Word("to buy"), ui.Num("needed", ""), ui.Num("total", code), ui.Num("from the shop", ""), ui.Num("shop total", code))
	work := ui.NewTable(ui.Word("work"), ui.Num("amount", ""), ui.Num("time", "h"))
	other := ui.NewTable(ui.Word("kept or spare"), ui.Word("what"), ui.Num("amount", ""))
	n := [3]int{}
	for _, r := range b.Rows {
		switch r.Action {
		case parts.Buy:
			n[0]++
			total, shelf, shelfTotal := "no price", "", ""
			if !r.Unpriced {
				total, shelf, shelfTotal = b.Currency.Number(r.Total), quantity(r.ShelfQty, r.ShelfUnit, sys), b.Currency.Number(r.ShelfTotal)
			}
			buy.Row(r.Item.String(), quantity(r.Gross, r.Unit, sys), total, shelf, shelfTotal)
		case parts.Work:
			n[1]++
			work.Row(r.Item.Family, quantity(r.Qty, r.Unit, sys), number(r.Hours, 2))
		case parts.Reuse, parts.Remove:
			n[2]++
			word := map[parts.Action]string{parts.Reuse: "stays", parts.Remove: "spare"}[r.Action]
			other.Row(word, r.Item.String(), quantity(r.Qty, r.Unit, sys))
		}
	}
	if len(b.Rows) == 0 {
		_, err := fmt.Fprintln(w, "Nothing to buy and nothing to do.")
		return err
	}
	for i, t := range []*ui.Table{buy, work, other} {
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
	if lines := cutLines(cuts, sys); len(lines) > 0 {
		fmt.Fprintf(w, "\nCut list (the width of the saw comes off the rest)\n  %s\n", strings.Join(lines, "\n  "))
	}
	_, err := fmt.Fprintf(w, "\nPrices: %s, %s, %s. Put in your supplier's own before you buy.\n", b.Date, b.Region, b.Source)
	return err
}

// sumTable is the split of the cost.
func sumTable(b *parts.Bill) *ui.Table {
	t := ui.NewTable(ui.Word("cost"), ui.Num("amount", b.Currency.Code))
	t.Row(fmt.Sprintf("materials with %.3g %% waste on pipe", 100*b.Waste), b.Currency.Number(b.Materials))
	t.Row(fmt.Sprintf("work, %.1f hours", b.Hours), b.Currency.Number(b.Labour))
	t.Row("planning cost, which the search goes by", b.Currency.Number(b.Planning))
	if b.Freight != 0 {
		t.Row("freight", b.Currency.Number(b.Freight))
	}
	t.Row("shelf total: whole sticks and packs, and work", b.Currency.Number(b.Shelf))
	return t
}

// toCut prints a length as one marks it on a pipe.
func toCut(l units.Length, sys units.System) string {
	if sys == units.US {
		return number(float64(l/units.Inch), 1) + " in"
	}
	return number(1000*float64(l), 0) + " mm"
}

// cutLines says how to cut each stick, one line a stick.
func cutLines(cuts []parts.Stick, sys units.System) []string {
	var out []string
	for _, s := range cuts {
		var pieces []string
		for _, c := range s.Pieces {
			pieces = append(pieces, toCut(c.Length, sys)+" for "+c.Where)
		}
		out = append(out, fmt.Sprintf("%s %s, stick of %s: %s; rest %s", s.Family, s.Size, toCut(s.Length, sys), strings.Join(pieces, ", "), toCut(s.Rest, sys)))
	}
	return out
}
