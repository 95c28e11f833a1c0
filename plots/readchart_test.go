package plots

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// schoolReadings is 20 air speeds and 5 suctions in four states. Invented, as
// all data of the golden pictures.
func schoolReadings() ReadData {
	var speed, suction ReadPanel
	speed.Quantity, speed.Unit = "air speed", "m/s"
	suction.Quantity, suction.Unit = "suction", "Pa"
	add := func(to *ReadPanel, state int, place string, read, doubt, model float64, bound ReadBound) {
		to.Rows = append(to.Rows, ReadRow{State: schoolStates[state], Place: place, Read: read, Doubt: doubt, Model: model, Bound: bound})
	}
	for i, state := range []int{0, 1, 6, 7} {
		k := float64(i)
		add(&speed, state, "main 1", 18.4+1.3*k, 0.6, 18.9+1.1*k, ReadExact)
		add(&speed, state, "main 2", 15.2+1.9*k, 0.5, 14.7+2.1*k, ReadExact)
		add(&speed, state, schoolStates[state]+" drop", 24.1-0.8*k, 0.8, 24.2-0.8*k, ReadExact)
		if i%2 == 0 {
			add(&speed, state, "bench hose", 30, 0.9, 31.4+0.6*k, ReadAtLeast)
			add(&speed, state, "main 5", 2, 0.1, 1.4+0.3*k, ReadAtMost)
		} else {
			add(&speed, state, "lathe hose", 21.3, 0.7, 21.6+0.6*k, ReadExact)
			add(&speed, state, "main 4", 11.6, 0.4, 12.1+0.9*(k-1), ReadExact)
		}
		add(&suction, state, "fan inlet", 1980-130*k, 40, 2004-134*k, ReadExact)
	}
	add(&suction, 7, "end of the main, behind the last gate", 610, 30, 655, ReadExact)
	return ReadData{Title: "Readings and model: school shop", Panels: []ReadPanel{speed, suction}}
}

// worksReadings is 15 air speeds in customary units, one of them left out.
func worksReadings() ReadData {
	d := ReadData{Panels: []ReadPanel{{Quantity: "air speed", Unit: "fpm"}}}
	for i, state := range worksStates[9:] {
		for k, place := range []string{"main 1", "drop of the large lathe at the north wall, a foot above its gate", "main 4"} {
			v := 3600 + 310*float64(k) - 45*float64(i*i)
			d.Panels[0].Rows = append(d.Panels[0].Rows, ReadRow{State: state, Place: place, Read: v, Doubt: 90 + 15*float64(k), Model: v + 70*float64((i+2*k)%4-1)})
		}
	}
	r := &d.Panels[0].Rows[7]
	r.Read, r.LeftOut = 2650, true
	return d
}

func readings(t *testing.T, name string, d ReadData) *Figure {
	t.Helper()
	fig, err := ReadChart(d)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	apart(t, name, fig)
	page := rect{0, 0, fig.w, fig.h}
	for _, o := range fig.ops {
		for _, at := range o.path {
			if !page.holds(around(at, o.radius)) {
				t.Errorf("%s: %v leaves the page", name, at)
			}
		}
	}
	return fig
}

// TestReadOdd: what counts as a miss, for every kind of reading (hand-worked).
func TestReadOdd(t *testing.T) {
	for _, test := range []struct {
		row ReadRow
		odd bool
	}{
		{ReadRow{Read: 20, Doubt: 1, Model: 17}, false},
		{ReadRow{Read: 18.3, Doubt: 0.2, Model: 17.7}, false}, // three, but for the last bits
		{ReadRow{Read: 20, Doubt: 1, Model: 16.9}, true},
		{ReadRow{Read: 20, Doubt: 1, Model: 23.1}, true},
		{ReadRow{Read: 20, Doubt: 1, Model: 23.1, LeftOut: true}, false},
		{ReadRow{Read: 20, Model: 90}, false}, // no doubt is known
		{ReadRow{Read: 30, Doubt: 1, Model: 99, Bound: ReadAtLeast}, false},
		{ReadRow{Read: 30, Doubt: 1, Model: 27, Bound: ReadAtLeast}, false},
		{ReadRow{Read: 30, Doubt: 1, Model: 26.9, Bound: ReadAtLeast}, true},
		{ReadRow{Read: 2, Doubt: 0.1, Model: -7, Bound: ReadAtMost}, false},
		{ReadRow{Read: 2, Doubt: 0.1, Model: 2.29, Bound: ReadAtMost}, false},
		{ReadRow{Read: 2, Doubt: 0.1, Model: 2.31, Bound: ReadAtMost}, true},
	} {
		if got := test.row.odd(); got != test.odd {
			t.Errorf("%+v: odd is %v", test.row, got)
		}
	}
}

// TestReadReach: the axis covers two standard deviations to each side of a
// value, and the arrows go from the limit their own way (hand-worked).
func TestReadReach(t *testing.T) {
	panel := ReadPanel{Rows: []ReadRow{
		{Read: 20, Doubt: 1.5, Model: 21}, {Read: 30, Doubt: 1, Model: 33, Bound: ReadAtLeast}, {Read: 2, Doubt: 1, Model: 1, Bound: ReadAtMost}}}
	if got, want := panel.values(), []float64{17, 23, 21, 30, 30, 33, 2, 2, 1}; !slices.Equal(got, want) {
		t.Errorf("values %v, want %v", got, want)
	}
	for i, want := range []float64{30 + arrowLong, 2 - arrowLong} {
		p := &pen{}
		p.reading(scale{0, 100, 0, 100}, panel.Rows[i+1], 50)
		if head := p.ops[len(p.ops)-1]; !head.closed || head.path[0] != (xy{want, 50}) {
			t.Errorf("arrow %d has its tip at %v, want %g", i, head.path[0], want)
		}
	}
}

// TestReadPrints: words, headings and axes of the examples (hand-worked), and
// the legend names the marks in use and no other.
func TestReadPrints(t *testing.T) {
	const bars, odd = "read, ± 2 standard deviations", "odd: misses by more than 3 standard deviations"
	for _, test := range []struct {
		data ReadData
		want map[string]int
	}{
		{schoolReadings(), map[string]int{
			"air speed": 1, "suction": 1, "air speed, m/s": 1, "suction, Pa": 1, "planer": 2, "class of four": 2, "main 1": 4, "fan inlet": 4, "odd": 1,
			bars: 1, "model": 1, "over the range": 1, "under the range": 1, odd: 1, "left out": 0,
		}},
		{worksReadings(), map[string]int{
			"Readings and model": 1, "air speed": 0, "air speed, fpm": 1, "Friday rush": 1, "main 4": 5, "odd": 0,
			bars: 1, "model": 1, "over the range": 0, "under the range": 0, odd: 0, "left out": 2,
		}},
		{ReadData{Panels: []ReadPanel{{Quantity: "suction", Rows: []ReadRow{{Place: "fan", Read: 3, Model: 4}}}}}, map[string]int{
			"suction": 1, "fan": 1, "read": 1, bars: 0, "model": 1,
		}},
	} {
		fig := readings(t, test.data.Title, test.data)
		for text, n := range test.want {
			if got := fig.count(text); got != n {
				t.Errorf("%s: %q stands %d times, want %d", fig.Title(), text, got, n)
			}
		}
	}
}

// TestReadGrows: every row more makes the page higher by its own height, and
// a long name is printed whole.
func TestReadGrows(t *testing.T) {
	d := ReadData{Panels: []ReadPanel{{Quantity: "air speed", Unit: "m/s"}}}
	high := 0.0
	for i := range 60 {
		d.Panels[0].Rows = append(d.Panels[0].Rows, ReadRow{State: "rush", Place: fmt.Sprintf("main %d", i), Read: float64(i), Doubt: 1, Model: 20})
		fig := readings(t, "sixty", d)
		if i > 0 && math.Abs(fig.h-high-rowHeight) > 1e-9 {
			t.Fatalf("row %d takes %g", i, fig.h-high)
		}
		high = fig.h
	}
	long := strings.Repeat("drop of the lathe at the north wall ", 6)
	d.Panels[0].Rows[3].Place, d.Panels[0].Rows[0].State = long, strings.Repeat(long, 2)
	fig := readings(t, "long", d)
	var all []string
	for _, o := range fig.ops {
		all = append(all, o.text)
	}
	if got := strings.Count(strings.Join(strings.Fields(strings.Join(all, " ")), " "), "drop of the lathe at the north wall"); got != 18 {
		t.Errorf("the long names stand %d times, want 18", got)
	}
}

// TestReadExtremes: whatever the values, texts stay apart and nothing leaves
// the page.
func TestReadExtremes(t *testing.T) {
	for name, values := range map[string][]float64{
		"nothing": {0, 0}, "one": {7}, "huge": {1e12, -1e12}, "tiny beside huge": {1e-6, 98765.4}, "below": {-5, -80}, "round": {0, 10},
	} {
		for bound := range readBounds {
			for _, doubt := range []float64{0, 1e-9, 3, 1e12} {
				d := ReadData{Panels: []ReadPanel{{Quantity: "air speed", Unit: "m/s"}, {Quantity: "suction"}}}
				for i, v := range values {
					for k := range d.Panels {
						d.Panels[k].Rows = append(d.Panels[k].Rows, ReadRow{Place: "main", Read: v, Doubt: doubt, Model: v * float64(k), Bound: bound, LeftOut: i > 0})
					}
				}
				readings(t, fmt.Sprintf("%s, %v, doubt %g", name, bound, doubt), d)
			}
		}
	}
}
