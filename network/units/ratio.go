package units

var angle = &quantity{
	name: "angle", accepted: []string{"deg"},
	exact: "deg", faces: [2]face{US: {"deg", 1}, SI: {"deg", 1}},
	units: []unit{{mul: 1, div: 1, names: []string{"deg", "°", "degree", "degrees"}}},
}

var ratio = &quantity{
	name: "ratio", accepted: []string{"%"},
	exact: "%", faces: [2]face{US: {"%", 1}, SI: {"%", 1}},
	units: []unit{{mul: 1, div: 100, decimal: -2, names: []string{"%"}}},
}

var duration = &quantity{
	name: "duration", accepted: []string{"h", "min"},
	exact: "h", faces: [2]face{US: {"h", 1}, SI: {"h", 1}},
	units: []unit{
		{mul: 1, div: 1, names: []string{"h", "hr", "hour", "hours"}},
		{mul: 1, div: 60, names: []string{"min"}},
	},
}

// Angle is an angle in degrees (the one quantity not in SI: fittings are named by degrees).
type Angle float64

// ParseAngle reads an angle with its unit; see the package documentation.
func ParseAngle(s string) (Angle, error) { return parse[Angle](angle, s) }

// Text shows the angle rounded for people, in degrees.
func (v Angle) Text(sys System) string { return angle.text(float64(v), sys) }

// In returns the number that Text shows, unrounded.
func (v Angle) In(sys System) float64 { return angle.in(float64(v), sys) }

// Unit returns the unit that Text shows.
func (v Angle) Unit(sys System) string { return angle.face(sys).label }

// Exact returns a text that ParseAngle reads back to the same value.
func (v Angle) Exact() string { return angle.exactText(float64(v)) }

// Ratio is a fraction: 0.05 is five per cent.
type Ratio float64

// ParseRatio reads a ratio with its unit; see the package documentation.
func ParseRatio(s string) (Ratio, error) { return parse[Ratio](ratio, s) }

// Text shows the ratio rounded for people, in per cent.
func (v Ratio) Text(sys System) string { return ratio.text(float64(v), sys) }

// In returns the number that Text shows, unrounded.
func (v Ratio) In(sys System) float64 { return ratio.in(float64(v), sys) }

// Unit returns the unit that Text shows.
func (v Ratio) Unit(sys System) string { return ratio.face(sys).label }

// Exact returns a text that ParseRatio reads back to the same value.
func (v Ratio) Exact() string { return ratio.exactText(float64(v)) }

// Hours is a duration in hours.
type Hours float64

// ParseHours reads a duration with its unit; see the package documentation.
func ParseHours(s string) (Hours, error) { return parse[Hours](duration, s) }

// Text shows the duration rounded for people, in hours.
func (v Hours) Text(sys System) string { return duration.text(float64(v), sys) }

// In returns the number that Text shows, unrounded.
func (v Hours) In(sys System) float64 { return duration.in(float64(v), sys) }

// Unit returns the unit that Text shows.
func (v Hours) Unit(sys System) string { return duration.face(sys).label }

// Exact returns a text that ParseHours reads back to the same value.
func (v Hours) Exact() string { return duration.exactText(float64(v)) }
