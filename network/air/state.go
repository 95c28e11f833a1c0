// Package air gives the state of the air in the room and in the ducts:
// density, viscosity, and the pressure of a moving stream.
//
// The network is computed with one density everywhere, that of the room. At a
// suction of 4 kPa the air is about 4 % thinner than in the room, and half of
// that as the mean along the way: the error of a velocity pressure is below 2 %.
//
// For most work call Moist with the temperature and humidity of the room and
// PressureAt of its altitude; Standard is for catalogue data.
package air

import (
	"wyewright/network/units"
)

// State is the state of the air. Density and Viscosity are what the network
// uses; the other fields say where they come from.
type State struct {
	Density     units.Density
	Viscosity   units.Viscosity // dynamic
	Temperature units.Temperature
	Pressure    units.Pressure // absolute
	Humidity    units.Ratio    // relative humidity
}

// Sea level of the standard atmosphere, and the limits of Moist.
const (
	seaLevel units.Pressure = 101325 // ISO 2533:1975

	minPressure units.Pressure = 30e3
	maxPressure units.Pressure = 120e3
)

// Standard returns the standard air of exhaust practice: 0.075 lb/ft³
// (1.2014 kg/m³) by definition, with the viscosity of 20 °C. Its density is a
// convention; dry air of 20 °C at sea level has 1.2042 kg/m³.
// Source: common practice, as in the ACGIH industrial ventilation formulas.
func Standard() State {
	t := units.Celsius(20)
	return State{
		Density:     0.075 * units.PoundPerCubicFoot,
		Viscosity:   Viscosity(t),
		Temperature: t,
		Pressure:    seaLevel,
	}
}

// Kinematic returns the kinematic viscosity μ/ρ in m²/s.
func (s State) Kinematic() float64 { return float64(s.Viscosity) / float64(s.Density) }

// VelocityPressure returns ½ρV², the velocity pressure of a stream of mean
// velocity v. The rule of the trade V = 4005·√VP (fpm, inches of water) is this
// formula with rounded constants, 0.1 % off.
func (s State) VelocityPressure(v units.Velocity) units.Pressure {
	return units.Pressure(0.5 * float64(s.Density) * float64(v) * float64(v))
}
