package shopfile

import (
	"strconv"
	"strings"

	"wyewright/network/air"
	"wyewright/network/units"
)

// Air where the file is silent: an indoor workshop at sea level.
const (
	defaultCelsius              = 20
	defaultHumidity units.Ratio = 0.5
)

// air reads the section of that name:
//
//	temperature  default 20 °C
//	altitude     above sea level, gives the pressure; default 0
//	pressure     of the barometer, instead of the altitude
//	humidity     relative; default 50 %
//	density      overrides what follows from the four above
//	viscosity    kinematic ("1.51e-5 m2/s") or dynamic ("1.81e-5 Pa s")
//
// Density and viscosity are for cases computed with stated values.
func (d *decoder) air(n *node) {
	t, rh := units.Celsius(defaultCelsius), defaultHumidity
	p, _ := air.PressureAt(0)
	var f *fields
	if n != nil {
		f = d.fields(n, "temperature", "altitude", "pressure", "humidity", "density", "viscosity")
	}
	if v, ok := quantity(d, f.at("temperature"), units.ParseTemperature, anyValue); ok {
		t = v
	}
	if v, ok := d.percent(f.at("humidity")); ok {
		rh = units.Ratio(v)
	}
	if v, ok := quantity(d, f.at("altitude"), units.ParseLength, anyValue); ok {
		var err error
		if p, err = air.PressureAt(v); err != nil {
			d.fault(f.at("altitude"), "", "altitude %q: %v", f.at("altitude").text, err)
			return
		}
	}
	if v, ok := quantity(d, f.at("pressure"), units.ParsePressure, positive); ok {
		p = v
		if a := f.at("altitude"); a != nil {
			d.warn(a, "take one of the two out", "the altitude is not used, since the pressure is given")
		}
	}
	state, err := air.Moist(t, p, rh)
	if err != nil {
		d.fault(n, "pressure is the barometer's, for example 1013 hPa", "air: %v", err)
		return
	}
	if v, ok := quantity(d, f.at("density"), units.ParseDensity, positive); ok {
		state.Density = v
	}
	d.viscosity(f.at("viscosity"), &state)
	d.file.Spec.Air = state
}

// viscosity reads a kinematic viscosity in m2/s or a dynamic one in Pa s.
func (d *decoder) viscosity(n *node, state *air.State) {
	s, ok := d.text(n)
	if !ok {
		return
	}
	digits, unit, _ := strings.Cut(strings.TrimSpace(s), " ")
	v, err := strconv.ParseFloat(digits, 64)
	if err != nil || !(v > 1e-7 && v < 1e-3) {
		d.fault(n, `air has about "1.51e-5 m2/s"`, "viscosity %q: not that of a gas", s)
		return
	}
	switch strings.TrimSpace(unit) {
	case "m2/s", "m²/s":
		state.Viscosity = units.Viscosity(v * float64(state.Density))
	case "Pa s", "Pa·s":
		state.Viscosity = units.Viscosity(v)
	default:
		d.fault(n, "use m2/s (kinematic) or Pa s (dynamic)", "viscosity %q: unknown unit", s)
	}
}
