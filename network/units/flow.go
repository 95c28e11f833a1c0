package units

// Exact velocities and flows, derived from the foot.
const (
	FootPerMinute      Velocity = 0.3048 / 60
	CubicFootPerMinute Flow     = 0.3048 * 0.3048 * 0.3048 / 60
	CubicMetrePerHour  Flow     = 1.0 / 3600
)

var velocity = &quantity{
	name: "velocity", accepted: []string{"m/s", "fpm", "ft/s"},
	exact: "m/s", faces: [2]face{US: {"fpm", 0}, SI: {"m/s", 1}},
	units: []unit{
		{mul: 1, div: 1, names: []string{"m/s"}},
		{mul: 3048, div: 600000, names: []string{"fpm", "ft/min"}},
		{mul: 3048, div: 10000, names: []string{"ft/s", "fps"}},
	},
}

var flow = &quantity{
	name: "flow", accepted: []string{"m3/h", "m3/s", "l/s", "cfm"},
	exact: "m3/s", faces: [2]face{US: {"cfm", 0}, SI: {"m3/h", 0}},
	units: []unit{
		{mul: 1, div: 3600, names: []string{"m3/h"}},
		{mul: 1, div: 60, names: []string{"m3/min"}},
		{mul: 1, div: 1, names: []string{"m3/s"}},
		{mul: 1, div: 1000, names: []string{"l/s"}},
		// 0.3048³ = 0.028316846592, exactly.
		{mul: 28316846592, div: 60e12, names: []string{"cfm", "ft3/min"}},
	},
}

// Velocity is a velocity in metres per second.
type Velocity float64

// ParseVelocity reads a velocity with its unit; see the package documentation.
func ParseVelocity(s string) (Velocity, error) { return parse[Velocity](velocity, s) }

// Text shows the velocity rounded for people, in fpm or m/s.
func (v Velocity) Text(sys System) string { return velocity.text(float64(v), sys) }

// In returns the number that Text shows, unrounded.
func (v Velocity) In(sys System) float64 { return velocity.in(float64(v), sys) }

// Unit returns the unit that Text shows.
func (v Velocity) Unit(sys System) string { return velocity.face(sys).label }

// Exact returns a text that ParseVelocity reads back to the same value.
func (v Velocity) Exact() string { return velocity.exactText(float64(v)) }

// Flow is a volume flow in cubic metres per second, at the density of the room.
type Flow float64

// ParseFlow reads a flow with its unit; see the package documentation.
func ParseFlow(s string) (Flow, error) { return parse[Flow](flow, s) }

// Text shows the flow rounded for people, in cfm or m³/h.
func (v Flow) Text(sys System) string { return flow.text(float64(v), sys) }

// In returns the number that Text shows, unrounded.
func (v Flow) In(sys System) float64 { return flow.in(float64(v), sys) }

// Unit returns the unit that Text shows.
func (v Flow) Unit(sys System) string { return flow.face(sys).label }

// Exact returns a text that ParseFlow reads back to the same value.
func (v Flow) Exact() string { return flow.exactText(float64(v)) }
