package cli

import (
	"strings"
	"testing"

	"wyewright/optimize"
	"wyewright/optimize/price"
)

// TestOrderLine: an order that was not proved is not called optimal, and one in
// which runs may get slower says so.
func TestOrderLine(t *testing.T) {
	var o outcome
	for _, c := range []struct {
		s         optimize.Staged
		want, not string
	}{
		{optimize.Staged{Status: optimize.Optimal, Stages: []optimize.Stage{{Budget: 5}}}, "if the stages last equally long", "BUT"},
		{optimize.Staged{Status: optimize.Optimal, Stages: []optimize.Stage{{}}}, "if the money comes in evenly", "BUT"},
		{optimize.Staged{Status: optimize.Feasible, Stages: []optimize.Stage{{}}}, "is best found", "optimal"},
		{optimize.Staged{Status: optimize.Optimal, Slower: true, Stages: []optimize.Stage{{}}}, "BUT there is no order in which every run keeps", "best found"},
	} {
		if got := o.orderLine(&c.s); !strings.Contains(got, c.want) || strings.Contains(got, c.not) {
			t.Errorf("%q: %q missing, or %q in it", got, c.want, c.not)
		}
	}
}

// TestParseBudgets: sums with and without a currency; what cannot be read is
// refused (hand-worked).
func TestParseBudgets(t *testing.T) {
	eur := price.Currency{Code: "EUR", Digits: 2}
	got, err := parseBudgets("400 EUR, 600.50,  7 EUR", eur)
	if err != nil || len(got) != 3 || got[0] != 40000 || got[1] != 60050 || got[2] != 700 {
		t.Errorf("%v, %v", got, err)
	}
	for _, bad := range []string{"1,500 EUR", "400 USD", "400 EUR,", "0 EUR", "x", "1, 2, 3, 4, 5, 6, 7, 8, 9, 10", "nan", "1e9 EUR"} {
		if got, err := parseBudgets(bad, eur); err == nil {
			t.Errorf("%q is read as %v", bad, got)
		}
	}
}

// TestSlowLine: runs that lose their velocity are named, and never with 100 %.
func TestSlowLine(t *testing.T) {
	got := slowLine([]optimize.Slowed{{State: "saw", Run: "main 2", Ratio: 0.9999}, {State: "lathe", Run: "drop", Ratio: 0.8}})
	if want := `LOSES transport velocity, dust may settle: main 2 in "saw", 99.9 % of it; drop in "lathe", 80 % of it`; got != want {
		t.Errorf("%s", got)
	}
	if slowLine(nil) != "" {
		t.Error("nothing is slow")
	}
}

// TestNoStages: where none are wanted, or the plan holds with a confidence, the
// order is not looked for: the outcome has no problem to look in.
func TestNoStages(t *testing.T) {
	met := &optimize.Result{Status: optimize.Optimal, Best: &optimize.Plan{}}
	var a app
	for i, c := range []struct {
		o   outcome
		opt redesignOptions
	}{
		{outcome{result: met, certain: &certainty{}}, redesignOptions{stages: 3}},
		{outcome{result: met}, redesignOptions{}},
		{outcome{result: &optimize.Result{Status: optimize.Infeasible}}, redesignOptions{stages: 3}},
	} {
		if err := a.inStages(t.Context(), &c.o, &c.opt); err != nil || c.o.staged != nil {
			t.Errorf("%d: %v, %v", i, err, c.o.staged)
		}
	}
}
