package lsq_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"

	"wyewright/network/lsq"
)

const folder = "../../testdata/reference/nist_strd"

// reference is a problem of the NIST StRD collection, with certified values.
type reference struct {
	name, level string
	starts      [2][]float64
	value, sd   []float64
	ssr         float64
	y           []float64
	x           [][]float64
	f           formula
}

func readReference(t *testing.T, path string) *reference {
	t.Helper()
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment, r.FieldsPerRecord = '#', -1
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	ref := &reference{name: strings.TrimSuffix(filepath.Base(path), ".csv")}
	ref.f = formulas[ref.name]
	for _, row := range rows {
		switch row[0] {
		case "model":
			continue
		case "level":
			ref.level = row[1]
			continue
		}
		v := make([]float64, len(row)-1)
		for i, text := range row[1:] {
			if v[i], err = strconv.ParseFloat(text, 64); err != nil {
				t.Fatal(path, err)
			}
		}
		switch row[0] {
		case "parameter":
			ref.starts[0], ref.starts[1] = append(ref.starts[0], v[0]), append(ref.starts[1], v[1])
			ref.value, ref.sd = append(ref.value, v[2]), append(ref.sd, v[3])
		case "ssr":
			ref.ssr = v[0]
		case "row":
			ref.y, ref.x = append(ref.y, v[0]), append(ref.x, v[1:])
		default:
			t.Fatalf("%s: row %q", path, row[0])
		}
	}
	return ref
}

// references reads all problems, the easy ones first.
func references(t *testing.T) []*reference {
	t.Helper()
	paths, err := filepath.Glob(folder + "/*.csv")
	if err != nil || len(paths) != 19 {
		t.Fatal(len(paths), "problems", err)
	}
	levels := []string{"lower", "average", "higher"}
	var all []*reference
	for _, path := range paths {
		ref := readReference(t, path)
		if ref.f == nil || !slices.Contains(levels, ref.level) {
			t.Fatalf("%s has no model or no level", path)
		}
		all = append(all, ref)
	}
	slices.SortStableFunc(all, func(a, b *reference) int {
		return slices.Index(levels, a.level) - slices.Index(levels, b.level)
	})
	return all
}

// problem is the fit, with exact slopes or with differences.
func (ref *reference) problem(exact bool) *lsq.Problem {
	b := make([]number, len(ref.value))
	load := func(x []float64) {
		for k, v := range x {
			b[k] = num(v)
		}
	}
	p := &lsq.Problem{N: len(ref.value), M: len(ref.y), Residuals: func(x, r []float64) error {
		load(x)
		for i, y := range ref.observed() {
			r[i] = ref.f(b, ref.x[i]).Real - y
		}
		return nil
	}}
	if exact {
		p.Jacobian = func(x []float64, j *mat.Dense) error {
			load(x)
			for k := range b {
				b[k].Emag = 1
				for i := range ref.y {
					j.Set(i, k, ref.f(b, ref.x[i]).Emag)
				}
				b[k].Emag = 0
			}
			return nil
		}
	}
	return p
}
