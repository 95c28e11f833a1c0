package collapse

import "wyewright/network/units"

// Factor is what the pressure of the ideal tube is divided by, for a tube out
// of round, with seams and dents (common practice: design rules for vessels
// under outer pressure ask for 3 or more on the ideal tube).
const Factor = 3.0

// Material is what a wall is made of.
type Material struct {
	// Young is the modulus of elasticity.
	Young units.Pressure
	// Poisson is the ratio of cross contraction, from 0 to below 0.5.
	Poisson float64
}

// Steel is sheet steel: 200 to 210 GPa and 0.3 in any table of materials, the
// lower taken (from memory).
var Steel = Material{200e9, 0.3}

// PVC is rigid pipe: at least 400 000 psi, which ASTM D1784 asks of the usual
// compounds, and 0.38 (from memory). Warm pipe, and pipe that bears suction for
// days, is softer.
var PVC = Material{400000 * 6894.757, 0.38}

// Buckling is the outer pressure at which an ideal long thin tube buckles into
// two waves,
//
//	p = 2E/(1−ν²)·(t/D)³,
//
// with D the diameter of the middle of the wall, inner diameter plus t. It
// holds while the wall stays elastic, for t/D up to about 1/20; a tube that is
// stiffened within a few diameters stands more. The result is 0 for a wall or
// a diameter that is not above 0.
//
// Source: Bresse 1866 and Bryan 1888; S. P. Timoshenko and J. M. Gere, Theory
// of Elastic Stability, 2nd ed., section 7.5 (from memory).
func Buckling(m Material, wall, inner units.Length) units.Pressure {
	if !(wall > 0) || !(inner > 0) {
		return 0
	}
	x := float64(wall / (inner + wall))
	return units.Pressure(2 * float64(m.Young) / (1 - m.Poisson*m.Poisson) * x * x * x)
}

// Basis says where a limit comes from.
type Basis uint8

// Bases of a limit.
const (
	Unknown   Basis = iota // neither limit nor wall is known
	Estimated              // from the thickness of the wall
	Stated                 // by the file or a table
)

func (b Basis) String() string {
	return [...]string{"unknown", "estimated", "stated"}[b]
}

// Limit is the suction that a duct is said to stand.
type Limit struct {
	Suction units.Pressure
	Basis   Basis
}

// Estimate is the limit of a round duct by the thickness of its wall: the
// Buckling pressure over Factor. Without a wall it is the zero Limit.
func Estimate(m Material, wall, inner units.Length) Limit {
	p := Buckling(m, wall, inner) / Factor
	if !(p > 0) {
		return Limit{}
	}
	return Limit{p, Estimated}
}

// Known reports whether there is anything to compare with.
func (l Limit) Known() bool { return l.Basis != Unknown }

// Holds reports whether a known limit is not exceeded.
func (l Limit) Holds(suction units.Pressure) bool { return l.Known() && suction <= l.Suction }
