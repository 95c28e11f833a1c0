package fan

import (
	"math"

	"wyewright/network/units"
)

// Scale carries the points of a curve from density rho0 and speed n0 to density
// rho1 and speed n1 by the fan laws for one and the same fan:
//
//	Q ∝ N        p ∝ ρ·N²        P ∝ ρ·N³
//
// Two equal arguments mean no change, even where both are zero because they are
// not known. The laws neglect compressibility and the Reynolds number; against
// published test code with compressibility they hold within 0.16 % for a change
// of 8 % in density. A zero or negative old value makes points that NewTable
// and NewLinear refuse.
//
// Source: Solberg, Elementary Heat Power, 2nd ed., Example 10.5, and Abulencia &
// Theodore 2009, Fluid Flow for the Practicing Chemical Engineer, Example 17.2.
func Scale(c []Point, rho0, rho1 units.Density, n0, n1 units.Speed) []Point {
	rho, n := 1.0, 1.0
	if rho0 != rho1 {
		rho = float64(rho1 / rho0)
	}
	if n0 != n1 {
		n = float64(n1 / n0)
	}
	out := make([]Point, len(c))
	for i, p := range c {
		out[i] = Point{
			Flow:     p.Flow * units.Flow(n),
			Pressure: p.Pressure * units.Pressure(rho*n*n),
			Power:    p.Power * units.Power(rho*math.Pow(n, 3)),
		}
	}
	return out
}
