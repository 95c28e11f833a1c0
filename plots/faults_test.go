package plots

import (
	"errors"
	"fmt"
	"math"
	"testing"
)

// badData are data that are refused, and how; "" stands for several faults.
type badData struct {
	err  error
	kind error
	want string
}

// TestBadFindings: what the pictures of a fit refuse, and how they say so.
func TestBadFindings(t *testing.T) {
	for i, b := range append(badCorrelations(), badFaults()...) {
		var fault *DataError
		if !errors.Is(b.err, b.kind) || !errors.As(b.err, &fault) || b.want != "" && b.err.Error() != b.want {
			t.Errorf("%d: error %q, want %q", i, b.err, b.want)
		}
	}
}

// schoolFaults is one fault of every kind. Invented, as all data of the golden
// pictures.
func schoolFaults() FaultData {
	plan := schoolPlan()
	for i := range plan.Runs {
		plan.Runs[i].Changed, plan.Runs[i].Label = false, ""
	}
	return FaultData{Plan: plan, AreaUnit: "cm2", Faults: []Fault{
		{Letter: "A", Place: FaultPlace{At: at(10.5, 3, 3)}, Size: 18, Doubt: 1, Rivals: []FaultPlace{{At: at(8.5, 3, 3)}, {At: at(10.5, 1.1, 1.1)}}},
		{Letter: "B", Place: FaultPlace{Kind: FaultLoss, Run: "bandsaw drop"}, Size: 3.2, Doubt: 0.4},
		{Letter: "C", Place: FaultPlace{Kind: FaultReading, Run: "main 2"}, Text: "21 m/s in class of four"},
		{Letter: "D", Place: FaultPlace{At: at(0.5, 3, 3)}, Size: 4.5, Doubt: 0.6},
	}}
}

// worksFaults is a shop with much wrong: marks on the same run and place, rivals
// of other kinds, sizes without a doubt.
func worksFaults() FaultData {
	plan := worksPlan()
	plan.Title = "Joinery, what was found"
	for i := range plan.Runs {
		plan.Runs[i].Changed, plan.Runs[i].Label = false, plan.Runs[i].Name
		if i > 5 {
			plan.Runs[i].Label = ""
		}
	}
	opening := func(x float64) FaultPlace { return FaultPlace{At: at(x, 20, 12)} }
	in := func(k FaultKind, run string) FaultPlace { return FaultPlace{Kind: k, Run: run} }
	return FaultData{Plan: plan, AreaUnit: "in2", Faults: []Fault{
		{Letter: "A", Place: opening(16), Size: 6.4, Doubt: 0.22, Rivals: []FaultPlace{opening(24), opening(8)}},
		{Letter: "B", Place: opening(48), Size: 0.7, Doubt: 0.05, Rivals: []FaultPlace{opening(40), in(FaultLoss, "main 6")}},
		{Letter: "C", Place: in(FaultLoss, "main 4"), Size: 12.4, Doubt: 2.1, Rivals: []FaultPlace{in(FaultLoss, "main 5"), in(FaultLoss, "wide belt 1")}},
		{Letter: "D", Place: in(FaultReading, "main 4"), Text: "3900 fpm in Friday rush"},
		{Letter: "E", Place: in(FaultReading, "rip saw"), Text: "980 fpm"},
		{Letter: "F", Place: opening(24), Size: 2.2},
		{Place: in(FaultLoss, "lathe"), Size: 1.85},
	}}
}

// TestFaultLabels: every fault has its label and its rivals their letter
// (hand-worked).
func TestFaultLabels(t *testing.T) {
	for _, c := range []struct {
		data FaultData
		want map[string]int
	}{
		{schoolFaults(), map[string]int{"A 18 cm2 ± 1": 1, "A": 2, "B K 3.2 ± 0.4": 1, "B": 0, "C 21 m/s in class of four": 1, "D 4.5 cm2 ± 0.6": 1,
			"opening, by area: 1 cm2": 1, "extra loss": 1, "wrong reading, left out": 1, "may be here instead, same letter": 1, "planer": 1}},
		{worksFaults(), map[string]int{"A 6.4 in2 ± 0.2": 1, "A": 2, "B": 2, "C K 12 ± 2": 1, "C": 2, "F 2.20 in2": 1, "K 1.85": 1, "E 980 fpm": 1, "wide belt 1": 1}},
	} {
		fig, err := FaultMap(c.data)
		if err != nil {
			t.Fatal(err)
		}
		for text, want := range c.want {
			if got := fig.count(text); got != want {
				t.Errorf("%s: %q stands %d times, want %d", fig.Title(), text, got, want)
			}
		}
	}
}

// TestFaultArea: the area of a circle is in proportion to that of the opening,
// in the key too (hand-worked).
func TestFaultArea(t *testing.T) {
	d := schoolFaults()
	if a, b := d.radius(18), d.radius(4.5); a != openingMost || math.Abs(b-a/2) > 1e-9 {
		t.Errorf("radii %g and %g of 18 and 4.5", a, b)
	}
	for most := range 99 { // a circle of the key fits into its row
		d.Faults[0].Size = 0.7 * math.Pow(1.2, float64(most))
		if r := d.legend()[0].width / 2; r > 6+1e-9 || r < 3.5 {
			t.Errorf("radius %g in the key for %g", r, d.largest())
		}
	}
}

// TestFaultsTogether: marks on the same run stand apart, and however many
// faults there are, texts stay apart.
func TestFaultsTogether(t *testing.T) {
	d := schoolFaults()
	d.Faults = nil
	for i, run := range d.Plan.Runs {
		for k := range 3 {
			d.Faults = append(d.Faults, Fault{Letter: fmt.Sprint(i, k), Place: FaultPlace{Kind: FaultKind(1 + k%2), Run: run.Name}, Size: 1, Doubt: 0.1, Text: "x"})
		}
		fig, err := FaultMap(d)
		if err != nil {
			t.Fatal(err)
		}
		apart(t, run.Name, fig)
	}
}

// badFaults are data that are refused, with what is said.
func badFaults() []badData {
	with := func(change func(*FaultData)) error {
		d := schoolFaults()
		change(&d)
		return second(FaultMap(d))
	}
	return []badData{
		{with(func(d *FaultData) { d.Faults = nil }), ErrEmpty, "plots: FaultMap: Faults: nothing to draw"},
		{with(func(d *FaultData) { d.Plan.Runs = nil }), ErrEmpty, "plots: FaultMap: Runs: nothing to draw"},
		{with(func(d *FaultData) { d.Faults[0].Letter = "" }), ErrEmpty, "plots: FaultMap: Faults[0].Letter: rivals need a letter"},
		{with(func(d *FaultData) { d.Faults[1].Letter = "A" }), ErrValue, "plots: FaultMap: Faults[1].Letter: a second fault A"},
		{with(func(d *FaultData) { d.Faults[1].Place.Run = "attic" }), ErrValue, `plots: FaultMap: Faults[1].Place.Run: no run "attic" in the plan`},
		{with(func(d *FaultData) { d.Faults[1].Place.Kind = faultKinds }), ErrValue, "plots: FaultMap: Faults[1].Place.Kind: unknown"},
		{with(func(d *FaultData) { d.Faults[0].Place.At[1] = 90 }), ErrValue, "plots: FaultMap: Faults[0].Place.At: outside the shop"},
		{with(func(d *FaultData) { d.Faults[0].Rivals[1].At[0] = -90 }), ErrValue, "plots: FaultMap: Faults[0].Rivals[1].At: outside the shop"},
		{with(func(d *FaultData) { d.Faults[0].Size = 0 }), ErrValue, "plots: FaultMap: Faults[0].Size: 0 is not above zero"},
		{with(func(d *FaultData) { d.Faults[1].Size = math.Inf(1) }), ErrValue, "plots: FaultMap: Faults[1].Size: +Inf is not a number that can be drawn"},
		{with(func(d *FaultData) { d.Faults[1].Doubt = -1 }), ErrValue, "plots: FaultMap: Faults[1].Doubt: -1 is below zero"},
		{with(func(d *FaultData) { d.Faults[2].Letter, d.Faults[2].Text = "", "" }), ErrEmpty, "plots: FaultMap: Faults[2].Text: no label"},
		{with(func(d *FaultData) { d.Faults[0].Place.At[2] = math.NaN() }), ErrValue, "plots: FaultMap: Faults[0].Place.At[2]: NaN is not a number that can be drawn"},
	}
}
