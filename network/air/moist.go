package air

import (
	"errors"
	"fmt"
	"math"

	"wyewright/network/units"
)

// ErrRange is wrapped by every error of this package: an argument is outside
// the range in which the formula holds.
var ErrRange = errors.New("out of range")

// Constants of the ASHRAE psychrometric relations (ASHRAE Handbook
// Fundamentals 2017, chapter 1; the digits as coded in PsychroLib 2.5.0).
const (
	gasConstant = 287.042  // J/(kg·K), dry air
	massRatio   = 0.621945 // water vapour to dry air
	volumeRatio = 1.607858 // its inverse, as printed in the volume equation
	triplePoint = 273.16   // K
)

// Moist returns the state of moist air at temperature t, absolute pressure p
// and relative humidity rh.
//
//	pv = rh·ps(t)
//	W  = 0.621945·pv/(p − pv)
//	v  = 287.042·T·(1 + 1.607858·W)/p      (m³ per kg of dry air)
//	ρ  = (1 + W)/v
//
// The range is −60 to 80 °C, 30 to 120 kPa and 0 to 100 % humidity; anything
// else is an error that wraps ErrRange. CIPM-2007 (Picard et al. 2008,
// Metrologia 45:149), which also knows the compressibility of air, gives
// densities 0.03 to 0.05 % higher from 5 to 35 °C.
// The viscosity is that of dry air; in a workshop humidity lowers it by less
// than 1 % (from memory).
//
// Source: ASHRAE Handbook Fundamentals 2017, chapter 1, equations 20 and 26,
// as coded in PsychroLib 2.5.0.
func Moist(t units.Temperature, p units.Pressure, rh units.Ratio) (State, error) {
	switch c := t.Celsius(); {
	case !(c >= -60 && c <= 80):
		return State{}, fmt.Errorf("air: temperature %.4g C is %w (-60 to 80 C)", c, ErrRange)
	case !(p >= minPressure && p <= maxPressure):
		return State{}, fmt.Errorf("air: absolute pressure %.6g Pa is %w (%g to %g Pa)", float64(p), ErrRange, float64(minPressure), float64(maxPressure))
	case !(rh >= 0 && rh <= 1):
		return State{}, fmt.Errorf("air: relative humidity %.4g %% is %w (0 to 100 %%)", 100*float64(rh), ErrRange)
	}
	ps, err := SaturationPressure(t)
	if err != nil {
		return State{}, err
	}
	pv := float64(rh) * float64(ps)
	// At 80 °C and 30 kPa water boils: there is no such moist air.
	if pv >= float64(p) {
		return State{}, fmt.Errorf("air: vapour pressure %.6g Pa is %w (it reaches the air pressure %.6g Pa)", pv, ErrRange, float64(p))
	}
	w := massRatio * pv / (float64(p) - pv)
	v := gasConstant * float64(t) * (1 + volumeRatio*w) / float64(p)
	return State{
		Density:     units.Density((1 + w) / v),
		Viscosity:   Viscosity(t),
		Temperature: t,
		Pressure:    p,
		Humidity:    rh,
	}, nil
}

// SaturationPressure returns the pressure of saturated water vapour at
// temperature t: over ice below the triple point, over liquid water above.
//
//	ln ps = C1/T + C2 + C3·T + C4·T² + C5·T³ + C6·T⁴ + C7·ln T
//
// The range is −100 to 200 °C; anything else is an error that wraps ErrRange.
//
// Source: Hyland & Wexler 1983, ASHRAE Transactions 89(2A):500, as in ASHRAE
// Handbook Fundamentals 2017, chapter 1, equations 5 and 6.
func SaturationPressure(t units.Temperature) (units.Pressure, error) {
	if c := t.Celsius(); !(c >= -100 && c <= 200) {
		return 0, fmt.Errorf("air: temperature %.4g C is %w (-100 to 200 C)", c, ErrRange)
	}
	c := overWater
	if t <= triplePoint {
		c = overIce
	}
	x := float64(t)
	ln := c[0]/x + c[1] + x*(c[2]+x*(c[3]+x*(c[4]+x*c[5]))) + c[6]*math.Log(x)
	return units.Pressure(math.Exp(ln)), nil
}

// Coefficients C1 to C7 of SaturationPressure, for Pa and K.
var (
	overIce   = [7]float64{-5.6745359e3, 6.3925247, -9.677843e-3, 6.2215701e-7, 2.0747825e-9, -9.484024e-13, 4.1635019}
	overWater = [7]float64{-5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8, 0, 6.5459673}
)
