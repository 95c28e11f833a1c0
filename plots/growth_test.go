package plots

import (
	"bytes"
	"encoding/csv"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// TestGrowthChart draws how the search of optimize/core grows with the runs of
// a plant, from the measurements in its testdata, and holds the picture in
// testdata/pictures against that (pinned; -update writes it anew).
func TestGrowthChart(t *testing.T) {
	const golden = "../testdata/pictures/growth.svg"
	fig := growthChart(readGrowth(t))
	svg, err := fig.SVG()
	if err != nil {
		t.Fatal(err)
	}
	if *pictures != "" {
		png, err := fig.PNG(defaultDPI)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(*pictures+"/growth.png", png, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if *update {
		if err := os.WriteFile(golden, svg, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(svg, want) {
		t.Errorf("%s differs; look at it, then run with -update", golden)
	}
}

// growthRows are measured columns over the runs, by their names; gaps in per cent.
type growthRows map[string][]XY

// readGrowth reads the measurements; a gap that is infinite, as no plan was
// found, is left out.
func readGrowth(t *testing.T) growthRows {
	f, err := os.Open("../optimize/core/testdata/growth.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil || len(all) < 2 {
		t.Fatal(err, len(all))
	}
	rows := growthRows{}
	for _, name := range []string{"first_s", "first_gap", "time_s", "gap"} {
		col := slices.Index(all[0], name)
		for _, line := range all[1:] {
			x, err := strconv.ParseFloat(line[0], 64)
			y, err2 := strconv.ParseFloat(line[col], 64)
			if err != nil || err2 != nil {
				t.Fatal(line)
			}
			if strings.HasSuffix(name, "gap") {
				y *= 100
			}
			if !math.IsInf(y, 1) {
				rows[name] = append(rows[name], XY{x, y})
			}
		}
	}
	return rows
}

// growthChart has times above and gaps below, over the number of runs.
func growthChart(rows growthRows) *Figure {
	const title = "Search of a plant, by its number of runs"
	p := &pen{w: pageWidth, h: 1.35 * pageHeight}
	top := p.head(title, []entry{markEntry(openTriangle, rust, "first plan"), markEntry(disc, navy, "5,000 nodes or 40 s")})
	middle := (top + edge) / 2
	panel := func(box rect, name, first, last string) {
		xs, ys := []float64{0}, []float64{0}
		for _, at := range append(slices.Clone(rows[first]), rows[last]...) {
			xs, ys = append(xs, 1.02*at.X), append(ys, at.Y)
		}
		f := p.axes(box, over("runs", xs, true, 10), over(name, ys, true, 6))
		p.curve(f, limitRow, rows[first])
		p.curve(f, mainLine, rows[last])
		for _, at := range rows[first] {
			p.mark(openTriangle, f.at(at.X, at.Y), 4, rust)
		}
		for _, at := range rows[last] {
			p.mark(disc, f.at(at.X, at.Y), 3.5, navy)
		}
	}
	panel(rect{edge, middle + 8, p.w - edge, top}, "time, s", "first_s", "time_s")
	panel(rect{edge, edge, p.w - edge, middle - 4}, "gap between plan and bound, % of the cost", "first_gap", "gap")
	return p.figure(title)
}
