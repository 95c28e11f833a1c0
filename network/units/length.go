package units

// Exact lengths. The inch and the foot are those of the international yard
// and pound agreement of 1959.
const (
	Metre      Length = 1
	Millimetre Length = 0.001
	Inch       Length = 0.0254
	Foot       Length = 12 * Inch
)

var length = &quantity{
	name: "length", accepted: []string{"in", "ft", "mm", "cm", "m"}, compound: true,
	exact: "m", faces: [2]face{US: {"ft", 1}, SI: {"m", 1}},
	units: []unit{
		{mul: 254, div: 10000, names: []string{"in", "inch", "inches", `"`}},
		{mul: 3048, div: 10000, names: []string{"ft", "foot", "feet", "'"}},
		{mul: 1, div: 1000, names: []string{"mm"}},
		{mul: 1, div: 100, names: []string{"cm"}},
		{mul: 1, div: 1, names: []string{"m"}},
	},
}

// diameter shows what length shows, in the units of duct sizes.
var diameter = &quantity{
	name: "diameter", accepted: length.accepted, compound: true,
	exact: "m", faces: [2]face{US: {"in", 2}, SI: {"mm", 0}},
	units: length.units,
}

var area = &quantity{
	name: "area", accepted: []string{"in2", "ft2", "mm2", "cm2", "m2"},
	exact: "m2", faces: [2]face{US: {"in2", 2}, SI: {"cm2", 1}},
	units: []unit{
		{mul: 254 * 254, div: 1e8, names: []string{"in2", "sq in"}},
		{mul: 3048 * 3048, div: 1e8, names: []string{"ft2", "sq ft"}},
		{mul: 1, div: 1e6, names: []string{"mm2"}},
		{mul: 1, div: 1e4, names: []string{"cm2"}},
		{mul: 1, div: 1, names: []string{"m2"}},
	},
}

// Length is a length, a height or a diameter in metres.
type Length float64

// ParseLength reads a length with its unit; see the package documentation.
func ParseLength(s string) (Length, error) { return parse[Length](length, s) }

// Text shows the length rounded for people, in lengths of duct in feet or metres.
func (v Length) Text(sys System) string { return length.text(float64(v), sys) }

// In returns the number that Text shows, unrounded.
func (v Length) In(sys System) float64 { return length.in(float64(v), sys) }

// Unit returns the unit that Text shows.
func (v Length) Unit(sys System) string { return length.face(sys).label }

// Exact returns a text that ParseLength reads back to the same value.
func (v Length) Exact() string { return length.exactText(float64(v)) }

// DiameterText shows a duct size rounded for people, in inches or millimetres.
func (v Length) DiameterText(sys System) string { return diameter.text(float64(v), sys) }

// DiameterIn returns the number that DiameterText shows, unrounded.
func (v Length) DiameterIn(sys System) float64 { return diameter.in(float64(v), sys) }

// DiameterUnit returns the unit that DiameterText shows.
func (v Length) DiameterUnit(sys System) string { return diameter.face(sys).label }

// Area is an area in square metres.
type Area float64

// ParseArea reads an area with its unit; see the package documentation.
func ParseArea(s string) (Area, error) { return parse[Area](area, s) }

// Text shows the area rounded for people, in square inches or square centimetres.
func (v Area) Text(sys System) string { return area.text(float64(v), sys) }

// In returns the number that Text shows, unrounded.
func (v Area) In(sys System) float64 { return area.in(float64(v), sys) }

// Unit returns the unit that Text shows.
func (v Area) Unit(sys System) string { return area.face(sys).label }

// Exact returns a text that ParseArea reads back to the same value.
func (v Area) Exact() string { return area.exactText(float64(v)) }
