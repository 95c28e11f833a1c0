package shopfile

import (
	"errors"
	"math"
	"path/filepath"
	"strings"
	"testing"
)

// TestSet: one value changed, the rest as it was. Hand-worked.
func TestSet(t *testing.T) {
	f := decodeFile(t, filepath.Join(shops, "school.yaml"))
	set := func(name, key, value string) *File {
		t.Helper()
		g, err := f.Set(name, key, value)
		if err != nil {
			t.Fatalf("%s.%s=%s: %v", name, key, value, err)
		}
		return g
	}
	run := func(g *File, name string) int {
		for i := range g.Spec.Runs {
			if g.Spec.Runs[i].ID == name {
				return i
			}
		}
		return -1
	}
	g := set("main 2", "size", "180 mm")
	i := run(g, "main 2")
	if r := g.Spec.Runs[i]; r.Pieces[0].Size != "180 mm" || !r.New || r.K.Junction != nil || math.Abs(float64(r.Pieces[0].Length-f.Spec.Runs[i].Pieces[0].Length)) > 1e-9 {
		t.Errorf("%+v", r)
	}
	if differs(&f.Spec, &g.Spec) != `run "main 2"` {
		t.Errorf("more than the run differs: %s", differs(&f.Spec, &g.Spec))
	}
	if g := set("planer hose", "family", "dust spiral"); g.Spec.Runs[run(g, "planer hose")].Pieces[0].Make.Hose() {
		t.Error("the hose is still a hose")
	}
	if g := set("cap", "area", "2.5 cm2"); math.Abs(float64(g.Spec.Leaks[0].Area)-2.5e-4) > 1e-12 {
		t.Errorf("%+v", g.Spec.Leaks[0])
	}
	if g := set("planer", "flow", "900 m3/h"); math.Abs(float64(g.Spec.Tools[0].Flow)-0.25) > 1e-12 {
		t.Errorf("%+v", g.Spec.Tools[0])
	}
	if g := set("planer hose", "pieces", "[{size: 120 mm, family: hose, length: 1 m}]"); len(g.Spec.Runs[run(g, "planer hose")].Pieces) != 1 {
		t.Error("the pieces were not set")
	}
	annex := decodeFile(t, filepath.Join(shops, "annex.yaml"))
	if g, err := annex.Set("yard", "cost", "2"); err != nil || g.Corridors[3].Cost != 2 {
		t.Errorf("the corridor: %v", err)
	}
	if string(f.Source()) == string(g.Source()) || len(f.Spec.Runs) != len(g.Spec.Runs) {
		t.Error("the file that was set from has changed")
	}
}

// TestSetFaults: requests that cannot be.
func TestSetFaults(t *testing.T) {
	f := decodeFile(t, filepath.Join(shops, "school.yaml"))
	for _, c := range []struct{ name, key, value, want, hint string }{
		{"main 22", "size", "180 mm", "there is no run", `did you mean "main 2"?`},
		{"main 2", "size", "183 mm", `no such size: dust spiral has no "183 mm" (nearest: 180 mm)`, ""},
		{"main 2", "family", "oak", `unknown family "oak"`, ""},
		{"", "size", "1", "are needed", "main 2.size=160 mm"},
		{"main 2", "colour", "red", `unknown key "colour"`, ""},
		{"planer", "flow", "fast", "flow", ""},
		{"planer", "flow", "1 m3/h}, x: {", "", ""},
	} {
		_, err := f.Set(c.name, c.key, c.value)
		var s *SetError
		if err == nil || !strings.Contains(err.Error(), c.want) || c.hint != "" && (!errors.As(err, &s) || !strings.Contains(s.Hint, c.hint)) {
			t.Errorf("%s.%s=%s: %v", c.name, c.key, c.value, err)
		}
	}
}
