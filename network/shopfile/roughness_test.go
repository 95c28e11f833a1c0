package shopfile

import (
	"math"
	"path/filepath"
	"slices"
	"testing"

	"wyewright/network"
	"wyewright/network/units"
)

// TestRoughnessInAPrediction says what the roughness of steel duct does to the
// answer for a whole shop: with the one that fits Huebscher's measurements of
// 1947 (0.0074 mm) the tools of the demo shops get this much more air than with
// the default of 0.09 mm. README.md states the figures.
func TestRoughnessInAPrediction(t *testing.T) {
	for _, c := range []struct {
		file  string
		least float64 // per cent more air, over all states and running tools
		most  float64
	}{{"school.yaml", -0.7, 4}, {"coop.yaml", 0.5, 3.5}, {"worktop.yaml", 0, 4}} {
		f := decodeFile(t, filepath.Join("../../testdata/shops", c.file))
		least, most := math.Inf(1), math.Inf(-1)
		for _, st := range f.States {
			var flow [2]map[int]float64
			for k, spec := range []network.Spec{withRoughness(f.Spec, 0.09e-3), withRoughness(f.Spec, 0.0074e-3)} {
				n, err := network.New(spec)
				if err != nil {
					t.Fatal(err)
				}
				st.Collector = ""
				sol, err := network.Solve(t.Context(), n, st)
				if err != nil {
					t.Fatal(err)
				}
				flow[k] = map[int]float64{}
				for i, tool := range sol.Tools {
					if tool.Running {
						flow[k][i] = float64(tool.Flow)
					}
				}
			}
			for i := range flow[0] {
				more := 100 * (flow[1][i]/flow[0][i] - 1)
				least, most = min(least, more), max(most, more)
			}
		}
		t.Logf("%s: %.2f to %.2f %% more air", c.file, least, most)
		if least < c.least || most > c.most || most < c.most/2 {
			t.Errorf("%s: %.2f to %.2f %% more air, want within %g to %g", c.file, least, most, c.least, c.most)
		}
	}
}

// withRoughness is a shop with another roughness of all its rigid duct, and
// Colebrook's law.
func withRoughness(s network.Spec, roughness units.Length) network.Spec {
	s.Friction = network.Colebrook
	s.Runs = slices.Clone(s.Runs)
	for i := range s.Runs {
		r := &s.Runs[i]
		r.Pieces = slices.Clone(r.Pieces)
		for k := range r.Pieces {
			if m := &r.Pieces[k].Make; !m.Hose() {
				m.Roughness = roughness
			}
		}
	}
	return s
}
