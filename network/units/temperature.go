package units

// zeroCelsius is 0 °C in kelvins, exact by definition.
const zeroCelsius = 273.15

// Celsius returns the temperature of c degrees Celsius.
func Celsius(c float64) Temperature { return Temperature(c + zeroCelsius) }

// Celsius returns the temperature in degrees Celsius.
func (v Temperature) Celsius() float64 { return float64(v) - zeroCelsius }

var temperature = &quantity{
	name: "temperature", accepted: []string{"C", "F", "K"},
	signed: true, exact: "K", faces: [2]face{US: {"F", 0}, SI: {"C", 1}},
	units: []unit{
		{mul: 1, div: 1, offset: zeroCelsius, names: []string{"c", "°c", "deg c", "degc"}},
		{mul: 5, div: 9, offset: 459.67, names: []string{"f", "°f", "deg f", "degf"}},
		{mul: 1, div: 1, names: []string{"k"}},
	},
}

// Temperature is an absolute temperature in kelvins.
type Temperature float64

// ParseTemperature reads a temperature with its unit; see the package documentation.
func ParseTemperature(s string) (Temperature, error) { return parse[Temperature](temperature, s) }

// Text shows the temperature rounded for people, in degrees Fahrenheit or Celsius.
func (v Temperature) Text(sys System) string { return temperature.text(float64(v), sys) }

// In returns the number that Text shows, unrounded.
func (v Temperature) In(sys System) float64 { return temperature.in(float64(v), sys) }

// Unit returns the unit that Text shows.
func (v Temperature) Unit(sys System) string { return temperature.face(sys).label }

// Exact returns a text that ParseTemperature reads back to the same value.
func (v Temperature) Exact() string { return temperature.exactText(float64(v)) }
