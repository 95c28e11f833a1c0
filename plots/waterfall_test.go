package plots

import (
	"fmt"
	"image/color"
	"math"
	"slices"
	"strings"
	"testing"
)

// TestStepsInGrey: no two kinds are filled with the same darkness (luma of
// ITU-R BT.601), and the hatching stands off from its ground.
func TestStepsInGrey(t *testing.T) {
	luma := func(c color.NRGBA) float64 { return 0.299*float64(c.R) + 0.587*float64(c.G) + 0.114*float64(c.B) }
	var all []float64
	for k := range stepKinds {
		look := k.look()
		all = append(all, luma(look.fill))
		if d := math.Abs(luma(look.fill) - luma(look.hatch)); d < 100 {
			t.Errorf("%v: hatching and ground are %.0f apart in grey", k, d)
		}
	}
	slices.Sort(all)
	for i := 1; i < len(all); i++ {
		if all[i]-all[i-1] < 18 {
			t.Errorf("fillings of %.0f and %.0f are too near in grey", all[i-1], all[i])
		}
	}
}

// TestWaterfallPrints: each pressure, the sum of each kind (hand-worked:
// 173 + 249 + 240 = 662, −46 + 85 = 39) and the regain stand in the picture.
func TestWaterfallPrints(t *testing.T) {
	fig, err := LossWaterfall(schoolWaterfall())
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{
		"450", "173", "92", "−46 regain", "249", "85", "240", "350", "1593", "fan pressure spent, Pa",
		"entry 450 Pa", "pipe and hose 662 Pa", "wye 39 Pa", "total 1593 Pa", "hatched: regain",
	} {
		if fig.count(text) != 1 {
			t.Errorf("%q stands %d times", text, fig.count(text))
		}
	}
	for _, text := range []string{"inlet, separator", "discharge", "change of size", "regain"} {
		for _, o := range fig.ops {
			if strings.HasPrefix(o.text, text) {
				t.Errorf("%q stands in the picture", o.text)
			}
		}
	}
}

// TestWaterfallTogether: without a total the sum closes the picture
// (hand-worked: 450 + 173 = 623), and the data of the caller stay as they are.
func TestWaterfallTogether(t *testing.T) {
	d := schoolWaterfall()
	all := slices.Clone(d.Steps)
	d.Steps = d.Steps[:2]
	fig, err := LossWaterfall(d)
	if err != nil {
		t.Fatal(err)
	}
	if fig.count("together") != 1 || fig.count("623") != 1 {
		t.Error("the sum of the steps is not printed")
	}
	if !slices.Equal(d.Steps[:len(all)], all) {
		t.Error("the steps of the caller were changed")
	}
}

// TestWaterfallEnds: each bar starts where the one before it ended, and those
// of the three wyes with a pressure below zero go back (hand-worked).
func TestWaterfallEnds(t *testing.T) {
	falls := worksWaterfall().falls()
	var back []string
	for i, f := range falls[:len(falls)-1] {
		if i == 0 && f.from != 0 || i > 0 && f.from != falls[i-1].to {
			t.Errorf("bar %d starts at %g", i, f.from)
		}
		if f.back() {
			back = append(back, f.label[0])
		}
	}
	if want := []string{"wye 6", "wye 5", "wye 4"}; !slices.Equal(back, want) {
		t.Errorf("back go %q, want %q", back, want)
	}
	if last := falls[len(falls)-1]; last.from != 0 || last.back() {
		t.Errorf("the total starts at %g", last.from)
	}
}

// TestWaterfallExtremes: whatever the pressures and labels, texts stay apart
// and nothing leaves the page.
func TestWaterfallExtremes(t *testing.T) {
	long := strings.Repeat("a label of many words ", 12) + strings.Repeat("x", 200)
	for name, losses := range map[string][]float64{
		"nothing": {0, 0}, "all back": {-40, -3, -900}, "below the room": {5, -30, 10}, "one": {1e-9},
		"huge": {1e12, -1e12, 1e12}, "tiny beside huge": {1e-6, 98765.4, 1e-6},
		"thirty": slices.Repeat([]float64{120, 33, -20}, 10),
	} {
		d := WaterfallData{Unit: "Pa"}
		for i, v := range losses {
			label := fmt.Sprintf("step %d", i)
			if i%3 == 0 {
				label = long
			}
			d.Steps = append(d.Steps, Step{label, StepKind(i % int(StepTotal)), v})
		}
		fig, err := LossWaterfall(d)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		apart(t, name, fig)
		for _, o := range fig.ops {
			for _, p := range o.path {
				if !(rect{0, 0, fig.w, fig.h}).holds(around(p, 0)) {
					t.Errorf("%s: %v leaves the page", name, p)
				}
			}
		}
	}
}

// TestWrap: lines break between words, a word only where it must, and nothing
// is lost.
func TestWrap(t *testing.T) {
	const text = "one or two words and a_word_that_is_far_too_long_for_a_line end"
	lines := smallText.wrap(text, 70)
	for _, l := range lines {
		if smallText.width(l) > 70 {
			t.Errorf("%q is %.1f wide", l, smallText.width(l))
		}
	}
	bare := func(s string) string { return strings.ReplaceAll(s, " ", "") }
	if got := bare(strings.Join(lines, "")); got != bare(text) {
		t.Errorf("lines %q", lines)
	}
	if lines[0] != "one or two words" {
		t.Errorf("first line %q", lines[0])
	}
	if got := smallText.wrap("É", 0.1); len(got) != 1 || got[0] != "É" {
		t.Errorf("a letter that is wider than the line gives %q", got)
	}
}
