package loss

import (
	"math"
	"strings"
)

const (
	// OrificeCd is the discharge coefficient of a hole or gap in thin duct
	// (sharp-edged orifice, common practice).
	OrificeCd = 0.62

	// LeakExponent is the exponent of the pressure in duct surface leakage
	// (EN 12237, SMACNA).
	LeakExponent = 0.65

	// leakSmoothing is the pressure in pascal below which the leak laws turn
	// linear. At 1 Pa it changes an orifice flow by 6e-6 of itself.
	leakSmoothing = 0.005
)

// OrificeFlow returns the flow through a hole of the given area under the
// pressure difference dp, and its derivative in dp,
//
//	Q = Cd·A·√(2|Δp|/ρ)·sign Δp
//
// with |Δp|^½ replaced by |Δp|·(Δp² + δ²)^−¼, δ = 0.005 Pa, so that the
// derivative is finite at zero. The effect is below 1e-5 of the flow above
// 1 Pa. Q has the sign of dp and rises strictly with it.
func OrificeFlow(cd, area, dp, rho float64) (q, dqdp float64) {
	c := cd * area * math.Sqrt(2/rho)
	m := dp*dp + leakSmoothing*leakSmoothing
	p := c / math.Sqrt(math.Sqrt(m))
	return p * dp, p * (0.5*dp*dp + leakSmoothing*leakSmoothing) / m
}

// SurfaceLeak returns the leakage through duct walls per area of wall, and its
// derivative in dp,
//
//	Q/A = c·|Δp|^0.65·sign Δp
//
// (EN 12237; c from LeakClass or SMACNAClass), smoothed near zero like
// OrificeFlow.
func SurfaceLeak(c, dp float64) (q, dq float64) {
	m := dp*dp + leakSmoothing*leakSmoothing
	p := c * math.Exp((LeakExponent-1)/2*math.Log(m))
	return p * dp, p * (LeakExponent*dp*dp + leakSmoothing*leakSmoothing) / m
}

// leakClasses holds c of the air tightness classes in m³/s/m² at p in Pa.
var leakClasses = []struct {
	name   string
	c      float64
	source Source
}{
	{"ATC2", 0.001e-3, sourceLeak},
	{"ATC3", 0.003e-3, sourceLeak},
	{"ATC4", 0.009e-3, sourceLeak},
	{"ATC5", 0.027e-3, sourceLeak},
	{"ATC6", 0.0675e-3, sourceLeak},
}

// LeakClass returns the leakage constant c (m³/s per m² at Δp^0.65 in Pa) of
// the air tightness class "ATC2" (tightest) to "ATC6" of EN 12237, in either
// case. The result is false for any other name.
func LeakClass(name string) (c float64, ok bool) {
	for i := range leakClasses {
		if strings.EqualFold(leakClasses[i].name, name) {
			return leakClasses[i].c, true
		}
	}
	return 0, false
}

// smacnaUnit is c of SMACNA class 1: one cubic foot per minute through 100 ft²
// at one inch of water (249.08891 Pa, conventional).
var smacnaUnit = 0.3048 / (60 * 100) / math.Pow(249.08891, LeakExponent)

// SMACNAClass returns the leakage constant c (m³/s per m² at Δp^0.65 in Pa) of
// a SMACNA leakage class, CL cfm per 100 ft² at 1 inch of water: 48 for
// unsealed duct (0.0675e-3), 12, 6 or 3 for sealed round duct.
func SMACNAClass(cl float64) float64 { return cl * smacnaUnit }
