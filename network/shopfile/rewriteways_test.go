package shopfile

import (
	"path/filepath"
	"strings"
	"testing"

	"wyewright/network"

	"github.com/google/go-cmp/cmp"
)

// flowTangle has its sections in brackets; the last members of each go, or all.
const flowTangle = `version: 1
collectors: {c: {at: COL, inlet: 160 mm, fan: {flow: 900 m3/h}}}
points: {unit: ft, at: {COL: [0, 0, 2], A: [3, 0, 2], X: [4, 4, 2], Y: [5, 4, 2]}}
runs: {main: {from: A, to: COL, size: 160 mm, family: dust spiral, length: 4 m, k: {bends: 0.3, junction: 0.2, steps: 0.1}},
  side: {from: S, to: A, size: 100 mm, family: dust spiral, length: 2 m, k: {junction: 0.1}},
  far: {from: A, to: B, via: [X, [4.5, 4.25, 2], Y], size: 100 mm, family: dust spiral, length: 5 m, main: true},
  last: {from: B, to: COL, size: 100 mm, family: dust spiral, length: 2 m}}
corridors: {up: {from: S, to: COL, length: 5 m}, low: {from: S, to: COL, length: 8 m}, back: {from: B, to: A, length: 9 m}}
tools: {s: {flow: 300 m3/h, ports: [{at: S, size: 100 mm, entry: 1, gate: yes}]}}
leaks: {cap: {at: B, area: 2 cm2}}
bleeds: [A, B]
states: [each alone]
`

// TestRewriteWays: hand-worked, for what the other tests of routes leave out: a
// route with several corners is turned, a run that stays loses the coefficient
// of a junction that changed and keeps the others, members go from brackets, and
// corridors go that a new run follows or that hang in the air.
func TestRewriteWays(t *testing.T) {
	src := strings.Replace(flowTangle, "far: {from: A, to: B", "far: {from: B, to: A", 1)
	src = strings.Replace(src, "  last: {from: B, to: COL, size: 100 mm, family: dust spiral, length: 2 m}}", "  last: {from: B2, to: B, size: 100 mm, family: dust spiral, length: 2 m}}", 1)
	f := decodeText(t, []byte(src))
	rewrite := func(e Edits) string {
		t.Helper()
		out, err := f.Rewrite(e)
		if err != nil {
			t.Fatal(err)
		}
		_, come := changedLines(src, string(out))
		return strings.Join(come, "\n")
	}
	pipe := func(l float64) []network.Piece {
		p := piece(t, f, "dust spiral", "100 mm", 0)
		p.Length = 0.5
		q := p
		if q.Length = 0; l > 0 {
			return []network.Piece{p, q}
		}
		return []network.Piece{p}
	}
	// The far run is turned: the tool's air goes through it, then to the fan.
	got := rewrite(Edits{RemoveRuns: []string{"main", "last"}, TurnRuns: []string{"far"},
		AddRuns: []NewRun{{ID: "link", From: "B", To: "COL", Pieces: pipe(2), Length: 2}}})
	want := `# taken out: main: {from: A, to: COL, size: 160 mm, family: dust spiral, length: 4 m, k: {bends: 0.3, junction: 0.2, steps: 0.1}}
# taken out: last: {from: B2, to: B, size: 100 mm, family: dust spiral, length: 2 m}
runs: {side: {from: S, to: A, size: 100 mm, family: dust spiral, length: 2 m},
far: {from: A, to: B, via: [Y, [4.5, 4.25, 2], X], size: 100 mm, family: dust spiral, length: 5 m}, link: {from: B, to: COL, pieces: [{size: 100 mm, family: dust spiral, length: 0.5 m}, {size: 100 mm, family: dust spiral, length: 1.5 m}], new: true}}`
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("turned (-want +got):\n%s", d)
	}
	// All behind A goes, and what hung there; the run that stays keeps what is
	// known of it but its junction.
	got = rewrite(Edits{RemoveRuns: []string{"far", "last", "side"},
		AddRuns: []NewRun{{ID: "new", From: "S", To: "COL", Pieces: pipe(5), Length: 5}}})
	want = `# taken out: X: [4, 4, 2], Y: [5, 4, 2]
points: {unit: ft, at: {COL: [0, 0, 2], A: [3, 0, 2]}}
# taken out: side: {from: S, to: A, size: 100 mm, family: dust spiral, length: 2 m, k: {junction: 0.1}}, far: {from: B, to: A, via: [X, [4.5, 4.25, 2], Y], size: 100 mm, family: dust spiral, length: 5 m, main: true}, last: {from: B2, to: B, size: 100 mm, family: dust spiral, length: 2 m}
runs: {main: {from: A, to: COL, size: 160 mm, family: dust spiral, length: 4 m, k: {bends: 0.3, steps: 0.1}}, new: {from: S, to: COL, pieces: [{size: 100 mm, family: dust spiral, length: 0.5 m}, {size: 100 mm, family: dust spiral, length: 4.5 m}], new: true}}
# taken out: up: {from: S, to: COL, length: 5 m}
# taken out: back: {from: B, to: A, length: 9 m}
corridors: {low: {from: S, to: COL, length: 8 m}}
# taken out: leaks: {cap: {at: B, area: 2 cm2}}
# taken out: B
bleeds: [A]`
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("taken out (-want +got):\n%s", d)
	}
}

// TestRewriteComma: a comma before the closing bracket is not doubled.
func TestRewriteComma(t *testing.T) {
	src := strings.NewReplacer("length: 2 m}}\ncorridors", "length: 2 m},\n}\ncorridors", "far: {from: A, to: B", "far: {from: B, to: A", "from: B, to: COL", "from: X2, to: B").Replace(flowTangle)
	f := decodeText(t, []byte(src))
	rewriteAll(t, f, false)
	var all Edits
	for _, r := range f.Spec.Runs {
		all.RemoveRuns = append(all.RemoveRuns, r.ID)
		all.AddRuns = append(all.AddRuns, NewRun{ID: r.ID, From: r.From, To: r.To, Via: r.Via, Pieces: r.Pieces})
	}
	if out, err := f.Rewrite(all); err != nil || strings.Contains(string(out), "{,") {
		t.Errorf("%v\n%s", err, out)
	}
	if !strings.Contains(src, ",\n}") {
		t.Fatal("no comma before the bracket")
	}
}

// TestRewriteLastPlace: the section of the points goes with its last place, that
// of the places for bleeds stays where one is built. Hand-worked.
func TestRewriteLastPlace(t *testing.T) {
	src := `version: 1
collectors: {c: {at: COL, inlet: 160 mm, fan: {flow: 900 m3/h}}}
points:
  unit: m
  at:
    X: [4, 4, 2]
runs:
  drop: {from: P, to: COL, via: [X], size: 100 mm, family: dust spiral, length: 5 m}
tools: {p: {flow: 300 m3/h, ports: [{at: P, size: 100 mm, entry: 1, gate: yes}]}}
bleeds: [P]
states: [each alone]
`
	f := decodeText(t, []byte(src))
	out, err := f.Rewrite(Edits{RemoveRuns: []string{"drop"}, Bleeds: []network.Bleed{{ID: "b", At: "P", Size: "100 mm", Diameter: 0.1, K: 1}},
		AddRuns: []NewRun{{ID: "drop", From: "P", To: "COL", Length: 4, Pieces: []network.Piece{piece(t, f, "dust spiral", "100 mm", 0)}}}})
	if err != nil {
		t.Fatal(err)
	}
	gone, come := changedLines(src, string(out))
	want := []string{"# taken out: points:", "# unit: m", "# at:", "# X: [4, 4, 2]",
		"# taken out: drop: {from: P, to: COL, via: [X], size: 100 mm, family: dust spiral, length: 5 m}",
		"drop: {from: P, to: COL, pieces: [{size: 100 mm, family: dust spiral, length: 4 m}], new: true}",
		"bleeds: [{name: b, at: P, size: 100 mm, k: 1, leak: 0 cm2}]"}
	if d := cmp.Diff(want, come); d != "" || len(gone) != 6 {
		t.Errorf("(-want +got):\n%s\n%q", d, gone)
	}
}

// TestDiffersSees: the comparer that guards Rewrite finds each kind of change.
func TestDiffersSees(t *testing.T) {
	f := decodeText(t, []byte(tangle))
	for name, mar := range map[string]func(m *meant){
		"corner":    func(m *meant) { m.spec.Runs[1].Via = []network.Vec{{X: 4, Y: 1, Z: 2.001}} },
		"end":       func(m *meant) { m.spec.Runs[2].To = "A" },
		"junction":  func(m *meant) { m.spec.Runs[0].K.Junction = nil },
		"run":       func(m *meant) { m.spec.Runs = m.spec.Runs[:4] },
		"filter":    func(m *meant) { m.spec.Collectors[0].Filter.Loaded = 1 },
		"point":     func(m *meant) { m.spec.Points = m.spec.Points[1:] },
		"collector": func(m *meant) { m.collector = "other" },
		"corridor":  func(m *meant) { m.corridors = m.corridors[1:] },
		"keep":      func(m *meant) { m.keep = nil },
		"only":      func(m *meant) { m.only = m.only[1:] },
		"fitted":    func(m *meant) { m.fitted.Leaks = nil },
		"states":    func(m *meant) { m.states = f.States[1:] },
		"bleeds":    func(m *meant) { m.bleedPoints = []string{"B"} },
	} {
		m, err := f.mean(&Edits{})
		if err != nil {
			t.Fatal(err)
		}
		if err := f.verify(f.src, m); err != nil {
			t.Fatalf("the file itself: %v", err)
		}
		mar(m)
		if f.verify(f.src, m) == nil {
			t.Errorf("%s: not seen", name)
		}
	}
}

// TestRewriteRoutesRefuses: what cannot be is an error and not a text.
func TestRewriteRoutesRefuses(t *testing.T) {
	f := decodeFile(t, filepath.Join(shops, "annex.yaml"))
	pipe := []network.Piece{piece(t, f, "dust spiral", "125 mm", 0)}
	for name, e := range map[string]Edits{
		"no run to remove":    {RemoveRuns: []string{"main 9"}},
		"no run to turn":      {TurnRuns: []string{"main 9"}},
		"cut off":             {RemoveRuns: []string{"main 3"}},
		"turned away":         {TurnRuns: []string{"main 2"}},
		"name taken":          {AddRuns: []NewRun{{ID: "main 1", From: "J3", To: "J1", Pieces: pipe}}},
		"name of a tool":      {AddRuns: []NewRun{{ID: "lathe", From: "J3", To: "J1", Pieces: pipe}}, RemoveRuns: []string{"main 3"}},
		"name of a corridor":  {AddRuns: []NewRun{{ID: "yard", From: "J3", To: "J1", Pieces: pipe}}, RemoveRuns: []string{"main 3"}},
		"no pieces":           {AddRuns: []NewRun{{ID: "x", From: "J3", To: "J1"}}, RemoveRuns: []string{"main 3"}},
		"to nowhere":          {AddRuns: []NewRun{{ID: "x", From: "J3", To: "J9", Pieces: pipe}}, RemoveRuns: []string{"main 3"}},
		"edit of what goes":   {AddRuns: []NewRun{{ID: "x", From: "J3", To: "J1", Pieces: pipe}}, RemoveRuns: []string{"main 3"}, Runs: []RunEdit{{Run: "main 3", Pieces: pipe}}},
		"no such collector":   {Collector: &CollectorOption{Collector: "roof unit", Speed: 1}},
		"collector of no law": {Collector: &CollectorOption{Collector: "shed unit", Speed: 1.1, Becomes: f.Spec.Collectors[0]}},
	} {
		if out, err := f.Rewrite(e); err == nil {
			t.Errorf("%s: no error, but\n%s", name, out)
		}
	}
}
