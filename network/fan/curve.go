// Package fan describes what drives the air and what the collector takes from
// it: fan curves, fan laws, separator, filter and motor.
//
// For most work make a Table from the maker's points: a smooth curve that adds
// no hump of its own. Linear joins the points by straight lines, Quadratic is the
// parabola of some published cases, and Fixed is a fan that delivers one flow
// whatever the pressure.
//
// What the pressure of a curve means (fan total, fan static, suction at the
// inlet wall) is for the caller to know and to convert: this package only keeps
// the numbers. A curve holds at the density and the speed of its points; Scale
// carries points to another.
package fan

import "wyewright/network/units"

// Point is one point of a fan curve. Power is the shaft power, 0 where it is not
// known.
type Point struct {
	Flow     units.Flow
	Pressure units.Pressure
	Power    units.Power
}

// Curve is a fan curve in bare SI, as the solver needs it.
type Curve interface {
	// Pressure returns the pressure rise p in Pa at the flow q in m³/s, and its
	// derivative dp/dq. It is defined for every q, continues linearly below
	// zero flow, and allocates nothing.
	Pressure(q float64) (p, dpdq float64)

	// Range returns the flows between which the curve is known, in m³/s.
	Range() (lo, hi float64)
}

// Quadratic is the fan law Δp = Shutoff·(1 − (Q/FreeAir)²). Beyond free air the
// parabola goes on below zero; for negative flow the pressure stays at Shutoff,
// since the slope at zero flow is zero. FreeAir must be positive.
//
// Source: FDS Verification Guide (NIST SP 1018-2), section "ASHRAE Sample
// Problem 7", quadratic fan model.
type Quadratic struct {
	Shutoff units.Pressure // pressure at zero flow
	FreeAir units.Flow     // flow at zero pressure
}

// Pressure implements Curve.
func (c Quadratic) Pressure(q float64) (p, dpdq float64) {
	top, free := float64(c.Shutoff), float64(c.FreeAir)
	if q <= 0 {
		return top, 0
	}
	x := q / free
	return top * (1 - x*x), -2 * top * x / free
}

// Range implements Curve: zero flow to free air.
func (c Quadratic) Range() (lo, hi float64) { return 0, float64(c.FreeAir) }

// Fixed is a fan that delivers one flow at whatever pressure the ducts ask for.
// It has no curve: a solver must recognise it by a type assertion, impose the
// flow, and read the pressure off the network.
type Fixed struct {
	Flow units.Flow
}

// Pressure implements Curve in form only. It returns 0 and 0, which no solver may
// use; see Fixed.
func (c Fixed) Pressure(float64) (p, dpdq float64) { return 0, 0 }

// Range implements Curve: the one flow.
func (c Fixed) Range() (lo, hi float64) { return float64(c.Flow), float64(c.Flow) }
