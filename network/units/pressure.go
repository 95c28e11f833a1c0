package units

import "math"

// Pressures and densities of the trade, in SI.
const (
	// InchWater is the conventional inch of water (4 °C), by convention
	// 249.08891 Pa.
	InchWater Pressure = 249.08891
	// MillimetreWater is the conventional millimetre of water: 1000 kg/m³ under
	// standard gravity.
	MillimetreWater Pressure = 9.80665
	// PoundPerCubicFoot is exact: 0.45359237 kg over 0.3048³ m³.
	PoundPerCubicFoot Density = 0.45359237 / (0.3048 * 0.3048 * 0.3048)
)

// Viscosity is a dynamic viscosity in pascal seconds. It is never read from
// text.
type Viscosity float64

var pressure = &quantity{
	name: "pressure", accepted: []string{"Pa", "hPa", "kPa", "mbar", "in wg", "mm H2O", "psi"},
	signed: true, floor: math.Inf(-1), exact: "Pa", faces: [2]face{US: {"in wg", 2}, SI: {"Pa", 0}},
	units: []unit{
		{mul: 1, div: 1, names: []string{"pa"}},
		{mul: 100, div: 1, names: []string{"hpa", "mbar"}},
		{mul: 1000, div: 1, names: []string{"kpa"}},
		{mul: 24908891, div: 1e5, names: []string{"in wg", "in w.g.", "inwg", "in h2o", "inh2o", "in wc", "in w.c.", "inwc"}},
		{mul: 980665, div: 1e5, names: []string{"mm h2o", "mmh2o", "mm wg", "mmwg"}},
		// 1 psi = 0.45359237·9.80665 N / 0.0254² m², exactly.
		{mul: 44482216152605, div: 64516e5, names: []string{"psi"}},
	},
}

var density = &quantity{
	name: "density", accepted: []string{"kg/m3", "lb/ft3"},
	exact: "kg/m3", faces: [2]face{US: {"lb/ft3", 4}, SI: {"kg/m3", 3}},
	units: []unit{
		{mul: 1, div: 1, names: []string{"kg/m3"}},
		{mul: 453592370000, div: 28316846592, names: []string{"lb/ft3"}},
	},
}

// Pressure is a pressure in pascals: gauge pressures, differences, or the barometric pressure.
type Pressure float64

// ParsePressure reads a pressure with its unit; see the package documentation.
func ParsePressure(s string) (Pressure, error) { return parse[Pressure](pressure, s) }

// Text shows the pressure rounded for people, in inches of water or Pa.
func (v Pressure) Text(sys System) string { return pressure.text(float64(v), sys) }

// In returns the number that Text shows, unrounded.
func (v Pressure) In(sys System) float64 { return pressure.in(float64(v), sys) }

// Unit returns the unit that Text shows.
func (v Pressure) Unit(sys System) string { return pressure.face(sys).label }

// Exact returns a text that ParsePressure reads back to the same value.
func (v Pressure) Exact() string { return pressure.exactText(float64(v)) }

// Density is a density in kilograms per cubic metre.
type Density float64

// ParseDensity reads a density with its unit; see the package documentation.
func ParseDensity(s string) (Density, error) { return parse[Density](density, s) }

// Text shows the density rounded for people, in lb/ft³ or kg/m³.
func (v Density) Text(sys System) string { return density.text(float64(v), sys) }

// In returns the number that Text shows, unrounded.
func (v Density) In(sys System) float64 { return density.in(float64(v), sys) }

// Unit returns the unit that Text shows.
func (v Density) Unit(sys System) string { return density.face(sys).label }

// Exact returns a text that ParseDensity reads back to the same value.
func (v Density) Exact() string { return density.exactText(float64(v)) }
