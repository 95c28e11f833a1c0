package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"path/filepath"
	"testing"

	"wyewright/network/units"
)

// TestTraverseDepths: published: US EPA Method 1 (40 CFR 60 App. A, table 1-2),
// depths in per cent of the diameter to 0.1, for 6 and for 8 points on it.
func TestTraverseDepths(t *testing.T) {
	for d, want := range map[units.Length][]float64{
		0.199: {4.4, 14.6, 29.6, 70.4, 85.4, 95.6},
		0.2:   {3.2, 10.5, 19.4, 32.3, 67.7, 80.6, 89.5, 96.8},
	} {
		got := traverseDepths(d)
		if len(got) != len(want) {
			t.Fatalf("%v: %d points, want %d", d, len(got), len(want))
		}
		for i := range want {
			if x := 100 * float64(got[i]/d); math.Abs(x-want[i]) > 0.051 {
				t.Errorf("%v: point %d at %.2f %%, want %.1f", d, i, x, want[i])
			}
		}
	}
}

// TestColumns: blocks in two columns that break between blocks only. Hand-worked.
func TestColumns(t *testing.T) {
	for _, c := range []struct {
		blocks []float64
		want   float64
	}{
		{nil, 0}, {[]float64{7}, 7}, {[]float64{3, 4}, 4}, {[]float64{5, 1, 1, 9}, 9}, {[]float64{9, 1, 1, 5}, 9}, {[]float64{4, 4, 4}, 8},
	} {
		if got := columns(c.blocks); got != c.want {
			t.Errorf("%v: %g, want %g", c.blocks, got, c.want)
		}
	}
}

// sheetOf is the form of a shop.
func sheetOf(t *testing.T, args ...string) *sheetForm {
	t.Helper()
	out, _ := run(t, context.Background(), Done, append([]string{"sheet", "--json", "--quiet"}, args...)...)
	var f sheetForm
	if err := json.Unmarshal([]byte(out), &f); err != nil {
		t.Fatal(err)
	}
	return &f
}

// readingsOf counts the readings of a form, and holds every one against its hole.
func readingsOf(t *testing.T, f *sheetForm) int {
	t.Helper()
	sum := 0
	for _, b := range f.Blocks {
		for _, r := range b.Rows {
			if sum++; r.Hole < 1 || r.Hole > len(f.Holes) || r.Quantity == "velocity" && f.Holes[r.Hole-1].Place != r.Place {
				t.Errorf("%s, %s: hole %d", b.State, r.Place, r.Hole)
			}
			if !(r.Low <= r.Value && r.Value <= r.High) {
				t.Errorf("%s, %s: %g not within %g to %g", b.State, r.Place, r.Value, r.Low, r.High)
			}
		}
	}
	return sum
}

// TestSheetFits: in every demo shop the form holds to one page however many
// readings are asked for, nothing gets lost, and the next reading would not fit.
func TestSheetFits(t *testing.T) {
	files, err := filepath.Glob(demos + "*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	left := 0
	for _, file := range files {
		f := sheetOf(t, file, "--rows", "1000")
		got := readingsOf(t, f)
		if high := f.height(); got > 1 && high > pageRoom {
			t.Errorf("%s: %d readings take %.0f mm", file, got, high)
		}
		if one := sheetOf(t, file, "--rows", "1"); readingsOf(t, one) != 1 || 1+one.LeftOut != got+f.LeftOut {
			t.Errorf("%s: 1 and %d left out, %d and %d", file, one.LeftOut, got, f.LeftOut)
		}
		left += f.LeftOut
	}
	if left == 0 {
		t.Error("every form had room for all")
	}
}

// TestSheetOrder: the first readings of a short form are the suction, then the
// trunk with all gates shut, then one in each branch; 7 of the school's 13
// places are branches. Hand-worked.
func TestSheetOrder(t *testing.T) {
	f := sheetOf(t, demos+"school.yaml", "--rows", "15") // and two suctions more, which need no ladder
	if len(f.Holes) != 13 || readingsOf(t, f) != 15 || len(f.Blocks[0].Rows) != 6 || f.Blocks[0].Rows[0].Quantity != "suction" {
		t.Errorf("%d holes, %d readings, %+v", len(f.Holes), readingsOf(t, f), f.Blocks[0])
	}
}

// TestSheetWays: Markdown and the page show every reading of the form.
func TestSheetWays(t *testing.T) {
	f := sheetOf(t, demos+"coop.yaml")
	var page, text bytes.Buffer
	if err := sheetHTML.Execute(&page, f); err != nil {
		t.Fatal(err)
	}
	if err := f.markdown(&text); err != nil {
		t.Fatal(err)
	}
	n := readingsOf(t, f)
	if got := bytes.Count(page.Bytes(), []byte(`class="place"`)); got != n {
		t.Errorf("the page has %d readings, want %d", got, n)
	}
	_, readings, _ := bytes.Cut(text.Bytes(), []byte("## What to read"))
	if got := bytes.Count(readings, []byte(" | |\n")); got != n {
		t.Errorf("the text has %d readings, want %d", got, n)
	}
}
