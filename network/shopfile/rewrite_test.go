package shopfile

import (
	"bytes"
	"errors"
	"path/filepath"
	"strings"
	"testing"

	"wyewright/network"
	"wyewright/network/units"

	"github.com/google/go-cmp/cmp"
)

func TestStarter(t *testing.T) {
	for sys, src := range map[units.System][]byte{units.SI: Starter(), units.US: StarterUS()} {
		f, err := Decode("starter.yaml", src, builtin(t))
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range f.Warnings {
			t.Error(w)
		}
		if f.Units != sys {
			t.Errorf("the starter for %v prints in %v", sys, f.Units)
		}
		if _, err := network.New(f.Spec); err != nil {
			t.Error(err)
		}
		if n := bytes.Count(src, []byte("\n")); n > 80 {
			t.Errorf("the starter has %d lines, more than a screen or two", n)
		}
	}
}

// TestStarterOffers: the offers that the starter has as comments can be taken out
// of them.
func TestStarterOffers(t *testing.T) {
	src := strings.NewReplacer("# speeds:", "speeds:", "# corridors:", "corridors:", "#   wall:", "  wall:", "bleed, companions", "bleed, routes, collector, companions",
		"loaded: 250 Pa at 1500 m3/h}", "loaded: 250 Pa at 1500 m3/h, renew: {price: 90 EUR, loaded: 200 Pa at 1500 m3/h}}").Replace(string(Starter()))
	f := decodeText(t, []byte(src))
	if len(f.Corridors) != 1 || len(f.CollectorOptions) != 3 || len(f.Warnings) > 0 {
		t.Errorf("%d corridors, %d options, warnings %v", len(f.Corridors), len(f.CollectorOptions), f.Warnings)
	}
}

func TestRewriteNothing(t *testing.T) {
	for _, path := range demos(t) {
		f := decodeFile(t, path)
		out, err := f.Rewrite(Edits{})
		if err != nil || !bytes.Equal(out, f.Source()) {
			t.Errorf("%s: %v\n%s", path, err, cmp.Diff(string(f.Source()), string(out)))
		}
	}
}

// piece makes a piece with the file's defaults.
func piece(t *testing.T, f *File, family, size string, l units.Length) network.Piece {
	t.Helper()
	p, err := f.Piece(family, size, l)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// A full redesign of the school's planer changes the lines it names and no
// other.
func TestRewriteSchool(t *testing.T) {
	f := decodeFile(t, filepath.Join(shops, "school.yaml"))
	hose := piece(t, f, "hose", "120 mm", 0.8)
	hose.Make.Multiple = 2.5
	out, err := f.Rewrite(Edits{
		Head: "Redesign of the planer.\nPlan A.",
		Runs: []RunEdit{
			{Run: "planer hose", Pieces: []network.Piece{hose, piece(t, f, "dust spiral", "120 mm", 2.8)}},
			{Run: "main 5", Pieces: []network.Piece{piece(t, f, "dust spiral", "125 mm", 0)}},
		},
		Leaks:        []LeakEdit{{Leak: "cap", Area: 0}},
		Gates:        []GateEdit{{Tool: "linisher", Port: 0, Leak: 0.5e-4}},
		Bleeds:       []network.Bleed{{ID: "bleed J5", At: "J5", Size: "100 mm", Diameter: 0.1, K: 1.5}},
		States:       []network.State{{Name: "planer", Running: []string{"planer"}, Open: []string{"bleed J5"}}},
		DropReadings: true,
	})
	if err != nil {
		t.Fatal(err)
	}
	var gone, come []string
	before, after := strings.Split(string(f.Source()), "\n"), strings.Split(string(out), "\n")
	for _, l := range before {
		if !strings.Contains(string(out), l) {
			gone = append(gone, strings.TrimSpace(l))
		}
	}
	for _, l := range after {
		if !strings.Contains(string(f.Source()), l) {
			come = append(come, strings.TrimSpace(l))
		}
	}
	// Hand-worked: what the edits above say, line by line.
	wantGone := []string{
		"main 5: {from: J5, to: J4, size: 140 mm, length: 1.5 m, main: true, k: {bends: 0, junction: 0.08, steps: 0}}",
		"planer hose: {from: PL, to: nPL, length: 4.5 m, pieces: [{size: 100 mm, family: hose, k: 1.5}], k: {bends: 0.3, junction: 0, steps: 0.144676}}",
		"linisher: {flow: 820 m3/h, basis: rule, dust: chips, ports: [{at: LN, size: 120 mm, entry: 2.0}]}",
		"cap: {at: J5, area: 8 cm2, seal: 12 EUR}",
		"bleeds: [J5]",
		"- each alone",
		"- {name: class, running: [planer, bandsaw, lathe 1]}",
	}
	wantCome := []string{
		"# Redesign of the planer.",
		"# Plan A.",
		"main 5: {from: J5, to: J4, pieces: [{size: 125 mm, family: dust spiral}], new: true, main: true}",
		"planer hose: {from: PL, to: nPL, pieces: [{size: 120 mm, family: hose, length: 0.8 m, multiple: 2.5}, {size: 120 mm, family: dust spiral, length: 2.8 m}], new: true}",
		"linisher: {flow: 820 m3/h, basis: rule, dust: chips, ports: [{at: LN, size: 120 mm, entry: 2.0, gate: {leak: 0.5 cm2}}]}",
		"cap: {at: J5, area: 0 cm2, seal: no}",
		"bleeds: [{name: bleed J5, at: J5, size: 100 mm, k: 1.5, leak: 0 cm2}]",
		"- {name: planer, running: [planer], open: [bleed J5]}",
		"# readings: school-readings.csv",
	}
	if d := cmp.Diff(wantGone, gone); d != "" {
		t.Errorf("lines that went (-want +got):\n%s", d)
	}
	if d := cmp.Diff(wantCome, come); d != "" {
		t.Errorf("lines that came (-want +got):\n%s", d)
	}
}

// blockShop is a shop in block style with comments in every corner, with the
// line breaks of another system.
const blockShop = `version: 1 # first
collectors: {c: {at: R, inlet: 100 mm, fan: {flow: 500 m3/h}}}
runs:
  a:
    from: P # the machine
    # about the pieces
    pieces:
      # about the hose
      - size: 100 mm # narrow
        family: hose
        length: 2 m
      - {size: 100 mm, family: dust spiral, length: 3 m} # rigid
    # about the end
    to: R
tools:
  - name: t
    flow: 300 m3/h
    ports:
      - at: P
        size: 100 mm
        entry: 1
        gate: yes # brass
leaks:
  - name: l
    # found by hand
    area: 2 cm2 # roughly
    at: R
states: # all of them
  - each alone # one by one
`

func TestRewriteBlock(t *testing.T) {
	want := `version: 1 # first
collectors: {c: {at: R, inlet: 100 mm, fan: {flow: 500 m3/h}}}
runs:
  a:
    from: P # the machine
    # about the pieces
    # about the hose
    # narrow
    # rigid
    pieces: [{size: 100 mm, family: hose, length: 1.25 m}, {size: 100 mm, family: dust spiral, length: 3.75 m}]
    # about the end
    to: R
tools:
  - name: t
    flow: 300 m3/h
    ports:
      - at: P
        size: 100 mm
        entry: 1
        # brass
        gate: {leak: 0 cm2}
leaks:
  - name: l
    # found by hand
    # roughly
    area: 1 cm2
    seal: no
    at: R
bleeds:
  - {name: b, at: P, size: 4 in, k: 1, leak: 0.5 cm2}

# all of them
states:
  - {name: "t: all", running: [t], open: [b], filter: clean} # one by one
`
	for _, eol := range []string{"\n", "\r\n"} {
		src := "\ufeff" + strings.ReplaceAll(blockShop, "\n", eol)
		f, err := Decode("block.yaml", []byte(src), builtin(t))
		if err != nil {
			t.Fatal(err)
		}
		out, err := f.Rewrite(Edits{
			Runs: []RunEdit{{Run: "a", Keep: true, Pieces: []network.Piece{
				piece(t, f, "hose", "100 mm", 1.25), piece(t, f, "dust spiral", "100 mm", 3.75)}}},
			Leaks:  []LeakEdit{{Leak: "l", Area: 1e-4}},
			Gates:  []GateEdit{{Tool: "t", Leak: 0}},
			Bleeds: []network.Bleed{{ID: "b", At: "P", Size: "4 in", Diameter: 0.1016, K: 1, Leak: 0.5e-4}},
			States: []network.State{{Name: "t: all", Running: []string{"t"}, Open: []string{"b"}, Filter: network.Clean}},
		})
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff("\ufeff"+strings.ReplaceAll(want, "\n", eol), string(out)); d != "" {
			t.Errorf("eol %q (-want +got):\n%s", eol, d)
		}
	}
}

// What does not read back, or names nothing, is an error and not a text.
func TestRewriteRefuses(t *testing.T) {
	f := decodeFile(t, filepath.Join(shops, "school.yaml"))
	p := piece(t, f, "hose", "100 mm", 1)
	p.Make.Family = "paper tube"
	for name, e := range map[string]Edits{
		"family":   {Runs: []RunEdit{{Run: "main 1", Pieces: []network.Piece{p}}}},
		"no run":   {Runs: []RunEdit{{Run: "main 9", Pieces: []network.Piece{p}}}},
		"no piece": {Runs: []RunEdit{{Run: "main 1"}}},
		"no leak":  {Leaks: []LeakEdit{{Leak: "roof"}}},
		"no gate":  {Gates: []GateEdit{{Run: "main 1"}}},
		"no port":  {Gates: []GateEdit{{Tool: "planer", Port: 3}}},
		"state":    {States: []network.State{{Name: "x", Running: []string{"nothing"}}}},
		"twice":    {Leaks: []LeakEdit{{Leak: "cap"}, {Leak: "cap", Area: 1e-4}}},
	} {
		if out, err := f.Rewrite(e); err == nil {
			t.Errorf("%s: no error, but\n%s", name, out)
		}
	}
	_, err := f.Rewrite(Edits{States: []network.State{{Name: "x", Running: []string{"nothing"}}}})
	if !errors.Is(err, ErrRewrite) || !errors.Is(err, ErrInvalid) {
		t.Errorf("the error does not unwrap: %v", err)
	}
}
