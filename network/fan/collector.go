package fan

import (
	"math"

	"wyewright/network/units"
)

// Filter is a filter of fabric with its cake. The flow in its pores is laminar,
// so that the loss is linear in the flow (Darcy's law). The fields are
// coefficients in Pa per m³/s, both at the viscosity at which they were read.
type Filter struct {
	Clean, Loaded float64
}

// FilterAt returns the coefficient, in Pa per m³/s, of a filter that loses p at
// the flow q. A flow of zero or less makes no coefficient and gives NaN.
func FilterAt(p units.Pressure, q units.Flow) float64 {
	if !(q > 0) {
		return math.NaN()
	}
	return float64(p) / float64(q)
}

// Separator is a cyclone or a drop-out box before the filter. Heads is its loss
// in velocity pressures of its inlet: 6.4 for a Stairmand, 8 for a Lapple
// cyclone, from N_H = 16·a·b/De² of Shepherd & Lapple 1939, Ind. Eng. Chem.
// 31:972, as tabulated for both designs in cyclone handbooks.
type Separator struct {
	Heads float64    // N_H
	Inlet units.Area // of the inlet duct
}

// Coefficient returns the loss of the separator in Pa per (m³/s)², at density
// rho: N_H·½ρV² with V = Q/Inlet makes N_H·ρ/(2·Inlet²). Inlet must be positive.
func (s Separator) Coefficient(rho units.Density) float64 {
	a := float64(s.Inlet)
	return s.Heads * float64(rho) / (2 * a * a)
}
