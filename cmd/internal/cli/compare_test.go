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

	"wyewright/cmd/internal/project"
)

// compared runs compare and reads its JSON.
func compared(t *testing.T, args ...string) jsonCompare {
	t.Helper()
	out, _ := run(t, context.Background(), Done, append([]string{"compare", "--json", "--quiet"}, args...)...)
	var c jsonCompare
	if err := json.Unmarshal([]byte(out), &c); err != nil {
		t.Fatal(err)
	}
	return c
}

// answered runs a command line that gives an answer, whether or not everything is
// met.
func answered(t *testing.T, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	if got := Main(context.Background(), streams(&out, &errs), args); got != Done && got != NotMet {
		t.Fatalf("%v: exit %d\n%s", args, got, errs.String())
	}
	return out.String()
}

// sameStates compares states but for the open lists and the last bits.
func sameStates(t *testing.T, what string, got, want []jsonState) {
	t.Helper()
	near := cmp.Comparer(func(a, b float64) bool { return a-b <= 1e-6*(1+max(a, -a)) && b-a <= 1e-6*(1+max(a, -a)) })
	if d := cmp.Diff(want, got, near, cmp.FilterPath(func(p cmp.Path) bool {
		return strings.HasPrefix(p.Last().String(), ".Residual")
	}, cmp.Ignore())); d != "" {
		t.Errorf("%s differs: %s", what, d)
	}
}

// TestCompareIsSolve: what compare says of changed values is what solve says of
// them, with the same gates open (computed here, by both verbs).
func TestCompareIsSolve(t *testing.T) {
	for _, c := range []struct{ file, set string }{
		{"school.yaml", "main 2.size=160 mm; cap.area=0 cm2"},
		{"instrument.yaml", "trunk 4.size=6 in"},
		{"joiner.yaml", "ring north.size=200 mm"},
	} {
		got := compared(t, demos+c.file, "--set", c.set, "--no-as-found")
		for _, st := range got.Options[0].States {
			args := []string{"solve", "--json", "--quiet", demos + c.file, "--state", st.State}
			for _, name := range st.Open {
				args = append(args, "--open", name)
			}
			for s := range strings.SplitSeq(c.set, ";") {
				args = append(args, "--set", strings.TrimSpace(s))
			}
			text := answered(t, args...)
			var solved jsonSolve
			if err := json.Unmarshal([]byte(text), &solved); err != nil {
				t.Fatal(err)
			}
			sameStates(t, c.file+": "+st.State, []jsonState{st}, solved.States)
		}
	}
}

// TestCompareIsRedesign: the shop as found is what redesign shows as before, the
// folder that it wrote is its plan, and the free choice costs what it costs.
func TestCompareIsRedesign(t *testing.T) {
	file := smallShop(t)
	dir := filepath.Join(t.TempDir(), "plan")
	answered(t, "redesign", file, "-o", dir, "--no-plots", "--front", "0", "--quiet")
	src, err := os.ReadFile(filepath.Join(dir, planName))
	if err != nil {
		t.Fatal(err)
	}
	var plan jsonPlan
	if err := json.Unmarshal(src, &plan); err != nil {
		t.Fatal(err)
	}
	got := compared(t, file, dir)
	sameStates(t, "before", got.Options[0].States, plan.Before)
	sameStates(t, "the plan", got.Options[1].States, plan.States)
	if o := got.Options[1]; *o.Cost != plan.Cost || o.Status != plan.Status || !o.Meets {
		t.Errorf("the folder: %d, %s; the plan: %d, %s", *o.Cost, o.Status, plan.Cost, plan.Status)
	}
	free := compared(t, file, "--trunk", "160 mm", "--runs", got.Options[0].States[0].Runs[0].Run, "--optimise").Options[1]
	if *free.Cost != plan.Cost || free.Status != plan.Status || plan.Cost == 0 {
		t.Errorf("the free choice: %d, %s; the plan: %d, %s", *free.Cost, free.Status, plan.Cost, plan.Status)
	}
}

// TestCompareInterrupted: an interrupt ends the searches, not the answer.
func TestCompareInterrupted(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	out, _ := run(t, ctx, Interrupted, "compare", demos+"school.yaml", "--trunk", "160 mm", "--optimise")
	if strings.Count(out, "undecided") < 2 || !strings.Contains(out, "What the comparison shows") {
		t.Errorf("%s", out)
	}
}

// TestCompareLists: lists are parted at commas, or at semicolons where a name
// has a comma; combined, every one goes with every other (hand-worked).
func TestCompareLists(t *testing.T) {
	if got := list(" 4 in,5 in, ,4 in"); !cmp.Equal(got, []string{"4 in", "5 in"}) {
		t.Errorf("%q", got)
	}
	if got := list("fan at 108 % speed, renewed filter; old unit;"); !cmp.Equal(got, []string{"fan at 108 % speed, renewed filter", "old unit"}) {
		t.Errorf("%q", got)
	}
	size := func(s string) want { return want{name: s, settled: project.Settled{Size: s, Runs: []string{"main"}}} }
	fan := func(s string) want { return want{name: s, settled: project.Settled{Collector: s}} }
	all := product([][]want{{size("4 in"), size("5 in")}, {fan("old"), fan("new")}})
	var names []string
	for _, w := range all {
		names = append(names, w.name)
	}
	if want := []string{"4 in + old", "4 in + new", "5 in + old", "5 in + new"}; !cmp.Equal(names, want) || all[2].settled.Size != "5 in" || all[2].settled.Collector != "old" {
		t.Errorf("%q, %+v", names, all)
	}
	if product(nil) != nil {
		t.Error("nothing combined is something")
	}
}
