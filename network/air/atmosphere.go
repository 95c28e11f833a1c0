package air

import (
	"fmt"
	"math"

	"wyewright/network/units"
)

// PressureAt returns the barometric pressure of the standard atmosphere at an
// altitude above sea level, as read from a map.
//
//	H = r·Z/(r + Z)                          r = 6356.766 km
//	p = 101325·(1 − 2.25577e−5·H)^5.25588
//
// The first line turns the geometric height Z into the geopotential height H
// that the second asks for; at 3000 m it matters by 0.02 %. The weather moves
// the barometer by some ±3 % (from memory): a reading on the spot is better. The range is
// −500 to 11000 m; anything else is an error that wraps ErrRange.
//
// Source: ISO 2533:1975 and US Standard Atmosphere 1976, equations 18 and 33a;
// the rounded constants are those of ASHRAE Handbook Fundamentals, chapter 1.
func PressureAt(altitude units.Length) (units.Pressure, error) {
	const earth = 6356766 // m, effective radius
	z := float64(altitude)
	if !(z >= -500 && z <= 11000) {
		return 0, fmt.Errorf("air: altitude %.6g m is %w (-500 to 11000 m)", z, ErrRange)
	}
	h := earth * z / (earth + z)
	return units.Pressure(float64(seaLevel) * math.Pow(1-2.25577e-5*h, 5.25588)), nil
}

// Viscosity returns the dynamic viscosity of dry air at temperature t.
//
//	μ = 1.458e−6·T^1.5/(T + 110.4)
//
// It holds from about −100 to 1600 °C and does not depend on pressure in the
// range of this package. At or below absolute zero it is 0.
//
// Source: Sutherland's formula with the constants of US Standard Atmosphere
// 1976, equation 51.
func Viscosity(t units.Temperature) units.Viscosity {
	if !(t > 0) {
		return 0
	}
	x := float64(t)
	return units.Viscosity(1.458e-6 * x * math.Sqrt(x) / (x + 110.4))
}
