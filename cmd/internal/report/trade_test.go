package report

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestTicks: round numbers that hold both ends; hand-worked.
func TestTicks(t *testing.T) {
	for _, c := range []struct {
		least, most float64
		want        []float64
	}{
		{0, 2319.71, []float64{0, 500, 1000, 1500, 2000, 2500}},
		{54.07, 100.44, []float64{40, 60, 80, 100, 120}},
		{99.4, 100.6, []float64{99, 99.5, 100, 100.5, 101}},
		{0, 0, []float64{0, 0.2, 0.4, 0.6, 0.8, 1}},
		{65, 103.3, []float64{60, 70, 80, 90, 100, 110}},
	} {
		got := ticks(c.least, c.most)
		if d := cmp.Diff(c.want, got, cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) < 1e-9 })); d != "" {
			t.Errorf("%g to %g: %s", c.least, c.most, d)
		}
	}
	if got := plain(3 * 0.1); got != "0.3" {
		t.Errorf("0.3 prints as %s", got)
	}
}

// TestTicksHold: whatever the numbers, the axis reaches beyond them with few
// steps.
func TestTicksHold(t *testing.T) {
	for least := 0.0; least < 200; least += 3.7 {
		for by := 0.001; by < 1e6; by *= 1.31 {
			got := ticks(least, least+by)
			if n := len(got); n < 2 || n > mostTicks+1 || got[0] > least+1e-9 || got[n-1] < least+by-1e-9 {
				t.Fatalf("%g to %g: %v", least, least+by, got)
			}
		}
	}
}

// TestChart: places by hand. The axes reach from 0 to 2500 and from 60 to 120.
func TestChart(t *testing.T) {
	tr := Trade{AsFound: 60, Points: []TradePoint{{Cost: 2500, Flow: 120}, {Cost: 1250, Flow: 90, Chosen: true}, {Cost: 1875, Flow: 80}}}
	c := tr.Chart()
	wide, high := c.Right-c.Left, c.Bottom-c.Top
	for i, want := range []struct{ cost, x, y float64 }{{1250, 0.5, 0.5}, {1875, 0.75, 2. / 3}, {2500, 1, 0}} {
		p := c.Points[i]
		if p.Cost != want.cost || math.Abs(p.X-(c.Left+want.x*wide)) > 0.06 || math.Abs(p.Y-(c.Top+want.y*high)) > 0.06 {
			t.Errorf("point %d: cost %g at %g, %g", i, p.Cost, p.X, p.Y)
		}
	}
	if c.Chosen != 0 {
		t.Errorf("the chosen plan is number %d", c.Chosen)
	}
	if want := c.Top + high/3; math.Abs(c.Need-want) > 0.06 {
		t.Errorf("100 %% is at %g, want %g", c.Need, want)
	}
	// The second plan is dearer than the first and gives less: the line passes it by.
	if want := "M380,211H696V34H696"; c.Line != want {
		t.Errorf("the line runs %s, want %s", c.Line, want)
	}
}

// TestDots: marks share one scale from 0 to the most that there is.
func TestDots(t *testing.T) {
	f := Flows{Rows: []Flow{{State: "a", Before: 0, After: 1000, Required: 500}, {State: "a", Before: 250}, {State: "b"}}}
	if d := cmp.Diff(Dots{Before: 8, After: 192, Required: 100}, f.Dots(f.Rows[0])); d != "" { // hand-worked
		t.Error(d)
	}
	if got := f.Dots(f.Rows[1]).Before; got != 54 {
		t.Errorf("a quarter is at %g, want 54", got)
	}
	if top := (&Flows{Rows: []Flow{{Before: 800, After: 400, Required: 200}}}); top.Dots(top.Rows[0]) != (Dots{Before: 192, After: 100, Required: 54}) {
		t.Error("what was more before does not fit")
	}
	if !f.First(0) || f.First(1) || !f.First(2) || f.Span(0) != 2 || f.Span(1) != 1 || f.Span(2) != 1 {
		t.Error("states are not kept together")
	}
	p := Pressure{Steps: []PressureStep{{Before: 50, After: 100}, {Before: 400, After: 100, Sum: true}, {After: -3}}}
	if p.Bar(50) != 100 || p.Bar(100) != 200 || p.Bar(-3) != 0 {
		t.Errorf("bars of %g, %g, %g", p.Bar(50), p.Bar(100), p.Bar(-3))
	}
}
