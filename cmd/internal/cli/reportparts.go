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
	work := ui.NewTable(ui.Word("work, "+b.Crew.String()), ui.Num("amount", ""), ui.Num("time", "h"), ui.Num("cost", b.Currency.Code))
	other := ui.NewTable(ui.Word("what"), ui.Num("amount", ""), ui.Word("where"), ui.Word("what becomes of it"))
	for i := range b.Rows {
		r := &b.Rows[i]
		switch r.Action {
		case parts.Work:
			work.Row(r.Item.Family, quantity(r.Qty, r.Unit, o.sys), number(r.Hours, 2), b.Currency.Number(r.Total))
		case parts.Reuse:
			other.Row(r.Item.String(), quantity(r.Qty, r.Unit, o.sys), r.Where(o.sys), "stays")
		case parts.Remove:
			other.Row(r.Item.String(), quantity(r.Qty, r.Unit, o.sys), r.Where(o.sys), "comes out, spare")
		}
	}
	out.Tables = append(out.Tables, o.buyTable())
	for _, t := range []struct {
		caption string
		*ui.Table
	}{{"Work", work}, {"What stays and what comes out", other}} {
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
	for _, line := range o.nowAndLater() {
		out.Lead = append(out.Lead, sentence(line))
	}
	out.Notes = append(out.Notes, b.Notes(o.sys)...)
	return out
}

// buyTable is what to buy by groups, each with its sum, and where it goes.
func (o *outcome) buyTable() report.Table {
	b := o.bill
	t := ui.NewTable(ui.Word("to buy"), ui.Num("needed", ""), ui.Num("from the shop", ""), ui.Num("to pay", b.Currency.Code), ui.Word("where it goes"))
	var heads []int
	for _, g := range b.Subtotals() {
		heads = append(heads, len(t.Rows()))
		t.Row(g.Group.String(), "", "", b.Currency.Number(g.Shelf), "")
		for i := range g.Rows {
			r := &g.Rows[i]
			needed, shelf, total := quantity(r.Gross, r.Unit, o.sys), "", "no price"
			if r.Spare {
				needed = ""
			}
			if !r.Unpriced {
				shelf, total = quantity(r.ShelfQty, r.ShelfUnit, o.sys), b.Currency.Number(r.ShelfTotal)
			}
			where := r.Where(o.sys)
			if r.Everywhere() {
				where = "every joint made"
			}
			t.Row(r.Item.String(), needed, shelf, total, where)
		}
	}
	out := tableOf("To buy", t)
	for _, i := range heads {
		out.Rows[i].Group = true
	}
	return out
}

// cutBlock says how to cut the pipe.
func (o *outcome) cutBlock() report.Block {
	out := report.Block{ID: "cuts", Title: "Cut list"}
	for i := range o.bill.Cuts {
		g := &o.bill.Cuts[i]
		out.Lists = append(out.Lists, report.List{Lead: g.Title(o.sys), Items: g.Lines(o.sys)})
	}
	out.Notes = o.bill.CutNotes(o.sys)
	return out
}

// stageBlock is the order of work, nil where there is none.
func (o *outcome) stageBlock() (*report.Stages, error) {
	if o.staged == nil {
		return nil, nil
	}
	out := &report.Stages{Lead: o.planLine() + " " + o.orderLine(o.staged), Note: o.twiceLine()}
	for i := range o.staged.Stages {
		st := &o.staged.Stages[i]
		lines := o.stageLines(i)
		head, cost, _ := strings.Cut(lines[0], ": ")
		item := report.Stage{Name: head, Cost: cost}
		for k := range st.Changes {
			item.Changes = append(item.Changes, lines[1+k])
		}
		if !st.Empty() {
			item.Meets = lines[1+len(st.Changes):]
		}
		out.Items = append(out.Items, item)
	}
	fig, err := o.stageFigure()
	if err != nil {
		return nil, err
	}
	svg, err := fig.SVG()
	out.Figure = report.Figure{Alt: "Flow at each tool in its worst state, as found and after each stage, in per cent of what it needs", SVG: svg}
	return out, err
}
