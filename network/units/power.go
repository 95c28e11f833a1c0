package units

// Horsepower is the mechanical horsepower of 550 ft·lbf/s, exact.
const Horsepower Power = 550 * 0.3048 * 0.45359237 * 9.80665

var power = &quantity{
	name: "power", accepted: []string{"W", "kW", "hp"},
	exact: "W", faces: [2]face{US: {"hp", 2}, SI: {"kW", 2}},
	units: []unit{
		{mul: 1, div: 1, names: []string{"w"}},
		{mul: 1000, div: 1, names: []string{"kw"}},
		{mul: float64(Horsepower), div: 1, names: []string{"hp"}},
	},
}

var speed = &quantity{
	name: "speed", accepted: []string{"rpm", "1/min", "Hz"},
	exact: "Hz", faces: [2]face{US: {"rpm", 0}, SI: {"rpm", 0}},
	units: []unit{
		{mul: 1, div: 60, names: []string{"rpm", "1/min", "rev/min", "r/min"}},
		{mul: 1, div: 1, names: []string{"hz", "1/s", "rev/s", "r/s"}},
	},
}

// Power is a power in watts.
type Power float64

// ParsePower reads a power with its unit; see the package documentation.
func ParsePower(s string) (Power, error) { return parse[Power](power, s) }

// Text shows the power rounded for people, in hp or kW.
func (v Power) Text(sys System) string { return power.text(float64(v), sys) }

// In returns the number that Text shows, unrounded.
func (v Power) In(sys System) float64 { return power.in(float64(v), sys) }

// Unit returns the unit that Text shows.
func (v Power) Unit(sys System) string { return power.face(sys).label }

// Exact returns a text that ParsePower reads back to the same value.
func (v Power) Exact() string { return power.exactText(float64(v)) }

// Speed is a speed of rotation in revolutions per second.
type Speed float64

// ParseSpeed reads a speed with its unit; see the package documentation.
func ParseSpeed(s string) (Speed, error) { return parse[Speed](speed, s) }

// Text shows the speed rounded for people, in revolutions per minute.
func (v Speed) Text(sys System) string { return speed.text(float64(v), sys) }

// In returns the number that Text shows, unrounded.
func (v Speed) In(sys System) float64 { return speed.in(float64(v), sys) }

// Unit returns the unit that Text shows.
func (v Speed) Unit(sys System) string { return speed.face(sys).label }

// Exact returns a text that ParseSpeed reads back to the same value.
func (v Speed) Exact() string { return speed.exactText(float64(v)) }
