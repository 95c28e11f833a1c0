package loss

import (
	"math"
	"testing"
)

// roughnesses spans the range Colebrook-White was made for.
var roughnesses = []float64{0, 1e-6, 3e-5, 1e-4, 4.5e-4, 9e-4, 3e-3, 0.01, 0.03, 0.05}

// Expected values computed by fluids 1.0.22 (Colebrook by arbitrary precision,
// Clamond by iteration): Friction must reproduce both.
func TestFrictionColebrook(t *testing.T) {
	for _, method := range []string{"Colebrook", "Clamond"} {
		for _, r := range reference(t, "friction_factor.csv", "darcy_friction_factor_"+method) {
			re, rel, want := r.num(t, "Re"), r.num(t, "eD"), r.num(t, "value")
			// The table prints ten decimals, so that 1e-9 relative needs their
			// half unit on top.
			if f, _ := Friction(re, rel); math.Abs(f-want) > 1e-9*want+0.5e-10 {
				t.Errorf("Friction(%g, %g) = %.12g, want %.12g (%s)", re, rel, f, want, method)
			}
		}
	}
}

// Many correlations side by side (computed by fluids 1.0.22): an outlier shows
// at once. Tsal's short form is the known one, low by up to a fifth on rough
// walls, and is not used here.
func TestFrictionSpread(t *testing.T) {
	bands := []struct {
		method   string
		low, top float64 // of the ratio correlation/Friction
	}{
		{"Haaland", 0.98, 1.03},
		{"Serghides_1", 0.9999, 1.0001},
		{"Swamee_Jain_1976", 0.97, 1.04},
		{"Churchill_1977", 0.97, 1.04},
		{"Tsal_1989", 0.79, 1.03},
	}
	for _, b := range bands {
		low, top := math.Inf(1), math.Inf(-1)
		for _, r := range reference(t, "friction_factor.csv", "darcy_friction_factor_"+b.method) {
			f, _ := Friction(r.num(t, "Re"), r.num(t, "eD"))
			ratio := r.num(t, "value") / f
			low, top = min(low, ratio), max(top, ratio)
		}
		t.Logf("%-17s %.4f to %.4f of Friction", b.method, low, top)
		if low < b.low || top > b.top {
			t.Errorf("%s: ratio %.4f to %.4f, want within %g to %g", b.method, low, top, b.low, b.top)
		}
	}
}

// Computed by fluids 1.0.22. Its Swamee-Jain writes 5.74 as 6.97^0.9 = 5.7405,
// its Churchill agrees to the printed digits.
func TestOtherCorrelations(t *testing.T) {
	for _, r := range reference(t, "friction_factor.csv", "darcy_friction_factor_Swamee_Jain_1976") {
		re, rel, want := r.num(t, "Re"), r.num(t, "eD"), r.num(t, "value")
		if f, _ := SwameeJain(re, rel); !near(f, want, 1e-4) {
			t.Errorf("SwameeJain(%g, %g) = %g, want %g", re, rel, f, want)
		}
	}
	for _, r := range reference(t, "friction_factor.csv", "darcy_friction_factor_Churchill_1977") {
		re, rel, want := r.num(t, "Re"), r.num(t, "eD"), r.num(t, "value")
		if f := Churchill(re, rel); !near(f, want, 1e-6) {
			t.Errorf("Churchill(%g, %g) = %g, want %g", re, rel, f, want)
		}
	}
	// Hand-worked: laminar flow is 64/Re in all three.
	for _, re := range []float64{1e-3, 1, 100, 1000} {
		f, _ := SwameeJain(re, 0)
		if !near(f, 64/re, 1e-12) || !near(Churchill(re, 0), 64/re, 1e-4) {
			t.Errorf("laminar at Re %g: Swamee-Jain %g, Churchill %g, want %g", re, f, Churchill(re, 0), 64/re)
		}
	}
}

// Computed by fluids 1.0.22 (one_phase_dP).
func TestFrictionPressure(t *testing.T) {
	for _, r := range reference(t, "friction_dp.csv", "dp_per_m") {
		d, rho := r.num(t, "D_m"), r.num(t, "rho")
		v := r.num(t, "Q_m3s") / (math.Pi / 4 * d * d)
		re := rho * v * d / r.num(t, "mu")
		f, _ := Friction(re, r.num(t, "roughness_m")/d)
		got := f * r.num(t, "L_m") / d * rho * v * v / 2
		if want := r.num(t, "value"); !near(got, want, 1e-9) {
			t.Errorf("D %g: %g Pa/m, want %g", d, got, want)
		}
		// The same through the form without a pole.
		g, _ := FrictionFlow(re, r.num(t, "roughness_m")/d)
		if alt := g * r.num(t, "mu") * v / (2 * d * d); !near(alt, got, 1e-12) {
			t.Errorf("D %g: FrictionFlow gives %g Pa/m, Friction %g", d, alt, got)
		}
	}
}

// The residual of Colebrook's own equation, which needs no reference.
func TestColebrookResidual(t *testing.T) {
	var worst float64
	for _, re := range logSteps(LaminarUpTo, 1e9, 2000) {
		for _, rel := range append(roughnesses, 0.2, 1) {
			f, _ := colebrook(re, rel)
			x := 1 / math.Sqrt(f)
			worst = max(worst, math.Abs(1+2*math.Log10(rel/3.7+2.51*x/re)/x))
		}
	}
	t.Logf("worst relative residual %.2g", worst)
	if worst > 1e-14 {
		t.Errorf("Colebrook solved to %.2g only", worst)
	}
}

func TestFrictionMonotone(t *testing.T) {
	for _, rel := range roughnesses {
		prevF, prevP, prevRe, prevG := math.Inf(1), 0.0, 0.0, 0.0
		grid := append(logSteps(1e-3, LaminarUpTo, 2000), logSteps(LaminarUpTo*1.0001, TurbulentFrom, 4000)...)
		for _, re := range append(grid, logSteps(TurbulentFrom*1.0001, 1e8, 6000)...) {
			f, df := Friction(re, rel)
			outside := re <= LaminarUpTo || prevRe >= TurbulentFrom
			if outside && (f > prevF || df > 0) {
				t.Fatalf("ε/D %g: f rises with Re at %g", rel, re)
			}
			if p := f * re * re; p <= prevP || 2*f+re*df <= 0 {
				t.Fatalf("ε/D %g: pressure f·Re² does not rise at Re %g", rel, re)
			} else {
				prevP = p
			}
			g, dg := FrictionFlow(re, rel)
			if !near(g, f*re, 1e-12) || g < prevG*(1-1e-12) || dg < 0 {
				t.Fatalf("ε/D %g: f·Re is wrong or falls at Re %g", rel, re)
			}
			prevF, prevRe, prevG = f, re, g
		}
	}
	// Rougher never loses less.
	for _, re := range logSteps(100, 1e8, 500) {
		prev := 0.0
		for _, rel := range roughnesses {
			f, _ := Friction(re, rel)
			if f < prev {
				t.Fatalf("Re %g: f falls with roughness at ε/D %g", re, rel)
			}
			prev = f
		}
	}
}

// f and its derivative must meet at both ends of the blend.
func TestFrictionContinuous(t *testing.T) {
	for _, law := range []func(float64, float64) (float64, float64){Friction, SwameeJain} {
		for _, rel := range roughnesses {
			for _, edge := range []float64{LaminarUpTo, TurbulentFrom} {
				f0, d0 := law(math.Nextafter(edge, 0), rel)
				f1, d1 := law(edge, rel)
				f2, d2 := law(math.Nextafter(edge, 1e9), rel)
				if !near(f0, f1, 1e-12) || !near(f2, f1, 1e-12) {
					t.Errorf("f steps at Re %g, ε/D %g", edge, rel)
				}
				if math.Abs(d0-d1) > 1e-12 || math.Abs(d2-d1) > 1e-12 {
					t.Errorf("df/dRe steps at Re %g, ε/D %g: %g %g %g", edge, rel, d0, d1, d2)
				}
			}
		}
	}
}

func TestFrictionDerivative(t *testing.T) {
	for _, rel := range roughnesses {
		for _, re := range []float64{10, 1500, 2400, 2900, 3500, 3990, 4100, 2e4, 3e5, 1e7} {
			// Scaled by Re so that the tolerance means the same everywhere.
			scaled := func(law func(float64, float64) (float64, float64)) func(float64) (float64, float64) {
				return func(u float64) (float64, float64) {
					f, df := law(u*re, rel)
					return f, df * re
				}
			}
			checkDerivative(t, "Friction", scaled(Friction), 1, 1e-5, 1e-6)
			checkDerivative(t, "SwameeJain", scaled(SwameeJain), 1, 1e-5, 1e-6)
			checkDerivative(t, "FrictionFlow", scaled(FrictionFlow), 1, 1e-5, 1e-6)
		}
	}
}

// At rest everything stays finite: f·Q² is zero, f·Re is 64 (hand-worked).
func TestFrictionAtRest(t *testing.T) {
	for _, re := range []float64{0, -5, math.NaN(), LeastReynolds / 2} {
		f, df := Friction(re, 1e-3)
		if f != 64/LeastReynolds || df != 0 {
			t.Errorf("Friction(%g) = %g, %g", re, f, df)
		}
		if g, dg := FrictionFlow(re, 1e-3); g != 64 || dg != 0 {
			t.Errorf("FrictionFlow(%g) = %g, %g, want 64, 0", re, g, dg)
		}
		if c := Churchill(re, 1e-3); !near(c, 64/LeastReynolds, 1e-6) {
			t.Errorf("Churchill(%g) = %g", re, c)
		}
	}
	a, _ := Friction(1e5, -1)
	if b, _ := Friction(1e5, 0); a != b {
		t.Error("a negative roughness must count as smooth")
	}
}

// Published exhaust practice: Hf = a·V^b/Q^c velocity pressures per foot. It
// reads 1.12 times Colebrook with 0.09 mm, a known offset; the band says how
// constant that offset is over the table.
func TestFrictionAgainstExhaustPractice(t *testing.T) {
	constant := map[string]float64{}
	for _, r := range reference(t, "friction_loeffler_constants.csv", "Hf_constant") {
		constant[r["material"]+" "+r["constant"]] = r.num(t, "value")
	}
	const fpm, cfm, foot = 0.3048 / 60, 0.3048 * 0.3048 * 0.3048 / 60, 0.3048
	low, top := math.Inf(1), 0.0
	for _, r := range reference(t, "derived_friction_loeffler.csv", "Hf_eval") {
		m, vf, qc := r["material"], r.num(t, "V_fpm"), r.num(t, "Q_cfm")
		hf := constant[m+" a"] * math.Pow(vf, constant[m+" b"]) / math.Pow(qc, constant[m+" c"])
		if !near(hf, r.num(t, "value"), 1e-9) {
			t.Errorf("%s V %g Q %g: %.10g, want %s", m, vf, qc, hf, r["value"])
		}
		if m != "galvanised" {
			continue
		}
		v := vf * fpm
		d := math.Sqrt(qc * cfm / v * 4 / math.Pi)
		f, _ := Friction(1.2014*v*d/1.825e-5, 0.09e-3/d)
		ratio := hf / (f * foot / d)
		low, top = min(low, ratio), max(top, ratio)
	}
	t.Logf("exhaust practice reads %.3f to %.3f of Colebrook at 0.09 mm", low, top)
	if low < 1.10 || top > 1.14 {
		t.Errorf("offset %.3f to %.3f, want within 1.10 to 1.14", low, top)
	}
}

// Measured round galvanised duct, 8 in (Huebscher 1947, open data, CC-BY):
// handbook roughness is conservative, and by how much is stated.
func TestFrictionMeasured(t *testing.T) {
	cases := []struct {
		mm        float64
		low, high float64 // band of the mean error
	}{
		{0.09, 0.14, 0.18},
		{0.0074, -0.02, 0.02},
	}
	for _, c := range cases {
		var errs []float64
		for _, r := range reference(t, "friction_measured_1947.csv", "measured_friction_factor") {
			f, _ := Friction(r.num(t, "Re"), c.mm*1e-3/(r.num(t, "D_in")*0.0254))
			errs = append(errs, f/r.num(t, "value")-1)
		}
		t.Logf("ε = %.4f mm: mean error %+.1f %%, rms %.1f %% of %d measured factors", c.mm, 100*mean(errs), 100*rms(errs), len(errs))
		if m := mean(errs); m < c.low || m > c.high {
			t.Errorf("ε = %g mm: mean error %.3f, want within %g to %g", c.mm, m, c.low, c.high)
		}
	}
}

// Published (Hawthorne & von Helms 1963): pitch 8, 10, 12 mm at 100 mm.
func TestHawthorneHose(t *testing.T) {
	for _, c := range [][2]float64{{0.008, 0.0554}, {0.010, 0.0675}, {0.012, 0.0790}} {
		if f := HawthorneHose(0.1, c[0]); math.Abs(f-c[1]) > 0.00005 {
			t.Errorf("pitch %g: f = %.5f, want %.4f", c[0], f, c[1])
		}
	}
	if HawthorneHose(0, 0.01) != 0 || HawthorneHose(0.1, 0) != 0 {
		t.Error("a missing size must give 0")
	}
	// As a multiple of smooth pipe at a usual flow it must fall in the band.
	smooth, _ := Friction(1.3e5, 0)
	for _, pitch := range []float64{0.006, 0.008, 0.010, 0.012} {
		if m := HawthorneHose(0.1, pitch) / smooth; m < HoseMultipleLow || m > HoseMultipleHigh {
			t.Errorf("pitch %g: %.2f times smooth, outside %d to %d", pitch, m, HoseMultipleLow, HoseMultipleHigh)
		}
	}
}

// FrictionNear from a guess agrees with Friction to the stated 1e-10, whatever
// the guess, and to rounding once it is asked again at the same place.
func TestFrictionNear(t *testing.T) {
	for _, re := range []float64{4000, 1e4, 1e5, 3e6} {
		for _, rel := range []float64{0, 1e-4, 0.01, 0.05} {
			want, slope := Friction(re, rel)
			for _, off := range []float64{-0.5, -0.05, -0.0051, -0.0049, 1e-4, 0.0049, 0.05, 0.4} {
				root := 1/math.Sqrt(want) + off
				f, df := FrictionNear(re, rel, &root)
				if math.Abs(f/want-1) > 1e-10 || math.Abs(df/slope-1) > 1e-8 {
					t.Errorf("Re %g, ε/D %g, guess off by %g: f = %.15g and %g, want %.15g and %g", re, rel, off, f, df, want, slope)
				}
				if f, _ = FrictionNear(re, rel, &root); math.Abs(f/want-1) > 1e-14 {
					t.Errorf("asked again: %.16g, want %.16g", f, want)
				}
			}
		}
	}
}
