package plots

import (
	"fmt"
	"testing"
)

// manyStates is a table of so many runs and states, each cell with its own
// number.
func manyStates(runs, states int, panels ...string) VelocityData {
	d := VelocityData{Unit: "m/s"}
	for s := range states {
		d.States = append(d.States, fmt.Sprint("state ", s))
	}
	for r := range runs {
		d.Runs = append(d.Runs, fmt.Sprint("run ", r))
	}
	for k, name := range panels {
		p := VelocityPanel{Name: name}
		for r := range runs {
			var row []VelocityCell
			for s := range states {
				row = append(row, VelocityCell{Speed: float64(100 + 10000*k + 100*r + s), Dust: true})
			}
			p.Cells = append(p.Cells, row)
		}
		d.Panels = append(d.Panels, p)
	}
	return d
}

// TestManyStates: more states than fit a page go into further tables, the page
// stays as wide as ever, and every cell stands once.
func TestManyStates(t *testing.T) {
	for _, d := range []VelocityData{manyStates(3, 20, "before", "after"), manyStates(30, 20, ""), manyStates(2, 45, "")} {
		fig, err := VelocityMap(d)
		if err != nil {
			t.Fatal(err)
		}
		if fig.w != pageWidth {
			t.Errorf("the page is %g wide", fig.w)
		}
		for _, p := range d.Panels {
			for r, row := range p.Cells {
				for s, c := range row {
					if n := fig.count(speed(c.Speed)); n != 1 {
						t.Fatalf("run %d, state %d of %q stands %d times", r, s, p.Name, n)
					}
				}
			}
		}
		apart(t, "many states", fig)
	}
	fig, _ := VelocityMap(manyStates(3, 20, "before", "after"))
	if fig.count("before, continued") != 1 {
		t.Error("the second table does not say what it continues")
	}
}

// TestLongTableIsFlat: many rows take low ones, with arrows in the place of words.
func TestLongTableIsFlat(t *testing.T) {
	d := manyStates(40, 3, "")
	d.Panels[0].Cells[0][0].Limit = 1e6
	long, err := VelocityMap(d)
	if err != nil {
		t.Fatal(err)
	}
	if _, tall := long.Size(); tall > 22 || long.count("slow") != 0 {
		t.Errorf("%.1f cm tall, %d words", tall, long.count("slow"))
	}
	d = manyStates(4, 3, "")
	d.Panels[0].Cells[0][0].Limit = 1e6
	if short, err := VelocityMap(d); err != nil || short.count("slow") != 1 {
		t.Errorf("a short table: %v", err)
	}
}
