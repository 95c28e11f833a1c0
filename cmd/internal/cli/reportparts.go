package cli

import (
	"fmt"
	"strings"

	"wyewright/cmd/internal/report"
	"wyewright/cmd/internal/ui"
	"wyewright/optimize/parts"
)

// partsBlock is what to buy, the work, what stays and comes out, and the sums.
func (o *outcome) partsBlock() report.Block {
	b := o.bill
	out := report.Block{ID: "parts", Title: "Parts and work", Notes: []string{
		fmt.Sprintf("Prices: %s, %s, %s. Put in your supplier's own before you buy.", b.Date, b.Region, b.Source)}}
	if len(b.Rows) == 0 {
		out.Lead, out.Notes = []string{"Nothing to buy and nothing to do."}, nil
		return out
	}
	code := b.Currency.Code
	buy := ui.NewTable(ui.Word("to buy"), ui.Num("needed", ""), ui.Num("from the shop", ""), ui.Num("to pay", code))
	work := ui.NewTable(ui.Word("work"), ui.Num("amount", ""), ui.Num("time", "h"))
	other := ui.NewTable(ui.Word("what"), ui.Num("amount", ""), ui.Word("what becomes of it"))
	for _, r := range b.Rows {
		switch r.Action {
		case parts.Buy:
			shelf, total := "", "no price"
			if !r.Unpriced {
				shelf, total = quantity(r.ShelfQty, r.ShelfUnit, o.sys), b.Currency.Number(r.ShelfTotal)
			}
			buy.Row(r.Item.String(), quantity(r.Gross, r.Unit, o.sys), shelf, total)
		case parts.Work:
			work.Row(r.Item.Family, quantity(r.Qty, r.Unit, o.sys), number(r.Hours, 2))
		case parts.Reuse:
			other.Row(r.Item.String(), quantity(r.Qty, r.Unit, o.sys), "stays")
		case parts.Remove:
			other.Row(r.Item.String(), quantity(r.Qty, r.Unit, o.sys), "comes out, spare")
		}
	}
	for _, t := range []struct {
		caption string
		*ui.Table
	}{{"To buy", buy}, {"Work", work}, {"What stays and what comes out", other}} {
		if len(t.Rows()) > 0 {
			out.Tables = append(out.Tables, slim(t.caption, t.Table))
		}
	}
	sums := slim("The cost", sumTable(b))
	for i := range sums.Rows {
		sums.Rows[i].Sum = strings.HasPrefix(sums.Rows[i].Cells[0], "planning cost") || i == len(sums.Rows)-1
	}
	out.Tables = append(out.Tables, sums)
	if len(b.Unpriced) > 0 {
		out.Notes = append([]string{"No price, not in the sums: " + strings.Join(b.Unpriced, "; ") + "."}, out.Notes...)
	}
	return out
}

// cutBlock says how to cut the pipe.
func (o *outcome) cutBlock() report.Block {
	out := report.Block{ID: "cuts", Title: "Cut list"}
	t := ui.NewTable(ui.Word("stick"), ui.Num("long", ""), ui.Word("cut off"), ui.Num("rest", ""))
	for _, s := range o.cuts {
		var pieces []string
		for _, c := range s.Pieces {
			pieces = append(pieces, toCut(c.Length, o.sys)+" for "+c.Where)
		}
		t.Row(s.Family+" "+s.Size, toCut(s.Length, o.sys), strings.Join(pieces, ", "), toCut(s.Rest, o.sys))
	}
	if len(o.cuts) > 0 {
		out.Tables = []report.Table{tableOf("A line for each stick", t)}
		out.Notes = []string{"The width of the saw comes off the rest."}
	}
	return out
}
