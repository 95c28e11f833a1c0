package sheet

import (
	"archive/zip"
	"bytes"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"wyewright/optimize/price"
)

// written is the workbook of a Book, as bytes and opened again.
func written(t *testing.T, b *Book) ([]byte, *excelize.File) {
	t.Helper()
	var out bytes.Buffer
	if err := Write(&out, b); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(bytes.NewReader(out.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = f.Close() })
	return out.Bytes(), f
}

// computed is a cell recalculated by excelize.
func computed(t *testing.T, f *excelize.File, sheet, cell string) string {
	t.Helper()
	v, err := f.CalcCellValue(sheet, cell, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatalf("%s!%s: %v", sheet, cell, err)
	}
	return v
}

// totals finds rows of the summary by their words and recalculates their amounts,
// in minor units.
func totals(t *testing.T, f *excelize.File, words string, digits int) []price.Money {
	t.Helper()
	rows, err := f.GetRows(summaryName)
	if err != nil {
		t.Fatal(err)
	}
	var out []price.Money
	for i, r := range rows {
		if len(r) > 0 && r[0] == words {
			x, err := strconv.ParseFloat(computed(t, f, summaryName, nowColumn+strconv.Itoa(i+1)), 64)
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, price.Money(math.Round(x*math.Pow10(digits))))
		}
	}
	if len(out) == 0 {
		t.Fatalf("no row %q", words)
	}
	return out
}

// same holds the recalculated totals against those of the bills.
func same(t *testing.T, name string, f *excelize.File, b *Book) {
	t.Helper()
	planned, bought := totals(t, f, "Planning total", b.Currency.Digits), totals(t, f, "Shop total", b.Currency.Digits)
	var all, shelf price.Money
	for i := range b.Bills {
		want := b.Bills[i].Materials + b.Bills[i].Labour
		if planned[i] != want || bought[i] != b.Bills[i].Shelf {
			t.Errorf("%s, bill %d: recalculated %d and %d, the bill has %d and %d", name, i, planned[i], bought[i], want, b.Bills[i].Shelf)
		}
		all, shelf = all+want, shelf+b.Bills[i].Shelf
	}
	if n := len(b.Bills); n > 1 && (planned[n] != all || bought[n] != shelf) {
		t.Errorf("%s, all: recalculated %d and %d, the bills have %d and %d", name, planned[n], bought[n], all, shelf)
	}
}

// TestRecalculated: computed by excelize v2.11.1, the totals are those of the
// bills, to the minor unit, ties of half a cent among them.
func TestRecalculated(t *testing.T) {
	for seed := range uint64(8) {
		b := example(seed).book()
		_, f := written(t, b)
		same(t, strconv.FormatUint(seed, 10), f, b)
	}
}

// TestFollows: after changes of a price, the rate, the waste, quantities, hours,
// spares and freight the totals are those of a bill made with them. Computed by
// excelize v2.11.1.
func TestFollows(t *testing.T) {
	for seed := range uint64(6) {
		e := example(seed)
		before := e.book()
		_, f := written(t, before)
		set := func(sheet, cell string, v any) {
			if err := f.SetCellValue(sheet, cell, v); err != nil {
				t.Fatal(err)
			}
		}
		first := strconv.Itoa(firstRow)
		col := map[bool]string{false: "", true: "s"}[len(e.bills) > 1]
		e.rate += 777
		set(summaryName, "B6", before.amount(e.rate))
		e.waste = 0.125
		set(summaryName, "B7", e.waste)
		e.every = 3
		set(summaryName, "B8", e.every)
		e.items[0].price += 1313
		set(pricesName, "C"+first, before.amount(e.items[0].price))
		e.bills[0].parts[0].qty = 11
		set(partsName, map[string]string{"": "D", "s": "E"}[col]+first, before.display(11, e.items[e.bills[0].parts[0].item].unit()))
		e.bills[0].tasks[0].qty = 13
		set(workName, map[string]string{"": "C", "s": "D"}[col]+first, 13)
		after := e.book()
		// The cut list is not made anew.
		if after.Bills[0].Shelf == before.Bills[0].Shelf || after.Bills[0].Materials == before.Bills[0].Materials || after.Bills[0].Labour == before.Bills[0].Labour {
			t.Fatalf("%d: nothing changes", seed)
		}
		same(t, strconv.FormatUint(seed, 10), f, after)
	}
}

// TestStored: what is stored for a formula is what comes out of it, so that
// programs that do not calculate show the same. Computed by excelize v2.11.1.
func TestStored(t *testing.T) {
	_, f := written(t, example(3).book())
	seen := 0
	for _, sheet := range f.GetSheetList() {
		rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		for y, r := range rows {
			for x, stored := range r {
				cell, _ := excelize.CoordinatesToCellName(x+1, y+1)
				if formula, _ := f.GetCellFormula(sheet, cell); formula == "" {
					continue
				}
				if kind, _ := f.GetCellType(sheet, cell); kind != excelize.CellTypeNumber && kind != excelize.CellTypeUnset && stored != "" {
					t.Errorf("%s!%s is stored as type %v", sheet, cell, kind)
				}
				got := computed(t, f, sheet, cell)
				a, aerr := strconv.ParseFloat(stored, 64)
				b, berr := strconv.ParseFloat(got, 64)
				if stored == "" && got == noPrice {
					continue
				}
				if seen++; aerr != nil || berr != nil || math.Abs(a-b) > 1e-9*max(1, math.Abs(a)) {
					t.Errorf("%s!%s: stored %q, computed %q", sheet, cell, stored, got)
				}
			}
		}
	}
	if seen < 100 {
		t.Errorf("only %d formulas seen", seen)
	}
}

// TestNoPrice: a line without a price is in no sum and is counted; when a price
// is put in it counts, and when one is taken out it does not.
func TestNoPrice(t *testing.T) {
	e := example(1)
	e.items[0].unpriced, e.items[0].per = true, 1 // the price asked for is that of one unit
	b := e.book()
	_, f := written(t, b)
	same(t, "without", f, b)
	n := totals(t, f, "Lines without a price, in no sum", 0)
	if n[0] < 1 || int(n[0]) != b.Bills[0].missing() {
		t.Errorf("%d lines without a price, want %d", n[0], b.Bills[0].missing())
	}
	cell := "C" + strconv.Itoa(firstRow)
	if err := f.SetCellValue(pricesName, cell, b.amount(e.items[0].price)); err != nil {
		t.Fatal(err)
	}
	e.items[0].unpriced = false
	with := e.book()
	if with.Bills[0].Materials == b.Bills[0].Materials {
		t.Fatal("nothing changes")
	}
	if got := totals(t, f, "Planning total", with.Currency.Digits)[0]; got != with.Bills[0].Materials+with.Bills[0].Labour {
		t.Errorf("with a price put in %d, want %d", got, with.Bills[0].Materials+with.Bills[0].Labour)
	}
	_, f = written(t, with)
	if err := f.SetCellValue(pricesName, cell, nil); err != nil {
		t.Fatal(err)
	}
	same(t, "taken out", f, b)
}

// TestSameBytes: the file says nothing of when it was made or by which library,
// asks for a calculation, and holds no macro.
func TestSameBytes(t *testing.T) {
	first, _ := written(t, example(2).book())
	for range 8 {
		again, _ := written(t, example(2).book())
		if !bytes.Equal(first, again) {
			t.Fatal("two files of one book differ")
		}
	}
	z, err := zip.NewReader(bytes.NewReader(first), int64(len(first)))
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]string{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		data, _ := io.ReadAll(r)
		all[f.Name] = string(data)
		if !f.Modified.IsZero() && f.Modified.Year() > 1980 {
			t.Errorf("%s has the date %v", f.Name, f.Modified)
		}
		for _, word := range []string{"xuri", "xcelize", "2006-09", "vbaProject"} {
			if strings.Contains(all[f.Name], word) {
				t.Errorf("%s holds %q", f.Name, word)
			}
		}
	}
	if !strings.Contains(all["docProps/core.xml"], "<dc:creator>wyewright</dc:creator>") {
		t.Errorf("no author: %s", all["docProps/core.xml"])
	}
	if !strings.Contains(all["xl/workbook.xml"], "fullCalcOnLoad=\"") {
		t.Errorf("no calculation asked for: %s", all["xl/workbook.xml"])
	}
}

// TestInputsAreMarked: every cell that may be changed has a frame, and the word
// stands above or beside it.
func TestInputsAreMarked(t *testing.T) {
	_, f := written(t, example(4).book())
	for _, sheet := range []string{pricesName, partsName, workName, shopName} {
		rows, _ := f.GetRows(sheet)
		found := 0
		for x, head := range rows[headRow-1] {
			cell, _ := excelize.CoordinatesToCellName(x+1, firstRow)
			id, _ := f.GetCellStyle(sheet, cell)
			style, err := f.GetStyle(id)
			if err != nil {
				t.Fatal(err)
			}
			marked := strings.Contains(head, "(change)")
			if framed := len(style.Border) == 4; framed != marked || marked && style.Fill.Type != "pattern" {
				t.Errorf("%s!%s under %q: framed %v", sheet, cell, head, framed)
			}
			if marked {
				found++
			}
		}
		if found == 0 {
			t.Errorf("%s has nothing to change", sheet)
		}
	}
}
