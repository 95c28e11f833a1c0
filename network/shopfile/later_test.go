package shopfile

import (
	"bytes"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"wyewright/network"
)

// TestLaterInDemos: each tool of the demo shops in turn comes later. The shop of
// today lacks it and what serves it alone, compiles, and rewrites the whole file.
func TestLaterInDemos(t *testing.T) {
	marked, refused := 0, 0
	for _, path := range demos(t) {
		f := decodeFile(t, path)
		for _, tool := range f.Spec.Tools {
			g, err := f.Set(tool.ID, "later", "true")
			if err != nil {
				refused++
				known := slices.ContainsFunc([]string{"no run is its own", "every state runs a tool that comes later", "needs ducts with one way"},
					func(why string) bool { return strings.Contains(err.Error(), why) })
				if !known {
					t.Errorf("%s, %s: %v", filepath.Base(path), tool.ID, err)
				}
				continue
			}
			marked++
			today := g.Today()
			name := filepath.Base(path) + ", " + tool.ID
			if len(today.Spec.Tools) != len(f.Spec.Tools)-1 || len(today.Spec.Runs)+len(g.LaterRuns()) != len(f.Spec.Runs) || len(g.LaterRuns()) == 0 {
				t.Errorf("%s: %d tools, %d runs of today, %d later", name, len(today.Spec.Tools), len(today.Spec.Runs), len(g.LaterRuns()))
			}
			if _, err := network.New(today.Spec); err != nil {
				t.Errorf("%s: %v", name, err)
			}
			for _, s := range today.States {
				if slices.Contains(s.Running, tool.ID) || slices.Contains(s.Open, tool.ID) {
					t.Errorf("%s: state %q of today runs it", name, s.Name)
				}
			}
			if len(today.States)+len(g.Waiting()) != len(g.States) {
				t.Errorf("%s: %d states of today, %d wait, %d in all", name, len(today.States), len(g.Waiting()), len(g.States))
			}
			if today.Today() != today || g.Today() == g {
				t.Errorf("%s: today is not told from the whole", name)
			}
			if out, err := today.Rewrite(Edits{}); err != nil || !bytes.Equal(out, g.Source()) {
				t.Errorf("%s: the shop of today writes another file: %v", name, err)
			}
			if h, err := today.Set(today.Spec.Tools[0].ID, "flow", "500 m3/h"); err != nil || len(h.Spec.Tools) != len(today.Spec.Tools) {
				t.Errorf("%s: setting a value brings it back: %v", name, err)
			}
		}
	}
	t.Logf("%d tools marked, %d refused", marked, refused)
	if marked < 20 {
		t.Errorf("only %d tools could be marked", marked)
	}
}

// fanOnly begins a shop file.
const fanOnly = `version: 1
defaults: {family: dust spiral, gate: yes}
collectors: {fan: {at: COL, inlet: 160 mm, fan: {pressure: fan static, curve: [{flow: 0 m3/h, pressure: 2000 Pa}, {flow: 2000 m3/h, pressure: 100 Pa}]}}}
`

// TestLaterMarks: what cannot come later is told with its place. Hand-worked.
func TestLaterMarks(t *testing.T) {
	shop := fanOnly + `runs:
  main: {from: J, to: COL, size: 160 mm, length: 4 m}
  drop: {from: S, to: J, size: 100 mm, length: 2 m}
  branch: {from: P, to: J, size: 100 mm, length: 2 m}
  end: {from: D, to: P, size: 100 mm, length: 1 m}
tools:
  saw: {flow: 600 m3/h, ports: [{at: S, size: 100 mm, entry: 1.0}]}
  planer: {flow: 600 m3/h, later: true, ports: [{at: P, size: 100 mm, entry: 1.0}]}
leaks: {hole: {at: P, area: 1 cm2}}
states: STATES
`
	f, err := Decode("x", []byte(strings.Replace(shop, "STATES", "[each alone, {name: both, running: [saw], open: [planer]}]", 1)), builtin(t))
	if err != nil {
		t.Fatal(err)
	}
	today := f.Today()
	if got := strings.Join(f.LaterRuns(), ","); got != "branch,end" || len(today.Spec.Leaks) != 0 || len(today.States) != 1 || len(today.Spec.Points) != 3 {
		t.Errorf("%s later; of today %d leaks, %d states, points %v", got, len(today.Spec.Leaks), len(today.States), today.Spec.Points)
	}
	if len(f.Later) != 1 || !slices.Equal(f.Later[0].Joints, []string{"J"}) {
		t.Errorf("later: %+v", f.Later)
	}
	for states, want := range map[string]string{
		"[{running: [planer]}]": `x:11:35: every state runs a tool that comes later`,
	} {
		if _, err := Decode("x", []byte(strings.Replace(shop, "STATES", states, 1)), builtin(t)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", states, err)
		}
	}
	if _, err := Decode("x", []byte(strings.Replace(strings.Replace(shop, "STATES", "[each alone]", 1), "later: true", "later: perhaps", 1)), builtin(t)); err == nil || !strings.Contains(err.Error(), `later "perhaps" is not known`) {
		t.Errorf("later: perhaps: %v", err)
	}
}

// TestLaterReady: behind a wye that a redesign has put there the run stays as a
// dead end, and nothing flows into it, be there a hole; the wye takes its loss.
// Where there is none yet, the two runs meet as in straight duct. Hand-worked: air
// that enters from the side of a wye loses more than air in straight duct.
func TestLaterReady(t *testing.T) {
	shop := fanOnly + `runs:
  main: {from: J, to: COL, size: 160 mm, length: 4 m}
  line: {from: S, to: J, size: 160 mm, length: 2 m}
  branch: {from: P, to: J, size: 160 mm, length: 2 m, main: true, new: NEW}
tools:
  saw: {flow: 600 m3/h, ports: [{at: S, size: 100 mm, entry: 1.0}]}
  planer: {flow: 600 m3/h, later: true, ports: [{at: P, size: 100 mm, entry: 1.0}]}
leaks: {hole: {at: P, area: 1 cm2}}
states: [each alone]
`
	flow := map[string]float64{}
	for _, fresh := range []string{"false", "true"} {
		f, err := Decode("x", []byte(strings.Replace(shop, "NEW", fresh, 1)), builtin(t))
		if err != nil {
			t.Fatal(err)
		}
		today := f.Today()
		stub := runIndex(&today.Spec, "branch") >= 0
		if stub != (fresh == "true") || len(today.Spec.Tools) != 1 || len(today.Spec.Leaks) != 0 || slices.Contains(today.Redesign.Keep, "branch") != stub {
			t.Errorf("new: %s: a stub is there: %v; %d tools, %d leaks, %v kept", fresh, stub, len(today.Spec.Tools), len(today.Spec.Leaks), today.Redesign.Keep)
		}
		n, err := network.New(today.Spec)
		if err != nil {
			t.Fatal(err)
		}
		sol, err := network.NewSolver(n, nil).Solve(t.Context(), today.States[0])
		if err != nil {
			t.Fatal(err)
		}
		flow[fresh] = float64(sol.Collector.Flow)
		if i, ok := n.RunIndex("branch"); ok && sol.Runs[i].Flow > 1e-9 {
			t.Errorf("%v m3/s behind the cap", sol.Runs[i].Flow)
		}
	}
	if !(flow["true"] < flow["false"]) {
		t.Errorf("%v m3/s with the wye, %v without", flow["true"], flow["false"])
	}
}
