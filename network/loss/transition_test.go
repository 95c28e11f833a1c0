package loss

import (
	"math"
	"testing"
)

// The sudden expansion is Borda-Carnot in the reference too (computed by
// fluids 1.0.22), so it must agree to the printed digits. The sudden
// contraction there is Rennels' formula, another one.
func TestSuddenAgainstReference(t *testing.T) {
	for _, r := range reference(t, "transitions_fluids.csv", "diffuser_sharp_K1") {
		d1, d2 := r.num(t, "D1_m"), r.num(t, "D2_m")
		if k := SuddenExpansion(d1 * d1 / (d2 * d2)); !near(k, r.num(t, "value"), 1e-9) {
			t.Errorf("expansion %g to %g: K = %g, want %s", d1, d2, k, r["value"])
		}
	}
	for _, r := range reference(t, "transitions_fluids.csv", "contraction_sharp_K2") {
		d1, d2 := r.num(t, "D1_m"), r.num(t, "D2_m")
		ratio := SuddenContraction(d2*d2/(d1*d1)) / r.num(t, "value")
		t.Logf("contraction %g to %g: %.2f of Rennels", d1, d2, ratio)
		if ratio < 0.78 || ratio > 1.05 {
			t.Errorf("contraction %g to %g: %.3f of Rennels, want within 0.78 to 1.05", d1, d2, ratio)
		}
	}
}

func TestSuddenEnds(t *testing.T) {
	cases := []struct{ ratio, contraction, expansion float64 }{
		// Hand-worked from the formulas.
		{1, 0, 0}, {0, 0.5, 1}, {-1, 0.5, 1}, {2, 0, 0},
		{0.5, 0.5 * math.Pow(0.5, 0.75), 0.25}, {0.84, 0.5 * math.Pow(0.16, 0.75), 0.0256},
	}
	for _, c := range cases {
		if k := SuddenContraction(c.ratio); !near(k, c.contraction, 1e-12) {
			t.Errorf("SuddenContraction(%g) = %g, want %g", c.ratio, k, c.contraction)
		}
		if k := SuddenExpansion(c.ratio); !near(k, c.expansion, 1e-12) {
			t.Errorf("SuddenExpansion(%g) = %g, want %g", c.ratio, k, c.expansion)
		}
	}
}

// Tapers against other correlations (computed by fluids 1.0.22), difference in
// K as mean and rms, since small values make ratios meaningless. Crane's
// diffuser is the formula used here and must agree to the printed digits below 45°, where
// Crane's step of half a per cent begins.
func TestTaperAgainstCorrelations(t *testing.T) {
	bands := []struct {
		quantity, method string
		bias, rms        float64
	}{
		{"contraction_conical_K2", "Rennels", 0.006, 0.033},
		{"contraction_conical_K2", "Miller", 0.006, 0.036},
		{"contraction_conical_K2", "Idelchik", 0.034, 0.067},
		{"contraction_conical_K2", "Crane", 0.042, 0.079},
		{"diffuser_conical_K1", "Rennels", 0.017, 0.036},
		{"diffuser_conical_K1", "Miller", 0.03, 0.074},
		{"diffuser_conical_K1", "Idelchik", 0.02, 0.036},
		{"diffuser_conical_K1", "Crane", 0.0005, 0.0011},
	}
	for _, b := range bands {
		var errs []float64
		for _, r := range reference(t, "transitions_fluids.csv", b.quantity) {
			if r["method"] != b.method {
				continue
			}
			angle, want := r.num(t, "angle_deg"), r.num(t, "value")
			k := Taper(r.num(t, "D1_m"), r.num(t, "D2_m"), angle)
			errs = append(errs, k-want)
			if b.quantity == "diffuser_conical_K1" && b.method == "Crane" && angle < 45 && !near(k, want, 1e-9) {
				t.Errorf("diffuser %s to %s, %g°: K = %.10g, want %g", r["D1_m"], r["D2_m"], angle, k, want)
			}
		}
		t.Logf("%s %-8s n %2d, K difference mean %+.3f, rms %.3f", b.quantity, b.method, len(errs), mean(errs), rms(errs))
		if len(errs) == 0 || math.Abs(mean(errs)) > b.bias || rms(errs) > b.rms {
			t.Errorf("%s %s: mean %+.3f, rms %.3f of %d, want within %g and %g", b.quantity, b.method, mean(errs), rms(errs), len(errs), b.bias, b.rms)
		}
	}
}

// Published handbook values of a clear contraction, and the middles of the
// published ranges.
func TestTaperContractionValues(t *testing.T) {
	cases := []struct{ degrees, low, high float64 }{
		{15, 0.05, 0.05}, {30, 0.05, 0.05}, {40, 0.05, 0.05}, {60, 0.06, 0.08}, {90, 0.12, 0.19},
	}
	for _, c := range cases {
		if k := Taper(0.2, 0.1, c.degrees); k < c.low || k > c.high {
			t.Errorf("contraction at %g°: K = %g, want within %g to %g", c.degrees, k, c.low, c.high)
		}
	}
}

// Equal diameters cost exactly nothing; K is continuous in diameter and angle,
// never above the sudden value, and never falls with the angle.
func TestTaperShape(t *testing.T) {
	for _, to := range []float64{0.05, 0.08, 0.099, 0.1, 0.101, 0.125, 0.16, 0.3} {
		beta := min(0.1, to) / max(0.1, to)
		sudden := SuddenContraction(beta * beta)
		if to > 0.1 {
			sudden = SuddenExpansion(beta * beta)
		}
		prev := Taper(0.1, to, 1e-9)
		for deg := 0.05; deg <= 180; deg += 0.05 {
			k := Taper(0.1, to, deg)
			switch {
			case to == 0.1 && k != 0:
				t.Fatalf("equal diameters at %g°: K = %g", deg, k)
			case k > sudden*(1+1e-12):
				t.Fatalf("to %g at %g°: K = %g above sudden %g", to, deg, k, sudden)
			case k < prev*(1-1e-12):
				t.Fatalf("to %g at %g°: K falls with the angle", to, deg)
			case k-prev > 0.002:
				t.Fatalf("to %g at %g°: K steps from %g to %g", to, deg, prev, k)
			}
			prev = k
		}
		for _, deg := range []float64{0, -30, 180, 270, math.NaN()} {
			if k := Taper(0.1, to, deg); !near(k, sudden, 1e-12) {
				t.Errorf("to %g at %g°: K = %g, want the sudden %g", to, deg, k, sudden)
			}
		}
	}
	for _, deg := range []float64{10, 30, 60, 100} {
		prev := Taper(0.1, 0.05, deg)
		for to := 0.05; to < 0.2; to += 1e-6 {
			k := Taper(0.1, to, deg)
			// The sudden contraction leaves zero with a slope that grows, as
			// the power ¾ does: 2e-5 of the diameter costs at most 0.5·(4e-5)^¾.
			if math.Abs(k-prev) > 3e-4 {
				t.Fatalf("%g°: K steps from %g to %g at %g", deg, prev, k, to)
			}
			prev = k
		}
	}
}
