package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wyewright/cmd/internal/report"
	"wyewright/network"
	"wyewright/network/units"
	"wyewright/optimize"
	"wyewright/optimize/price"
	"wyewright/plots"
)

// TestPageSaysWhatThePlanSays: the numbers of report.html are those of plan.json
// beside it.
func TestPageSaysWhatThePlanSays(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	var out, errs bytes.Buffer
	if code := Main(context.Background(), streams(&out, &errs), []string{"redesign", "../../../testdata/shops/annex.yaml", "-o", dir, "--no-plots", "--quiet", "--time", "20s", "--front-time", "2s"}); code != Done {
		t.Fatalf("exit code %d: %s", code, errs.String())
	}
	page, err := os.ReadFile(filepath.Join(dir, pageName))
	if err != nil {
		t.Fatal(err)
	}
	src, err := os.ReadFile(filepath.Join(dir, planName))
	if err != nil {
		t.Fatal(err)
	}
	var plan jsonPlan
	if err := json.Unmarshal(src, &plan); err != nil {
		t.Fatal(err)
	}
	euro := price.Currency{Code: plan.Currency, Digits: plan.Digits}
	want := []string{plan.Verdict, "<b>" + euro.Text(plan.Cost) + "</b>", "<b>" + euro.Text(plan.Shelf) + "</b>", "<b>" + plan.Status + "</b>"}
	for _, c := range plan.Changes {
		want = append(want, ">"+c.What+"<", ">"+c.To+"<", ">"+euro.Number(c.Cost)+"<")
	}
	for _, f := range plan.TradeOff {
		want = append(want, ">"+euro.Text(f.Cost)+"<")
	}
	for _, s := range plan.States {
		for _, tool := range s.Tools {
			if tool.Ratio > 0 {
				want = append(want, ">"+number(units.Flow(tool.Flow).In(units.SI), 0)+"<", ">"+percent(tool.Ratio)+" %<")
			}
		}
	}
	for _, r := range plan.Bill.Rows {
		if r.Action == "buy" {
			want = append(want, ">"+euro.Number(r.ShelfTotal)+"<")
		}
	}
	for _, w := range want {
		if !strings.Contains(string(page), strings.ReplaceAll(w, `"`, "&#34;")) {
			t.Errorf("the page does not say %q", w)
		}
	}
	if strings.Contains(strings.ToLower(string(page)), ">safe<") || strings.Contains(string(page), " is safe") {
		t.Error("the page calls something safe")
	}
}

// TestBalanced: the knee lies farthest above the straight line; hand-worked. Of
// the shares of air (0.6, 0.8, 1) and money (0.2, 0.7, 1) the first is 0.4 above.
func TestBalanced(t *testing.T) {
	point := func(flow float64, cost price.Money) optimize.FrontPoint {
		return optimize.FrontPoint{Flow: flow, Plan: &optimize.Plan{Cost: cost}}
	}
	from := point(1, 1000)
	more := []optimize.FrontPoint{point(1.06, 1200), point(1.08, 1700), point(1.1, 2000)}
	if got := balanced(from, more); got != 0 {
		t.Errorf("the knee is at %d, want 0", got)
	}
	below := []optimize.FrontPoint{point(1.01, 1900), point(1.1, 2000)}
	if got := balanced(from, below); got != -1 {
		t.Errorf("a point below the line is called balanced: %d", got)
	}
	if got := balanced(from, more[2:]); got != -1 {
		t.Errorf("a single point is called balanced: %d", got)
	}
}

// TestRoomier: of the trade-off stay the plans with more air for more money that
// none beats, in order; hand-worked.
func TestRoomier(t *testing.T) {
	o := &outcome{result: &optimize.Result{Best: &optimize.Plan{Cost: 100}}}
	o.result.States = []optimize.StateResult{{Verdict: &network.Verdict{Tools: []network.ToolVerdict{{Ratio: 1}}}}}
	for _, f := range []struct {
		flow float64
		cost price.Money
	}{{0.8, 50}, {1.2, 300}, {1.1, 200}, {1.15, 400}, {1.3, 90}, {1.05, 200}} {
		o.front = append(o.front, optimize.FrontPoint{Flow: f.flow, Plan: &optimize.Plan{Cost: f.cost}})
	}
	var got []price.Money
	for _, f := range o.roomierFront() {
		got = append(got, f.Plan.Cost)
	}
	if d := cmp.Diff([]price.Money{200, 300}, got); d != "" {
		t.Error(d)
	}
}

// TestPressureSteps: ways before and after side by side, in the order of the
// air; a run that only one of them has is there, and each column adds up.
func TestPressureSteps(t *testing.T) {
	o := &outcome{sys: units.SI}
	was := []step{{"tool", plots.PathEntry, 10}, {"old run", plots.PathRun, 50}, {"main", plots.PathRun, 5}, {"J", plots.PathJunction, 1}, {"J", plots.PathJunction, 2}}
	now := []step{{"tool", plots.PathEntry, 20}, {"new run", plots.PathRun, 30}, {"main", plots.PathRun, 6}}
	got := o.pressureSteps(was, now)
	want := []report.PressureStep{
		{Name: "tool", Before: 10, After: 20, BeforeText: "10", AfterText: "20"},
		{Name: "new run", After: 30, AfterText: "30"},
		{Name: "old run", Before: 50, BeforeText: "50"},
		{Name: "main", Before: 5, After: 6, BeforeText: "5", AfterText: "6"},
		{Name: "J", Before: 3, BeforeText: "3"},
		{Name: "together", Before: 68, After: 56, BeforeText: "68", AfterText: "56", Sum: true},
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	last := o.pressureSteps(nil, now)
	if s := last[len(last)-1]; s.BeforeText != "" || s.AfterText != "56" {
		t.Errorf("without a way before: %+v", s)
	}
}

// TestSpeedWords: a word for every speed; hand-worked.
func TestSpeedWords(t *testing.T) {
	for _, c := range []struct {
		cell plots.VelocityCell
		want report.Mark
	}{
		{plots.VelocityCell{Speed: 18, Limit: 17.8, Dust: true}, report.OK},
		{plots.VelocityCell{Speed: 17, Limit: 17.8, Dust: true}, report.Slow},
		{plots.VelocityCell{Speed: 0.04, Limit: 17.8, Dust: true}, report.Slow},
		{plots.VelocityCell{Speed: 31, Limit: 17.8, Dust: true}, report.Fast},
		{plots.VelocityCell{Speed: 0.3}, report.NoDust},
		{plots.VelocityCell{Speed: 0.04}, report.Still},
		{plots.VelocityCell{None: true}, report.NoRun},
	} {
		if got := speedCell(c.cell, 30, units.SI); got.Mark != c.want {
			t.Errorf("%+v is called %q, want %q", c.cell, got.Mark, c.want)
		}
	}
}
