package collapse_test

import (
	"math"
	"testing"

	"wyewright/network/collapse"
	"wyewright/network/units"
)

func near(t *testing.T, what string, got, want units.Pressure, rel float64) {
	t.Helper()
	if math.Abs(float64(got/want)-1) > rel {
		t.Errorf("%s: %g Pa, want %g Pa", what, float64(got), float64(want))
	}
}

// TestBucklingByHand is hand-worked. A ring of width 1 under outer pressure p
// buckles at p = 3EI/R³ with I = t³/12, which is E/4·(t/R)³ = 2E·(t/D)³; a long
// tube cannot contract across, so that E/(1−ν²) takes the place of E.
//
// 0.5 mm of steel at 199.5 mm inside: t/D = 1/400, (t/D)³ = 1.5625e-8;
// 2·200e9/0.91 = 4.395604e11; p = 6868.13 Pa, a third of it 2289.38 Pa.
func TestBucklingByHand(t *testing.T) {
	near(t, "0.5 mm at 199.5 mm", collapse.Buckling(collapse.Steel, 0.0005, 0.1995), 6868.13, 1e-6)
	l := collapse.Estimate(collapse.Steel, 0.0005, 0.1995)
	near(t, "limit", l.Suction, 2289.38, 1e-5)
	if l.Basis != collapse.Estimated || !l.Holds(2289) || l.Holds(2290) {
		t.Errorf("limit %v: basis or comparison wrong", l)
	}
	// Sewer pipe of 4.065 in with walls of 0.075 in: t/D = 0.075/4.14,
	// cubed 5.94535e-6; 2·2.7579028e9/(1−0.1444) = 6.446710e9; p = 38328 Pa.
	near(t, "sewer pipe", collapse.Buckling(collapse.PVC, 0.075*0.0254, 4.065*0.0254), 38328, 1e-4)
}

// TestBucklingAgainstEigenvalue derives the pressure anew: of the smallest
// eigenvalue of a ring of beams, p·R³/EI = n²−1 for n waves, is 3 for two.
func TestBucklingAgainstEigenvalue(t *testing.T) {
	const wall, inner = 0.001, 0.3
	least := math.Inf(1)
	r := (inner + wall) / 2
	stiff := 200e9 / (1 - 0.09) * wall * wall * wall / 12
	for n := 2.0; n < 9; n++ {
		least = math.Min(least, (n*n-1)*stiff/(r*r*r))
	}
	near(t, "ring", collapse.Buckling(collapse.Steel, wall, inner), units.Pressure(least), 1e-12)
}

// TestWideThinIsWeak: twice as wide is eight times as weak, half the wall too.
func TestWideThinIsWeak(t *testing.T) {
	a := collapse.Buckling(collapse.Steel, 0.0005, 0.1)
	if b := collapse.Buckling(collapse.Steel, 0.0005, 0.2); b > a/7 || b < a/9 {
		t.Errorf("twice as wide: %g to %g Pa", float64(a), float64(b))
	}
	if b := collapse.Buckling(collapse.Steel, 0.00025, 0.1); b > a/7 || b < a/9 {
		t.Errorf("half the wall: %g to %g Pa", float64(a), float64(b))
	}
}

func TestUnknownHoldsNothing(t *testing.T) {
	for _, l := range []collapse.Limit{{}, collapse.Estimate(collapse.Steel, 0, 0.1), collapse.Estimate(collapse.Steel, 0.001, 0),
		collapse.Estimate(collapse.Steel, units.Length(math.NaN()), 0.1)} {
		if l.Known() || l.Holds(0) {
			t.Errorf("%v holds against something", l)
		}
	}
}

// TestParseWall: published, galvanised sheet gauge, 26 = 0.0217 in.
func TestParseWall(t *testing.T) {
	for text, want := range map[string]float64{"26 ga": 0.0217 * 0.0254, "26 gauge": 0.0217 * 0.0254, "24 Gage": 0.0276 * 0.0254, "30GA": 0.0157 * 0.0254, "0.5 mm": 0.0005} {
		if v, err := collapse.ParseWall(text); err != nil || math.Abs(float64(v)-want) > 1e-9 {
			t.Errorf("%q: %v, %v; want %g", text, v, err, want)
		}
	}
	for _, text := range []string{"25 ga", "ga", "0.5", "thick ga"} {
		if v, err := collapse.ParseWall(text); err == nil {
			t.Errorf("%q is taken for %v", text, v)
		}
	}
}
