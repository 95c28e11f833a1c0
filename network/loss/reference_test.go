package loss

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/diff/fd"
)

// A row is one line of a reference table: column name to text.
type row map[string]string

// num returns a column as a number and fails the test where it is none.
func (r row) num(t *testing.T, column string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(r[column], 64)
	if err != nil {
		t.Fatalf("column %s: %v in row %v", column, err, r)
	}
	return v
}

// reference reads a table of testdata/reference and keeps the rows whose
// quantity has the given prefix. Rows with a doubt note (source ends in "]")
// are left out. An empty result fails, so that no check passes for want of data.
func reference(t *testing.T, file, quantity string) []row {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "reference", file))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []row
	for _, line := range lines[1:] {
		r := row{}
		for i, name := range lines[0] {
			r[name] = line[i]
		}
		if r["source"] == "" {
			t.Fatalf("%s: row without a source: %v", file, line)
		}
		if strings.HasPrefix(r["quantity"], quantity) && !strings.HasSuffix(r["source"], "]") {
			rows = append(rows, r)
		}
	}
	if len(rows) == 0 {
		t.Fatalf("%s: no rows for %q", file, quantity)
	}
	return rows
}

// near reports whether got equals want to a relative tolerance, with an
// absolute floor of the same size for values near zero.
func near(got, want, tol float64) bool {
	return math.Abs(got-want) <= tol*max(1e-3, math.Abs(want))
}

// derivatives returns the second result of f at x, and the central difference
// of the first beside it (computed by gonum 0.17.0, diff/fd).
func derivatives(f func(float64) (float64, float64), x, step float64) (got, want float64) {
	_, got = f(x)
	want = fd.Derivative(func(v float64) float64 { y, _ := f(v); return y }, x,
		&fd.Settings{Formula: fd.Central, Step: step})
	return got, want
}

// checkDerivative fails where the two results of derivatives differ.
func checkDerivative(t *testing.T, name string, f func(float64) (float64, float64), x, step, tol float64) {
	t.Helper()
	if got, want := derivatives(f, x, step); !near(got, want, tol) {
		t.Errorf("%s at %g: derivative %g, finite difference %g", name, x, got, want)
	}
}

// rms returns the root mean square of the values.
func rms(v []float64) float64 {
	var s float64
	for _, x := range v {
		s += x * x
	}
	return math.Sqrt(s / float64(len(v)))
}

// mean returns the arithmetic mean of the values.
func mean(v []float64) float64 {
	var s float64
	for _, x := range v {
		s += x
	}
	return s / float64(len(v))
}

// logSteps returns n values from a to b in equal ratios.
func logSteps(a, b float64, n int) []float64 {
	v := make([]float64, n)
	for i := range v {
		v[i] = a * math.Pow(b/a, float64(i)/float64(n-1))
	}
	return v
}

// A comparer that cannot fail proves nothing.
func TestComparersCanFail(t *testing.T) {
	if near(1.0001, 1, 1e-6) || near(2e-9, 1e-9, 1e-7) || !near(1, 1, 0) {
		t.Error("near does not tell values apart")
	}
	if got := rms([]float64{3, -4, 0, 0}); got != 2.5 { // hand-worked: √(25/4)
		t.Errorf("rms = %g, want 2.5", got)
	}
	wrong := func(x float64) (float64, float64) { return x * x, x }
	if got, want := derivatives(wrong, 2, 1e-3); near(got, want, 0.1) {
		t.Error("derivatives does not tell a wrong derivative")
	}
}
