package catalog

import (
	"math"
	"testing"

	"wyewright/network/collapse"
)

// TestWallsMatchBores: published, outer diameters of the pipe standards, inch: a
// bore and two walls make them, to what the trade rounds.
func TestWallsMatchBores(t *testing.T) {
	outer := map[string]map[string]float64{
		"PVC S&D":   {"3 in": 3.25, "4 in": 4.215, "6 in": 6.275},
		"PVC SDR35": {"4 in": 4.215, "6 in": 6.275, "8 in": 8.40, "10 in": 10.50},
		"PVC DWV":   {"3 in": 3.5, "4 in": 4.5, "6 in": 6.625, "8 in": 8.625},
	}
	for _, f := range builtinT(t).Families() {
		for _, s := range f.Sizes {
			want, plastic := outer[f.Name][s.Name]
			if plastic != (s.Wall > 0) || plastic != (s.WallSource != "") {
				t.Errorf("%s %s: wall %v", f.Name, s.Name, s.Wall)
			}
			if got := float64(s.Diameter+2*s.Wall) / 0.0254; plastic && math.Abs(got-want) > 0.006 {
				t.Errorf("%s %s: bore and walls make %.3f in, want %.3f", f.Name, s.Name, got, want)
			}
		}
	}
}

func TestStands(t *testing.T) {
	pvc, spiral, hose := family(t, "PVC S&D"), family(t, "dust spiral"), family(t, "hose")
	d := pvc.Sizes[1].Diameter
	if l := pvc.Stands("4 in", d, 0); l != collapse.Estimate(collapse.PVC, pvc.Sizes[1].Wall, d) || l.Basis != collapse.Estimated {
		t.Errorf("sewer pipe: %v", l)
	}
	if l := spiral.Stands("100 mm", 0.1, 0); l.Known() {
		t.Errorf("spiral duct without a wall: %v", l)
	}
	if l := spiral.Stands("100 mm", 0.1, 0.0005); l != collapse.Estimate(collapse.Steel, 0.0005, 0.1) {
		t.Errorf("spiral duct with a wall: %v", l)
	}
	if l := hose.Stands("100 mm", 0.1, 0.001); l.Known() {
		t.Errorf("hose by its wall: %v", l)
	}
	stated := *spiral
	stated.Collapse = 1234
	if l := stated.Stands("100 mm", 0.1, 0.0005); l != (collapse.Limit{Suction: 1234, Basis: collapse.Stated}) {
		t.Errorf("a stated limit: %v", l)
	}
}
