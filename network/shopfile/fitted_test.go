package shopfile

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"wyewright/network"
)

// fittedShop is a shop with every factor; %s stands for the section.
const fittedShop = `version: 1
collectors:
  fan unit: {at: COL, inlet: 160 mm, filter: 200 Pa at 1000 m3/h, fan: {pressure: fan static, curve: [{flow: 0 m3/h, pressure: 2000 Pa}, {flow: 2000 m3/h, pressure: 500 Pa}]}}
runs:
  drop: {from: P, to: COL, pieces: [{size: 100 mm, family: hose, length: 2 m}, {size: 100 mm, family: dust spiral, length: 3 m}]}
tools:
  saw: {flow: 400 m3/h, ports: [{at: P, size: 100 mm, entry: 2.0, gate: {leak: 1 cm2}}]}
leaks:
  cap: {at: P, area: 2 cm2}
%s
states: [each alone]
readings: r.csv
`

const fittedSection = `fitted:
  friction: {hose: 1.2}
  roughness: {dust spiral: 0.5}
  entry: {saw: 1.5}
  shut gates: 3
  fan speed: {fan unit: 0.9}
  filter: {fan unit: 2}
`

// TestFitted: each factor works on its part, and on new duct of the family.
// Hand-worked.
func TestFitted(t *testing.T) {
	plain := decodeText(t, []byte(strings.Replace(fittedShop, "%s", "", 1)))
	f := decodeText(t, []byte(strings.Replace(fittedShop, "%s", fittedSection, 1)))
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-9*math.Abs(want) {
			t.Errorf("%s: %g, want %g", what, got, want)
		}
	}
	a, b := &plain.Spec, &f.Spec
	near("hose", b.Runs[0].Pieces[0].Make.Multiple, 1.2*a.Runs[0].Pieces[0].Make.Multiple)
	near("steel", float64(b.Runs[0].Pieces[1].Make.Roughness), 0.5*float64(a.Runs[0].Pieces[1].Make.Roughness))
	near("entry", b.Tools[0].Ports[0].Entry, 3)
	near("gate", float64(b.Tools[0].Ports[0].Gate.Leak), 3e-4)
	near("filter", b.Collectors[0].Filter.Loaded, 2*a.Collectors[0].Filter.Loaded)
	p, _ := a.Collectors[0].Curve.Pressure(0.3)
	q, _ := b.Collectors[0].Curve.Pressure(0.27)
	near("fan", q, 0.81*p)
	fresh, err := f.Piece("hose", "120 mm", 1)
	if err != nil {
		t.Fatal(err)
	}
	old, err := plain.Piece("hose", "120 mm", 1)
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(f.FittedWords(), ", "); got != "friction of hose × 1.2, roughness of dust spiral × 0.5, entry of saw × 1.5, leakage of shut gates × 3, fan speed of fan unit × 0.9, filter of fan unit × 2" {
		t.Errorf("in words: %s", got)
	}
	near("new hose", fresh.Make.Multiple, 1.2*old.Make.Multiple)
}

// TestFittedFaults: what cannot be is named with its line.
func TestFittedFaults(t *testing.T) {
	for section, want := range map[string]string{
		"fitted: {friction: {hosse: 1.1}}":       `unknown key "hosse"`,
		"fitted: {entry: {planer: 1.1}}":         `unknown key "planer"`,
		"fitted: {fan speed: {fan unit: 0}}":     "would stand still",
		"fitted: {filter: {fan unit: 21}}":       "above 20",
		"fitted: {roughness: {dust spiral: -1}}": "must not be less than 0",
		"fitted: 3":                              "must be a set of keys",
	} {
		_, err := Decode("shop.yaml", []byte(strings.Replace(fittedShop, "%s", section, 1)), builtin(t))
		if err == nil || !strings.Contains(err.Error(), want) || !strings.Contains(err.Error(), "shop.yaml:10") {
			t.Errorf("%s: %v, want %q in line 10", section, err, want)
		}
	}
}

// TestRewriteFitted: a fit on top of a fit multiplies, openings join the leaks,
// and pieces with their own make are written without the factors.
func TestRewriteFitted(t *testing.T) {
	f := decodeText(t, []byte(strings.Replace(fittedShop, "%s", fittedSection, 1)))
	more := &network.Factors{Friction: map[string]float64{"hose": 1.1}, Filter: map[string]float64{"fan unit": 0.5}}
	spec := more.Apply(f.Spec)
	pieces := spec.Runs[0].Pieces
	pieces[1].K += 2.5
	out, err := f.Rewrite(Edits{Fitted: more, Openings: []network.Leak{{ID: "opening at P", At: "P", Area: 3e-4}},
		Runs: []RunEdit{{Run: "drop", Pieces: pieces, Keep: true}}, DropReadings: true})
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"    hose: 1.32\n", "    fan unit: 1\n", "  opening at P: {at: P, area: 3 cm2, seal: yes}\n", "k: 2.5}", "# readings: r.csv"} {
		if !strings.Contains(string(out), want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
	if strings.Contains(string(out), "multiple:") {
		t.Errorf("the hose's factor was written twice:\n%s", out)
	}
	g := decodeText(t, out)
	if got, want := g.Spec.Runs[0].Pieces[0].Make.Multiple, spec.Runs[0].Pieces[0].Make.Multiple; math.Abs(got-want) > 1e-9 {
		t.Errorf("hose %g, want %g", got, want)
	}
}

// TestRewriteOpenings: in the ways that a section of leaks may be written.
func TestRewriteOpenings(t *testing.T) {
	for _, section := range []string{"", "leaks: {}\n", "leaks: {old: {at: J3, area: 1 cm2}}\n", "leaks:\n  - name: old\n    at: J3\n    area: 1 cm2\n", "leaks: []\n"} {
		src := string(decodeFile(t, filepath.Join(shops, "school.yaml")).Source())
		from := strings.Index(src, "leaks:")
		end := from + strings.Index(src[from:], "\nbleeds:")
		src = src[:from] + section + src[end+1:]
		f := decodeText(t, []byte(src))
		out, err := f.Rewrite(Edits{Openings: []network.Leak{{ID: "hole", At: "J4", Area: 2e-4}}})
		if err != nil {
			t.Errorf("%q: %v", section, err)
			continue
		}
		g := decodeText(t, out)
		if n := len(g.Spec.Leaks); n != len(f.Spec.Leaks)+1 || g.Spec.Leaks[n-1].ID != "hole" || !g.Seals[n-1].Allowed {
			t.Errorf("%q: %+v", section, g.Spec.Leaks)
		}
	}
}
