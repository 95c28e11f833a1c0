package loss

import (
	"math"
	"testing"
)

func TestGate(t *testing.T) {
	cases := [][2]float64{
		// Common practice, as documented.
		{1, 0.2}, {0.75, 1}, {0.5, 5}, {0.25, 24},
		// Hand-worked: the geometric mean half way, the inverse square below a quarter.
		{0.625, math.Sqrt(5)}, {0.375, math.Sqrt(120)}, {0.125, 96}, {0.05, 600}, {1.5, 0.2},
	}
	for _, c := range cases {
		if k := Gate(c[0]); !near(k, c[1], 1e-12) {
			t.Errorf("Gate(%g) = %g, want %g", c[0], k, c[1])
		}
	}
	if !math.IsInf(Gate(0), 1) || !math.IsInf(Gate(-1), 1) {
		t.Error("a shut gate has no coefficient")
	}
	prev := math.Inf(1)
	for x := 0.001; x < 1.1; x += 0.001 {
		k := Gate(x)
		if k > prev {
			t.Fatalf("opening the gate to %g raises K from %g to %g", x, prev, k)
		}
		if x > 0.2 && prev/k > 1.02 {
			t.Fatalf("K steps from %g to %g at %g", prev, k, x)
		}
		prev = k
	}
}

// Hand-worked: 1.6 cm² under 1000 Pa at 1.2 kg/m³ passes
// 0.62·1.6e-4·√(2000/1.2) = 4.04983e-3 m³/s.
func TestOrificeFlow(t *testing.T) {
	q, dq := OrificeFlow(OrificeCd, 1.6e-4, 1000, 1.2)
	if !near(q, 4.04983e-3, 1e-5) || !near(dq, q/2000, 1e-9) {
		t.Errorf("q = %g, dq = %g", q, dq)
	}
	// The regularisation is invisible above 1 Pa.
	for _, dp := range logSteps(1, 1e5, 50) {
		q, _ := OrificeFlow(OrificeCd, 1e-4, dp, 1.2)
		if want := OrificeCd * 1e-4 * math.Sqrt(2*dp/1.2); math.Abs(q/want-1) > 1e-5 {
			t.Errorf("at %g Pa: %g, want %g", dp, q, want)
		}
		// c·dp^0.65, the value of class ATC 5.
		s, _ := SurfaceLeak(0.027e-3, dp)
		if want := 0.027e-3 * math.Pow(dp, 0.65); math.Abs(s/want-1) > 1e-5 {
			t.Errorf("surface at %g Pa: %g, want %g", dp, s, want)
		}
	}
}

// Both laws are odd, rise strictly, stay finite at rest and carry their
// derivative.
func TestLeakShape(t *testing.T) {
	laws := map[string]func(float64) (float64, float64){
		"orifice": func(dp float64) (float64, float64) { return OrificeFlow(1, 1, dp, 1.2) },
		"surface": func(dp float64) (float64, float64) { return SurfaceLeak(1, dp) },
	}
	for name, law := range laws {
		q, dq := law(0)
		if q != 0 || math.IsInf(dq, 0) || dq <= 0 {
			t.Errorf("%s at rest: %g, slope %g", name, q, dq)
		}
		prev := 0.0
		for _, dp := range logSteps(1e-5, 1e4, 300) {
			q, dq := law(dp)
			mq, mdq := law(-dp)
			if mq != -q || mdq != dq {
				t.Fatalf("%s is not odd at %g", name, dp)
			}
			if q <= prev || dq <= 0 {
				t.Fatalf("%s does not rise at %g", name, dp)
			}
			prev = q
			checkDerivative(t, name, law, dp, 1e-5*(dp+0.005), 1e-6)
		}
	}
}

// Published classes (EN 12237) and their ties to the other scale: CL 48 is
// ATC 6, printed to three digits.
func TestLeakClasses(t *testing.T) {
	for name, want := range map[string]float64{"ATC2": 0.001e-3, "ATC3": 0.003e-3, "ATC4": 0.009e-3, "ATC5": 0.027e-3, "atc6": 0.0675e-3} {
		if c, ok := LeakClass(name); !ok || c != want {
			t.Errorf("LeakClass(%s) = %g, %t, want %g", name, c, ok, want)
		}
	}
	if c, ok := LeakClass("ATC9"); ok || c != 0 {
		t.Errorf("unknown class: %g, %t", c, ok)
	}
	if c := SMACNAClass(48); math.Abs(c-0.0675e-3) > 0.00005e-3 {
		t.Errorf("SMACNAClass(48) = %g, want 0.0675e-3", c)
	}
	// Hand-worked: at 1 in of water (249.08891 Pa) class 6 passes 6 cfm
	// through 100 ft²: 6·4.719474432e-4/9.290304 m³/s per m².
	q, _ := SurfaceLeak(SMACNAClass(6), 249.08891)
	if want := 6 * 4.719474432e-4 / 9.290304; !near(q, want, 1e-6) {
		t.Errorf("class 6 at 1 in of water: %g, want %g", q, want)
	}
}
