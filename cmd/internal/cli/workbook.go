package cli

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"wyewright/cmd/internal/sheet"
	"wyewright/network/units"
	"wyewright/optimize"
	"wyewright/optimize/parts"
	"wyewright/optimize/price"
)

// workbookFormat is the form of a bill with live formulas.
const workbookFormat = "xlsx"

// checkWorkbook takes the end of the file's name for a wish for a form, where none
// was given, and refuses a workbook where no file can hold it.
func (a *app) checkWorkbook(o *partsOptions) error {
	end := strings.TrimPrefix(filepath.Ext(o.out), ".")
	named := end == workbookFormat
	if o.format == "text" && slices.Contains(billFormats, end) {
		o.format = end
	}
	switch {
	case slices.Contains([]string{"pdf", "html", "htm", "xls", "ods", "docx"}, end):
		return fail(Usage, fmt.Errorf("%s: no bill is written as .%s", o.out, end), "end the name in .xlsx, .md, .csv, .json or .txt; report writes a page to print")
	case o.format != workbookFormat && named:
		return fail(Usage, fmt.Errorf("%s is a name for a workbook", o.out), "end the name in ."+o.format+", or ask for --format xlsx")
	case o.format == workbookFormat && o.out == "":
		return fail(Usage, errors.New("a workbook is no text to print"), "name the file to write: -o parts.xlsx")
	case o.format == workbookFormat && a.json:
		return fail(Usage, errors.New("--json and a workbook do not go together"), "ask for one of them")
	}
	return nil
}

// billed is a bill with the lines that it is made of.
type billed struct {
	title, status string
	notes         []string
	bill          *parts.Bill
	lines         []parts.Line
	cuts          []parts.Stick
}

// billed is the bill of a plan. Without a result of a search the plan was read
// and priced anew.
func (o *outcome) billed(plan *optimize.Plan) *billed {
	lines, bill := o.problem.Lines(plan), o.bill
	if bill == nil || plan != o.result.Best {
		bill = o.p.Builder.Bill(lines)
	}
	b := billedBy(bill, lines)
	b.title, b.status = o.p.File.Name, "A plan read from a file and priced anew: whether it is the cheapest was not looked for."
	if o.result != nil {
		b.status, b.notes = o.closest()+o.verdictLine(), cautions(o)
	}
	return b
}

// billedLines is the bill of lines.
func billedLines(builder *parts.Builder, lines []parts.Line) *billed {
	return billedBy(builder.Bill(lines), lines)
}

// billedBy is a bill that is made already, with its lines.
func billedBy(bill *parts.Bill, lines []parts.Line) *billed {
	return &billed{bill: bill, lines: lines, cuts: bill.Sticks()}
}

// billed is the bill that the JSON holds.
func (j *jsonBill) billed() (*billed, error) {
	b := &billed{}
	var err error
	if b.bill, b.cuts, err = j.bill(); err == nil {
		b.lines, err = j.lines()
	}
	return b, err
}

// json is the JSON of the bill with its lines.
func (b *billed) json() jsonBill {
	out := billJSON(b.bill, b.cuts)
	out.Lines = linesJSON(b.lines)
	return out
}

// workbook writes the bill as a workbook.
func (b *billed) workbook(w io.Writer, sys units.System) error {
	if len(b.lines) == 0 && len(b.bill.Rows) > 0 {
		return fail(FileInvalid, errors.New("the plan does not list its lines: an earlier version wrote it"), "run redesign again")
	}
	return sheet.Write(w, workbook(b.title, b.status, b.notes, sys, []*billed{b}))
}

// putWorkbook writes the bill as a workbook into the folder.
func (o *outcome) putWorkbook(f *folder) error {
	var data bytes.Buffer
	err := o.billed(o.result.Best).workbook(&data, o.sys)
	return f.put(bookName, data.Bytes(), err)
}

// putStageBook writes the bills of all stages as one workbook.
func (o *outcome) putStageBook(f *folder) error {
	var bills []*billed
	for i := range o.staged.Stages {
		if st := &o.staged.Stages[i]; !st.Empty() {
			b := billedLines(o.p.Builder, st.Lines)
			if name := stageName(o.staged, i); name != fmt.Sprintf("stage %d", len(bills)+1) {
				b.title = name
			}
			bills = append(bills, b)
		}
	}
	if len(bills) == 0 {
		return nil
	}
	var data bytes.Buffer
	err := sheet.Write(&data, workbook(o.p.File.Name, "In stages; the order is "+o.staged.Status.String()+". "+o.closest()+o.verdictLine(), nil, o.sys, bills))
	return f.put(stagesName+"."+workbookFormat, data.Bytes(), err)
}

// workbook gathers one bill or more, of one currency, rate and waste, for a
// workbook.
func workbook(title, status string, notes []string, sys units.System, bills []*billed) *sheet.Book {
	first := bills[0].bill
	out := &sheet.Book{Title: title, Status: status, System: sys, Currency: first.Currency, Crew: first.Crew.String(), Rate: first.Rate,
		Waste: first.Waste, SpareEvery: parts.SpareCouplings}
	out.Notes = append(out.Notes, fmt.Sprintf("Prices: %s, %s, %s. Put in your supplier's own before you buy.", first.Date, first.Region, first.Source),
		"Each line is rounded by itself, half up; the planning total is the sum of the lines. The shop total takes whole sticks and packs, not fewer sticks than the cut list.",
		"The cut list and its sticks are those of the plan as written: after a change of lengths run wyewright parts again.")
	for _, b := range bills {
		out.Notes = append(out.Notes, b.bill.CutNotes(sys)...)
	}
	for _, n := range notes {
		out.Notes = append(out.Notes, "Mind: "+n+".")
	}
	for _, b := range bills {
		out.Bills = append(out.Bills, sheetBill(b))
	}
	return out
}

// sheetBill is one bill as a workbook takes it.
func sheetBill(b *billed) sheet.Bill {
	out := sheet.Bill{Name: b.title, Freight: b.bill.Freight, Materials: b.bill.Materials, Labour: b.bill.Labour, Shelf: b.bill.Shelf}
	sticks, length := map[string]float64{}, map[string]float64{}
	for _, s := range b.cuts {
		name := price.Item{Kind: price.Pipe, Family: s.Family, Sizes: [3]string{s.Size}}.String()
		sticks[name]++
		length[name] = float64(s.Length)
		stick := sheet.Stick{Name: name, Length: s.Length, Rest: s.Rest, Status: "not proved"}
		for i := range b.bill.Cuts {
			if g := &b.bill.Cuts[i]; g.Family == s.Family && g.Size == s.Size {
				stick.Status = g.Status()
			}
		}
		for _, c := range s.Pieces {
			stick.Cuts = append(stick.Cuts, sheet.Cut{Where: c.String(), Length: c.Length})
		}
		out.Sticks = append(out.Sticks, stick)
	}
	items := map[price.Item]sheet.Item{}
	spares := map[price.Item]*parts.Row{}
	for i := range b.bill.Rows {
		if r := &b.bill.Rows[i]; r.Spare {
			spares[r.Item] = r
		}
	}
	for _, r := range b.bill.Rows {
		name := r.Item.String()
		switch r.Action {
		case parts.Buy:
			if r.Spare {
				continue
			}
			i := sheet.Item{Name: name, Quote: r.Quote, Priced: !r.Unpriced, Unit: r.Unit}
			items[r.Item] = i
			out.Goods = append(out.Goods, good(&r, spares[r.Item], i, sticks[name], length[name]))
		case parts.Reuse, parts.Remove:
			word := map[parts.Action]string{parts.Reuse: "stays", parts.Remove: "comes out"}[r.Action]
			out.Kept = append(out.Kept, sheet.Kept{What: word, Name: name, Qty: r.Qty, Unit: r.Unit})
		}
	}
	for _, l := range b.lines {
		switch l.Action {
		case parts.Buy:
			i := items[l.Item]
			if l.Item.Kind == price.Whole {
				i.Quote = price.Quote{Money: l.Sum, Unit: l.Unit, Per: 1}
			}
			p := sheet.Part{Item: i, Where: l.Where, Qty: l.Qty, Waste: l.Waste}
			if i.Priced {
				p.Total = i.Quote.Times(l.Gross())
			}
			out.Parts = append(out.Parts, p)
		case parts.Work:
			out.Tasks = append(out.Tasks, sheet.Task{Name: l.Item.Family, Where: l.Where, Qty: l.Qty, Unit: l.Unit, Hours: l.Hours, Total: b.bill.Rate.Times(l.Hours)})
		}
	}
	return out
}

// good is what a shop sells for a row, with its spares. A row without a price
// has no shelf side in the bill: it is sold by its unit, pipe in the sticks of
// the cut list.
func good(r, spare *parts.Row, i sheet.Item, sticks, length float64) sheet.Good {
	g := sheet.Good{Item: i, Need: r.Gross, Net: r.Qty, Pack: r.ShelfUnit, Size: r.ShelfSize, Sticks: sticks, Qty: r.ShelfQty, Total: r.ShelfTotal}
	switch {
	case r.Item.Kind == price.Coupling:
		g.Rule = sheet.SpareShare
	case sticks > 0:
		g.Rule = sheet.SpareWaste
	}
	if spare != nil {
		g.Spare, g.Qty, g.Total = spare.ShelfQty, g.Qty+spare.ShelfQty, g.Total+spare.ShelfTotal
	}
	if r.Unpriced {
		g.Pack, g.Size, g.Qty, g.Rule = r.Unit, 1, math.Ceil(g.Need-1e-9), sheet.SpareFixed
		if sticks > 0 {
			g.Pack, g.Size, g.Qty = "stick", length, sticks
		}
	}
	return g
}
