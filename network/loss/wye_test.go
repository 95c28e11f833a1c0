package loss

import (
	"math"
	"math/rand/v2"
	"testing"
)

// wyeOf builds a junction from the ratios a = Ab/Ac and s = As/Ac.
func wyeOf(a, s, degrees float64) *Wye {
	w := NewWye(a, s, 1, degrees)
	return &w
}

// levinBlend is A* at one point, written out as the formula stands.
func levinBlend(a, q float64) float64 {
	w := min(max((a-0.65)/0.35, 0), 1)
	return 1 - w*(1-max(0.9*(1-q), 0.55))
}

// The published formulas evaluated in double precision: this tests the
// arithmetic, not the physics.
func TestWyeArithmetic(t *testing.T) {
	// Each quantity with the value of ours that it must equal.
	ours := map[string]func(a, s, deg, q float64) float64{
		"recommended_branch":   func(a, s, deg, q float64) float64 { k, _ := wyeOf(a, 1, deg).Branch(q); return k },
		"recommended_straight": func(a, s, deg, q float64) float64 { k, _ := wyeOf(a, 1, deg).Through(q); return k },
		"levin_branch_const_area": func(a, s, deg, q float64) float64 {
			k, _ := wyeOf(a, 1, deg).Branch(q)
			return k / levinBlend(a, q)
		},
		"levin_branch_general_area":      func(a, s, deg, q float64) float64 { k, _ := wyeOf(a, s, deg).Branch(q); return k },
		"momentum_straight_general_area": func(a, s, deg, q float64) float64 { k, _ := wyeOf(a, s, deg).Through(q); return k },
	}
	counts := map[string]int{}
	for _, r := range reference(t, "derived_junction_formulas.csv", "") {
		f := ours[r["quantity"]]
		a, s := r.num(t, "Ab_over_Ac"), r.num(t, "Ast_over_Ac")
		deg, q, want := r.num(t, "angle_deg"), r.num(t, "Qb_over_Qc"), r.num(t, "value")
		if r["quantity"] == "bassett_K11_raw" && deg <= 60 {
			f = ours["recommended_straight"]
		}
		if f == nil {
			continue // a formula that is not used here
		}
		counts[r["quantity"]]++
		if got := f(a, s, deg, q); !near(got, want, 1e-9) {
			t.Errorf("%s %g° a %g s %g q %g: %.10g, want %.10g", r["quantity"], deg, a, s, q, got, want)
		}
	}
	for _, q := range []string{"recommended_branch", "recommended_straight", "levin_branch_const_area",
		"bassett_K11_raw", "levin_branch_general_area", "momentum_straight_general_area"} {
		t.Logf("%-32s %d rows", q, counts[q])
		if counts[q] == 0 {
			t.Errorf("no row of %s was checked", q)
		}
	}
}

// Check values derived from the published formulas, and hand-worked ends.
func TestWyeValues(t *testing.T) {
	cases := []struct {
		deg, a, q, branch, through float64
	}{
		// Derived from the formulas with 4/9 rounded to 0.44444, as printed.
		{45, 0.44444, 0.2, -0.204776, 0.152231},
		{45, 0.44444, 0.5, 0.970147, -0.141170},
		{90, 0.44444, 0.5, 1.765650, 0.525}, // 0.525 hand-worked: 0.775 − 0.25
		// q = 0 by hand: the bracket is −1, Kst is 0.
		{30, 0.3, 0, -1, 0},
		{45, 1, 0, -0.9, 0}, // A1 = 0.9
		// q = 1 by hand: 1 + 1 − 0 at 90° and a = 1, times 0.55; 1.55 − 1.
		{90, 1, 1, 1.1, 0.55},
	}
	for _, c := range cases {
		w := wyeOf(c.a, 1, c.deg)
		kb, _ := w.Branch(c.q)
		ks, _ := w.Through(c.q)
		if math.Abs(kb-c.branch) > 1e-6 || math.Abs(ks-c.through) > 1e-6 {
			t.Errorf("%g° a %.4f q %g: Kb %.6f Kst %.6f, want %.6f %.6f", c.deg, c.a, c.q, kb, ks, c.branch, c.through)
		}
	}
	// Hand-worked, growing main: 90°, a = 0.5, s = 0.5, q = 0.5 gives
	// Kb = 1 + 1 − 1 = 1 and Kst = 1 + 1 − 1 = 1.
	w := wyeOf(0.5, 0.5, 90)
	if kb, _ := w.Branch(0.5); !near(kb, 1, 1e-12) {
		t.Errorf("growing main: Kb = %g, want 1", kb)
	}
	if ks, _ := w.Through(0.5); !near(ks, 1, 1e-12) {
		t.Errorf("growing main: Kst = %g, want 1", ks)
	}
	// Only the ratios count; a main larger than the common duct is as large.
	if NewWye(0.02, 0.05, 0.04, 45) != NewWye(0.02, 0.04, 0.04, 45) || NewWye(2, 4, 4, 45) != NewWye(1, 2, 2, 45) {
		t.Error("areas must count as ratios, held at s = 1")
	}
	// Beyond [0, 1] the end holds.
	over, _ := w.Branch(1.5)
	if one, _ := w.Branch(1); over != one {
		t.Error("q above 1 must be held")
	}
}

func TestWyePanics(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("an area of zero must panic")
		}
	}()
	NewWye(0, 1, 1, 45)
}

// Measured and published junctions against ours. Up to |K| = 3 the difference
// in K is stated; beyond (small branches that carry most of the air) a few
// values would drown the rest, so that the relative difference is. The bounds
// lie slightly over what was found.
func TestWyeAgainstData(t *testing.T) {
	const limit = 3
	cases := []struct {
		file, quantity string
		eval           func(*Wye, float64) (float64, float64)
		rms, large     float64 // bounds on the rms of K and of the relative rest
	}{
		{"junction_measured_bassett2001.csv", "measured_K_branch", (*Wye).Branch, 0.115, 0},
		{"junction_measured_bassett2001.csv", "measured_K_straight", (*Wye).Through, 0.115, 0},
		{"junction_measured_wang2015.csv", "measured_K_branch", (*Wye).Branch, 0.12, 0.185},
		{"junction_measured_wang2015.csv", "measured_K_straight", (*Wye).Through, 0.20, 0},
		{"junction_idelchik1966.csv", "zeta_branch", (*Wye).Branch, 0.17, 0.015},
		{"junction_idelchik1966.csv", "zeta_straight", (*Wye).Through, 0.14, 0.062},
	}
	for _, c := range cases {
		var errs, large []float64
		for _, r := range reference(t, c.file, c.quantity) {
			a := 1.0 // the straight leg at 90° is printed for every area ratio
			if r["Ab_over_Ac"] != "" {
				a = r.num(t, "Ab_over_Ac")
			}
			k, _ := c.eval(wyeOf(a, 1, r.num(t, "angle_deg")), r.num(t, "Qb_over_Qc"))
			if want := r.num(t, "value"); math.Abs(want) > limit {
				large = append(large, k/want-1)
			} else {
				errs = append(errs, k-want)
			}
		}
		t.Logf("%s %s: %d points, mean %+.3f, rms %.3f", c.file, c.quantity, len(errs), mean(errs), rms(errs))
		if len(errs) == 0 || rms(errs) > c.rms {
			t.Errorf("%s %s: rms %.3f, want at most %g", c.file, c.quantity, rms(errs), c.rms)
		}
		if len(large) == 0 {
			continue
		}
		t.Logf("  beyond |K| = %d: %d points, mean %+.1f %%, rms %.1f %%", limit, len(large), 100*mean(large), 100*rms(large))
		if rms(large) > c.large {
			t.Errorf("%s %s: relative rms %.3f, want at most %g", c.file, c.quantity, rms(large), c.large)
		}
	}
}

// Wang's points run to Mach 0.6; in a dust duct the Mach number is below 0.1.
// The slower points must fit better than all of them do.
func TestWyeLowMach(t *testing.T) {
	for _, c := range []struct {
		quantity string
		eval     func(*Wye, float64) (float64, float64)
		rms      float64
	}{{"measured_K_branch", (*Wye).Branch, 0.10}, {"measured_K_straight", (*Wye).Through, 0.13}} {
		var errs []float64
		for _, r := range reference(t, "junction_measured_wang2015.csv", c.quantity) {
			want := r.num(t, "value")
			if r.num(t, "Mach_common") > 0.22 || math.Abs(want) > 3 {
				continue
			}
			k, _ := c.eval(wyeOf(r.num(t, "Ab_over_Ac"), 1, r.num(t, "angle_deg")), r.num(t, "Qb_over_Qc"))
			errs = append(errs, k-want)
		}
		t.Logf("%s at Mach ≤ 0.22: %d points, mean %+.3f, rms %.3f", c.quantity, len(errs), mean(errs), rms(errs))
		if len(errs) == 0 || rms(errs) > c.rms {
			t.Errorf("%s: rms %.3f, want at most %g", c.quantity, rms(errs), c.rms)
		}
	}
}

// A junction cannot create power: q·Kb + (1−q)·Kst is the loss of power over
// ½ρV_c²·Q_c. The published pair dips to −0.006 at worst.
func TestWyePower(t *testing.T) {
	worst := math.Inf(1)
	for deg := 15.0; deg <= 90; deg += 1.5 {
		for a := 0.02; a <= 1.0001; a += 0.02 {
			w := wyeOf(min(a, 1), 1, deg)
			for q := 0.0; q <= 1; q += 0.002 {
				kb, _ := w.Branch(q)
				ks, _ := w.Through(q)
				worst = min(worst, q*kb+(1-q)*ks)
			}
		}
	}
	t.Logf("least q·Kb + (1−q)·Kst = %.5f", worst)
	if worst < LeastWyePower {
		t.Errorf("power gained: %.5f, want at least %g", worst, LeastWyePower)
	}
}

// The same for a main that grows, whose formulas are the momentum balance.
func TestWyePowerGrowingMain(t *testing.T) {
	worst := math.Inf(1)
	for deg := 15.0; deg <= 90; deg += 2.5 {
		for a := 0.1; a <= 1.0001; a += 0.05 {
			for s := 0.1; s < 0.9999; s += 0.05 {
				w := wyeOf(a, s, deg)
				for q := 0.0; q <= 1; q += 0.01 {
					kb, _ := w.Branch(q)
					ks, _ := w.Through(q)
					worst = min(worst, q*kb+(1-q)*ks)
				}
			}
		}
	}
	t.Logf("least q·Kb + (1−q)·Kst with a growing main = %.5f", worst)
	if worst < LeastWyePower {
		t.Errorf("power gained: %.5f, want at least %g", worst, LeastWyePower)
	}
}

// The branch correction is continuous in q, and in the area ratio through the
// sizes where the handbooks step.
func TestWyeContinuous(t *testing.T) {
	for _, deg := range []float64{30, 45, 60, 75, 90} {
		for a := 0.2; a < 1.1; a += 1e-4 {
			for _, q := range []float64{0.1, 0.3, 1 - 0.55/0.9, 0.6} {
				k0, _ := wyeOf(a, 1, deg).Branch(q)
				k1, _ := wyeOf(a+1e-4, 1, deg).Branch(q)
				if math.Abs(k1-k0) > 0.02 {
					t.Fatalf("%g°: Kb steps from %g to %g at a = %g, q = %g", deg, k0, k1, a, q)
				}
			}
			w := wyeOf(a, 1, deg)
			k0, _ := w.Branch(math.Nextafter(w.split, 0))
			if k1, _ := w.Branch(w.split); !near(k0, k1, 1e-12) {
				t.Fatalf("%g° a %g: Kb steps from %g to %g at the split", deg, a, k0, k1)
			}
		}
	}
	// The straight leg through 60° and 90°.
	for _, edge := range []float64{60, 90} {
		for q := 0.0; q <= 1; q += 0.1 {
			k0, _ := wyeOf(0.5, 1, edge-1e-9).Through(q)
			k1, _ := wyeOf(0.5, 1, edge+1e-9).Through(q)
			if math.Abs(k1-k0) > 1e-7 {
				t.Errorf("Kst steps from %g to %g at %g°, q %g", k0, k1, edge, q)
			}
		}
	}
}

// A wyeCase is a junction of any kind (constant or growing main, every regime
// of the branch correction, every angle) and an interval of flow ratios.
type wyeCase struct {
	a, s, degrees, q0, q1 float64
	w                     Wye
}

// wyeCases draws n cases from a fixed seed.
func wyeCases(n int) []wyeCase {
	rng := rand.New(rand.NewPCG(1, 1))
	cases := make([]wyeCase, n)
	for i := range cases {
		c := wyeCase{a: 0.05 + 1.15*rng.Float64(), s: 1, degrees: 120 * rng.Float64(), q0: rng.Float64(), q1: rng.Float64()}
		switch i % 4 {
		case 1:
			c.s = 0.05 + 0.95*rng.Float64()
		case 2:
			c.a = 0.6 + 0.5*rng.Float64() // where the branch is a cubic
		case 3:
			c.q1 = c.q0 + 0.01*rng.Float64() // a short interval
		}
		c.w = *wyeOf(c.a, c.s, c.degrees)
		cases[i] = c
	}
	return cases
}

func TestWyeDerivative(t *testing.T) {
	for _, c := range wyeCases(4000) {
		q := 0.001 + 0.998*c.q0
		if math.Abs(q-c.w.split) < 1e-4 {
			continue // the branch has a kink there
		}
		for _, leg := range []func(float64) (float64, float64){c.w.Branch, c.w.Through} {
			// The size of the coefficients, up to 400 for a small branch, is the
			// unit of the rounding error.
			scale := 1 + 0x1p47*(c.w.low.slack()+c.w.through.slack())
			if got, want := derivatives(leg, q, 1e-5); math.Abs(got-want) > 1e-8*scale {
				t.Fatalf("%+v at %g: derivative %g, finite difference %g", c, q, got, want)
			}
		}
	}
}

// The proofs of the search rest on this: no K outside the enclosure, and no
// slack in it beyond 1e-9.
func TestWyeRangeEncloses(t *testing.T) {
	for _, c := range append(wyeCases(2000), wyeCase{a: 1, s: 1, degrees: 45, q1: 1, w: *wyeOf(1, 1, 45)}) {
		checkEnclosure(t, c, c.w.Branch, c.w.BranchRange)
		checkEnclosure(t, c, c.w.Through, c.w.ThroughRange)
	}
}

// A stationary point inside an interval must be found: both cases have an
// extreme away from both ends (checked by the sign of the slope).
func TestWyeRangeInside(t *testing.T) {
	w := wyeOf(1, 1, 45)
	for _, leg := range []struct {
		k      func(float64) (float64, float64)
		bounds func(float64, float64) (float64, float64)
		q0, q1 float64
	}{{w.Through, w.ThroughRange, 0, 0.6}, {w.Branch, w.BranchRange, 0.3, 1}} {
		_, d0 := leg.k(leg.q0)
		_, d1 := leg.k(leg.q1)
		k0, _ := leg.k(leg.q0)
		k1, _ := leg.k(leg.q1)
		lo, hi := leg.bounds(leg.q0, leg.q1)
		if d0*d1 >= 0 {
			t.Errorf("the case has no turning point: slopes %g and %g", d0, d1)
		}
		if hi < max(k0, k1)+1e-4 && lo > min(k0, k1)-1e-4 {
			t.Errorf("range [%g, %g] is that of the ends alone", lo, hi)
		}
	}
}

// checkEnclosure samples K densely on the interval of the case, at the kink,
// and finely about the extremes found, and compares with the stated range.
func checkEnclosure(t *testing.T, c wyeCase, k func(float64) (float64, float64), bounds func(float64, float64) (float64, float64)) {
	t.Helper()
	lo, hi := bounds(c.q0, c.q1)
	if l2, h2 := bounds(c.q1, c.q0); l2 != lo || h2 != hi {
		t.Fatalf("%+v: the order of the ends matters", c)
	}
	a, b := unit(min(c.q0, c.q1)), unit(max(c.q0, c.q1))
	least, most, atLeast, atMost := math.Inf(1), math.Inf(-1), a, a
	try := func(q float64) {
		q = min(max(q, a), b)
		v, _ := k(q)
		if v < lo || v > hi {
			t.Fatalf("%+v: K(%v) = %v outside [%v, %v]", c, q, v, lo, hi)
		}
		if v < least {
			least, atLeast = v, q
		}
		if v > most {
			most, atMost = v, q
		}
	}
	const n = 500
	for i := 0; i <= n; i++ {
		try(a + (b-a)*float64(i)/n)
	}
	try(c.w.split)
	for width := (b - a) / n; width > 1e-9; width /= 50 {
		low, high := atLeast, atMost
		for i := -50; i <= 50; i++ {
			try(low + width*float64(i)/50)
			try(high + width*float64(i)/50)
		}
	}
	scale := max(1, math.Abs(lo), math.Abs(hi))
	if least-lo > 1e-9*scale || hi-most > 1e-9*scale {
		t.Fatalf("%+v: range [%v, %v], sampled [%v, %v]", c, lo, hi, least, most)
	}
}
