package project

import (
	"math"
	"os"
	"slices"
	"testing"

	"wyewright/network/calibrate"
)

// TestFitFindsTheFaults: with the leaks taken out of the demo shops' files the
// readings, made with another solver, ask for just those leaks: each is found, or
// named among what the readings cannot tell apart, with its size within two
// standard deviations.
func TestFitFindsTheFaults(t *testing.T) {
	for _, c := range []struct {
		file string
		// want are openings in cm² that must be found; the school's two
		// beyond its point J3 cannot be told apart and count as one.
		want map[string]float64
	}{
		{"school.yaml", map[string]float64{"opening at J3": 12}},
		{"instrument.yaml", map[string]float64{"opening at B": 26, "opening at E": 2}},
		{"coop.yaml", map[string]float64{"opening at J2": 14, "opening at J4": 18, "opening at J5": 5}},
	} {
		fsys := os.DirFS("../../../testdata/shops")
		f, cat, err := Load(fsys, c.file, c.file)
		if err != nil {
			t.Fatal(err)
		}
		p, err := New(f, cat, fsys)
		if err != nil {
			t.Fatal(err)
		}
		rs, err := p.Readings()
		if err != nil {
			t.Fatal(err)
		}
		spec := f.Spec
		spec.Leaks = nil
		r, err := calibrate.Find(t.Context(), &spec, rs, calibrate.Need{})
		if err != nil {
			t.Fatal(err)
		}
		if !r.Converged || len(r.Findings) != len(c.want) {
			t.Errorf("%s: settled %v, %d findings, want %d", c.file, r.Converged, len(r.Findings), len(c.want))
		}
		for name, cm2 := range c.want {
			found := false
			for i := range r.Findings {
				all := append([]calibrate.Estimate{r.Findings[i].Estimate}, r.Findings[i].Rivals...)
				k := slices.IndexFunc(all, func(e calibrate.Estimate) bool { return e.Name == name })
				if k >= 0 && math.Abs(all[k].Value*1e4-cm2) < max(2*all[k].Sigma*1e4, 0.3) {
					found = true
				}
			}
			if !found {
				t.Errorf("%s: %s of %g cm² is not found: %+v", c.file, name, cm2, r.Findings)
			}
		}
	}
}
