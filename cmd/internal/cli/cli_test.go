package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"

	"wyewright/network"
	"wyewright/network/shopfile"
	"wyewright/optimize/parts"
)

const demos = "../../../testdata/shops/"

// run runs a command line and returns what it printed.
func run(t *testing.T, ctx context.Context, want ExitCode, args ...string) (out, errs string) {
	t.Helper()
	var o, e bytes.Buffer
	if got := Main(ctx, streams(&o, &e), args); got != want {
		t.Fatalf("%v: exit %d, want %d\n%s%s", args, got, want, o.String(), e.String())
	}
	return o.String(), e.String()
}

// smallShop writes the two-machine shop of the redesign script into a folder
// of its own. Its redesign is feasible and takes no time.
func smallShop(t *testing.T) string {
	t.Helper()
	ar, err := txtar.ParseFile("../../../testdata/scripts/redesign.txtar")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range ar.Files {
		if f.Name == "small.yaml" {
			path := filepath.Join(t.TempDir(), "shop.yaml")
			if err := os.WriteFile(path, f.Data, 0o644); err != nil {
				t.Fatal(err)
			}
			return path
		}
	}
	t.Fatal("no small.yaml in the script")
	return ""
}

// TestFlags: each verb turns its flags into options; nothing is computed.
func TestFlags(t *testing.T) {
	a := &app{}
	ctx := context.Background()
	var solve solveOptions
	c := newSolve(a, func(_ context.Context, o *solveOptions) error { solve = *o; return nil })
	c.SetArgs([]string{"s.yaml", "--state", "a, b", "--state", "c", "--open", "saw,planer", "--collector", "new", "--confidence", "--draws", "50"})
	if err := c.ExecuteContext(ctx); err != nil {
		t.Fatal(err)
	}
	if want := (solveOptions{file: "s.yaml", states: []string{"a, b", "c"}, open: []string{"saw", "planer"}, collector: "new", confident: true, draws: 50}); !cmp.Equal(solve, want, cmp.AllowUnexported(want)) {
		t.Errorf("%+v", solve)
	}
	var redesign redesignOptions
	d := newRedesign(a, func(_ context.Context, o *redesignOptions) error { redesign = *o; return nil })
	d.SetArgs([]string{"s.yaml", "-o", "out", "--time", "90s", "--front", "3", "--no-plots", "--force"})
	if err := d.ExecuteContext(ctx); err != nil {
		t.Fatal(err)
	}
	if redesign.file != "s.yaml" || redesign.dir != "out" || redesign.time != 90*time.Second || redesign.front != 3 || !redesign.noPlots || !redesign.force {
		t.Errorf("%+v", redesign)
	}
	var plot plotOptions
	p := newPlot(a, func(_ context.Context, o *plotOptions) error { plot = *o; return nil })
	p.SetArgs([]string{"s.yaml", "flows", "-o", "f.png", "--state", "class", "--tool", "saw", "--forget-leaks"})
	if err := p.ExecuteContext(ctx); err != nil {
		t.Fatal(err)
	}
	if want := (plotOptions{"s.yaml", "flow", "class", "saw", "", "f.png", true}); plot != want {
		t.Errorf("%+v", plot)
	}
	var sheet sheetOptions
	s := newSheet(a, func(_ context.Context, o *sheetOptions) error { sheet = *o; return nil })
	s.SetArgs([]string{"s.yaml", "--state", "a, b", "--state", "none", "--meter", "2 m/s to 20 m/s", "--rows", "12", "--html"})
	if err := s.ExecuteContext(ctx); err != nil {
		t.Fatal(err)
	}
	if want := (sheetOptions{file: "s.yaml", states: []string{"a, b", "none"}, meter: "2 m/s to 20 m/s", rows: 12, html: true}); !cmp.Equal(sheet, want, cmp.AllowUnexported(want)) {
		t.Errorf("%+v", sheet)
	}
}

// TestCodes maps every kind of error to its documented code.
func TestCodes(t *testing.T) {
	for _, c := range []struct {
		err  error
		want ExitCode
	}{
		{nil, Done},
		{errors.New("odd"), Internal},
		{fail(Usage, errors.New("x"), "y"), Usage},
		{fmt.Errorf("a: %w", shopfile.ErrInvalid), FileInvalid},
		{fmt.Errorf("a: %w", &network.SpecError{Path: "runs/a", Msg: "m"}), FileInvalid},
		{fail(NotMet, nil, ""), NotMet},
		{fmt.Errorf("a: %w", &network.ConvergenceError{Status: network.Stalled}), NotConverged},
		{&network.ConvergenceError{Status: network.Interrupted}, Interrupted},
		{context.Canceled, Interrupted},
		{errors.Join(fail(FileInvalid, errors.New("x"), "")), FileInvalid},
	} {
		var e bytes.Buffer
		a := &app{Streams: streams(nil, &e)}
		if got := a.code(c.err); got != c.want {
			t.Errorf("%v: %d, want %d", c.err, got, c.want)
		}
	}
}

// TestCodesAreHelped: help exit-codes names every code.
func TestCodesAreHelped(t *testing.T) {
	out, _ := run(t, context.Background(), Done, "help", "exit-codes")
	for _, c := range []ExitCode{Done, Internal, Usage, FileInvalid, NotMet, NotConverged, Interrupted} {
		if !regexp.MustCompile(fmt.Sprintf(`(?m)^\s+%d\s`, c)).MatchString(out) {
			t.Errorf("no word on %d", c)
		}
	}
}

// TestPathAddsUp: from the room to the collector's inlet the pressures of the
// way add up to the total suction there, for every running tool of every demo
// shop. This ties the printed split to the solver's answer.
func TestPathAddsUp(t *testing.T) {
	files, err := filepath.Glob(demos + "*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	for _, file := range files {
		p, err := load(file)
		if err != nil {
			t.Fatal(err)
		}
		states, err := asItStands(context.Background(), p)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range states {
			for _, tv := range s.Verdict.Tools {
				sum := 0.0
				way := pressurePath(p.Network, s.Solution, tv.Tool)
				for _, st := range way {
					sum += float64(st.loss)
				}
				end := p.Network.Way(s.Solution, tv.Tool, 0).Collector
				if total := float64(s.Solution.Collectors[end].Curve); sum-total > 1e-5 || total-sum > 1e-5 {
					t.Errorf("%s, %s: the way adds up to %.6f Pa of %.6f: %v", file, s.State.Name, sum, total, way)
				}
			}
		}
	}
}

// TestBalance: what comes in by tools, bleeds, leaks and shut gates is what
// the collector draws.
func TestBalance(t *testing.T) {
	for _, name := range []string{"school.yaml", "coop.yaml", "instrument.yaml"} {
		p, err := load(demos + name)
		if err != nil {
			t.Fatal(err)
		}
		states, err := asItStands(context.Background(), p)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range states {
			tools, bleeds, leakage := balance(p.Network, s)
			if d := float64(tools + bleeds + leakage - s.Solution.Collector.Flow); d > 1e-9 || d < -1e-9 {
				t.Errorf("%s, %s: %g m3/s are missing", name, s.State.Name, d)
			}
		}
	}
}

// TestBillJSON: a bill survives the way to JSON and back whole.
func TestBillJSON(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	run(t, context.Background(), Done, "redesign", smallShop(t), "--no-plots", "--front", "0", "--quiet", "-o", dir)
	plan, err := readPlanFile(dir)
	if err != nil {
		t.Fatal(err)
	}
	if len(plan.Bill.Rows) == 0 || !plan.Meets || plan.Cost != plan.Bill.Planning || len(plan.Before) != len(plan.States) {
		t.Fatalf("%d rows, meets %v, %d and %d", len(plan.Bill.Rows), plan.Meets, plan.Cost, plan.Bill.Planning)
	}
	read, err := plan.Bill.billed()
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(plan.Bill, read.json()); diff != "" {
		t.Error(diff)
	}
	var csv bytes.Buffer
	if err := read.bill.WriteCSV(&csv); err != nil {
		t.Fatal(err)
	}
	if want, err := os.ReadFile(filepath.Join(dir, csvName)); err != nil || csv.String() != string(want) {
		t.Errorf("the bill of plan.json and %s differ (%v)", csvName, err)
	}
	var sum float64
	for _, r := range read.bill.Rows {
		if r.Action == parts.Buy || r.Action == parts.Work {
			sum += float64(r.Total)
		}
	}
	if sum != float64(read.bill.Planning) {
		t.Errorf("the rows add up to %g, the bill says %d", sum, read.bill.Planning)
	}
}

// TestInterrupted: a search that is stopped still leaves a folder that can be
// read, and a gate card that says what it is worth.
func TestInterrupted(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	dir := filepath.Join(t.TempDir(), "out")
	out, errs := run(t, ctx, Interrupted, "redesign", demos+"school.yaml", "--no-plots", "-o", dir)
	if !strings.Contains(errs, "best plan so far") || !strings.Contains(out, "Gate card") {
		t.Errorf("%s%s", out, errs)
	}
	plan, err := readPlanFile(dir)
	if err != nil || !plan.Stopped {
		t.Errorf("%v, stopped %v", err, plan.Stopped)
	}
	if _, err := load(filepath.Join(dir, shopName)); err != nil {
		t.Error(err)
	}
	run(t, ctx, Interrupted, "solve", demos+"school.yaml")
	bill := filepath.Join(t.TempDir(), "bill.csv")
	run(t, ctx, Interrupted, "parts", demos+"school.yaml", "--format", "csv", "-o", bill)
	if src, err := os.ReadFile(bill); err != nil || !bytes.HasPrefix(src, []byte("action,")) {
		t.Errorf("%q, %v", src, err)
	}
}

// leap is a clock that runs a millisecond at each look, and leaps an hour as
// soon as progress speaks of a plan.
type leap struct {
	now  time.Time
	seen bytes.Buffer
}

func (l *leap) Now() time.Time { l.now = l.now.Add(time.Millisecond); return l.now }

func (l *leap) Write(b []byte) (int, error) {
	if !strings.Contains(l.seen.String(), "best ") && bytes.Contains(b, []byte("best ")) {
		l.now = l.now.Add(time.Hour)
	}
	return l.seen.Write(b)
}

// TestTimeLimit: a limit that ends a search with a plan in hand is no failure,
// but the answer says that it is not proved.
func TestTimeLimit(t *testing.T) {
	clock := &leap{now: time.Unix(0, 0)}
	var out bytes.Buffer
	s := streams(&out, nil)
	s.Err, s.Now = clock, clock.Now
	dir := filepath.Join(t.TempDir(), "out")
	got := Main(context.Background(), s, []string{"redesign", demos + "school.yaml", "--no-plots", "--front", "0", "--time", "30m", "-o", dir})
	if got != Done || !strings.Contains(out.String(), "Status: best found") || !strings.Contains(out.String(), "a limit or an interrupt ended the search") {
		t.Fatalf("exit %d\n%s%s", got, out.String(), clock.seen.String())
	}
	if plan, err := readPlanFile(dir); err != nil || !plan.Stopped || !plan.Meets || plan.Status != "best found" {
		t.Errorf("%v, %+v", err, plan)
	}
}

// TestInputsStay: even with --force a redesign does not write over the files
// it reads.
func TestInputsStay(t *testing.T) {
	file := smallShop(t)
	home := filepath.Dir(file)
	src, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	_, errs := run(t, context.Background(), Usage, "redesign", file, "-o", home, "--force", "--no-plots")
	if !strings.Contains(errs, "would be written over") {
		t.Error(errs)
	}
	if now, err := os.ReadFile(file); err != nil || !bytes.Equal(now, src) {
		t.Errorf("the shop file was changed (%v)", err)
	}
}

// TestStalePictures: writing over an older redesign takes its pictures away,
// and nothing else.
func TestStalePictures(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"plan.svg", planName, "own.txt"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte("{}"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	run(t, context.Background(), Done, "redesign", smallShop(t), "--no-plots", "--front", "0", "--force", "-o", dir)
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	if want := []string{cutsName, cardName, sheetName, "own.txt", csvName, billName, bookName, planName, pageName, shopName}; !slices.Equal(names, want) {
		t.Errorf("%v, want %v", names, want)
	}
}

// TestCheckJSON: faults and summary for programs, one object in either case.
func TestCheckJSON(t *testing.T) {
	for _, c := range []struct {
		file string
		want ExitCode
	}{{demos + "school.yaml", Done}, {"../../../testdata/broken/unknown-unit.yaml", FileInvalid}} {
		out, errs := run(t, context.Background(), c.want, "check", c.file, "--json")
		var got jsonCheck
		if err := json.Unmarshal([]byte(out), &got); err != nil {
			t.Fatal(err)
		}
		if got.Valid != (c.want == Done) || got.Valid == (len(got.Faults) > 0) || errs != "" {
			t.Errorf("%s: %+v %s", c.file, got, errs)
		}
		if !got.Valid && (got.Faults[0].Line == 0 || got.Faults[0].Message == "") {
			t.Errorf("%+v", got.Faults)
		}
	}
}

// TestNeverSafe: no answer about a demo shop calls it safe.
func TestNeverSafe(t *testing.T) {
	word := regexp.MustCompile(`(?i)\bsafe`)
	for _, args := range [][]string{{"check", demos + "coop.yaml"}, {"solve", demos + "turnery.yaml"}, {"sheet", demos + "coop.yaml", "--html"}, {"help", "method"}, {"help", "exit-codes"}} {
		var o, e bytes.Buffer
		Main(context.Background(), streams(&o, &e), args)
		if o.Len() == 0 || word.MatchString(o.String()+e.String()) {
			t.Errorf("%v: %s%s", args, o.String(), e.String())
		}
	}
}

// TestUnitsInNames: every number in the JSON of solve and of a plan has its
// unit at the end of its name, or is a plain count.
func TestUnitsInNames(t *testing.T) {
	unit := regexp.MustCompile(`_(m3s|ms|pa|w|m|h|minor|minor_per_h|ratio)$|^(ratio|currency_digits|nodes|judged|sticks|least_sticks|sticks_without_kerf|part|of)$|^(quantity|shelf)(_|$)|^price_per_quantity$`)
	dir := filepath.Join(t.TempDir(), "out")
	solve, _ := run(t, context.Background(), NotMet, "solve", demos+"school.yaml", "--json")
	plan, _ := run(t, context.Background(), Done, "redesign", smallShop(t), "--no-plots", "--front", "0", "--json", "-o", dir)
	numbers := 0
	var visit func(name string, v any)
	visit = func(name string, v any) {
		switch v := v.(type) {
		case map[string]any:
			for k, x := range v {
				visit(k, x)
			}
		case []any:
			for _, x := range v {
				visit(name, x)
			}
		case float64:
			if numbers++; !unit.MatchString(name) {
				t.Errorf("%s: %g has no unit in its name", name, v)
			}
		}
	}
	for _, text := range []string{solve, plan} {
		var v any
		if err := json.Unmarshal([]byte(text), &v); err != nil {
			t.Fatal(err)
		}
		visit("", v)
	}
	if numbers < 100 {
		t.Errorf("only %d numbers looked at", numbers)
	}
	if file, err := os.ReadFile(filepath.Join(dir, planName)); err != nil || string(file) != plan {
		t.Errorf("plan.json is not what redesign printed (%v)", err)
	}
}

// TestDropped gathers what was not offered by its reason. Hand-worked.
func TestDropped(t *testing.T) {
	got := dropped([]string{"a: 2 in hose: no price", "b: 2 in hose: no price", "a: 3 in hose: not sold"})
	want := []string{"not offered: 2 in hose: no price (for a, b)", "not offered: 3 in hose: not sold (for a)"}
	if !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
}
