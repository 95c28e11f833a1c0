package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/xuri/excelize/v2"

	"wyewright/optimize/price"
)

// TestWorkbook: the workbook that redesign writes, recalculated, has the totals
// of its plan.json to the cent; so has one in feet. Computed by excelize v2.11.1.
func TestWorkbook(t *testing.T) {
	shop := smallShop(t)
	text, err := os.ReadFile(shop)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(shop, bytes.ReplaceAll(text, []byte("labour: 0 EUR/h"), []byte("labour: 33.33 EUR/h")), 0o644); err != nil {
		t.Fatal(err)
	}
	dir := filepath.Join(t.TempDir(), "out")
	run(t, context.Background(), Done, "redesign", shop, "-o", dir, "--no-plots", "--front", "0")
	feet := filepath.Join(t.TempDir(), "feet.xlsx")
	run(t, context.Background(), Done, "parts", dir, "-o", feet, "--units", "us")
	src, err := os.ReadFile(filepath.Join(dir, planName))
	if err != nil {
		t.Fatal(err)
	}
	var plan jsonPlan
	if err := json.Unmarshal(src, &plan); err != nil {
		t.Fatal(err)
	}
	if plan.Bill.Planning <= 0 || plan.Bill.Shelf <= plan.Bill.Planning/2 || plan.Bill.Labour <= 0 {
		t.Fatalf("a plan of little to count: %d", plan.Bill.Planning)
	}
	for _, name := range []string{filepath.Join(dir, bookName), feet} {
		got := recalculated(t, name)
		if got["Planning total"] != plan.Bill.Planning || got["Shop total"] != plan.Bill.Shelf {
			t.Errorf("%s: recalculated %v, the plan has %d and %d", name, got, plan.Bill.Planning, plan.Bill.Shelf)
		}
	}
}

// recalculated are the amounts of the first sheet by their words, in cents.
func recalculated(t *testing.T, name string) map[string]price.Money {
	t.Helper()
	f, err := excelize.OpenFile(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	stored(t, f)
	rows, err := f.GetRows("Summary")
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]price.Money{}
	for i, r := range rows {
		if len(r) < 2 {
			continue
		}
		v, err := f.CalcCellValue("Summary", "B"+strconv.Itoa(i+1), excelize.Options{RawCellValue: true})
		if x, perr := strconv.ParseFloat(v, 64); err == nil && perr == nil {
			out[r[0]] = price.Money(math.Round(100 * x))
		}
	}
	return out
}

// stored holds the values in the file against those that come out.
func stored(t *testing.T, f *excelize.File) {
	t.Helper()
	seen := 0
	for _, sheet := range f.GetSheetList() {
		rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		for y, r := range rows {
			for x, value := range r {
				cell, _ := excelize.CoordinatesToCellName(x+1, y+1)
				if formula, _ := f.GetCellFormula(sheet, cell); formula == "" {
					continue
				}
				seen++
				got, _ := f.CalcCellValue(sheet, cell, excelize.Options{RawCellValue: true})
				a, aerr := strconv.ParseFloat(value, 64)
				b, berr := strconv.ParseFloat(got, 64)
				if aerr != nil || berr != nil || math.Abs(a-b) > 1e-9*max(1, math.Abs(a)) {
					t.Errorf("%s!%s: stored %q, computed %q", sheet, cell, value, got)
				}
			}
		}
	}
	if seen < 50 {
		t.Errorf("only %d formulas seen", seen)
	}
}
