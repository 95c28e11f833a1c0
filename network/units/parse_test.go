package units_test

import (
	"errors"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"wyewright/network/units"
)

// kind is one quantity with its functions, stripped of its type.
type kind struct {
	name  string
	parse func(string) (float64, error)
	text  func(float64, units.System) string
	in    func(float64, units.System) float64
	unit  func(units.System) string
	exact func(float64) string
}

// typed is what every quantity offers.
type typed interface {
	~float64
	Text(units.System) string
	In(units.System) float64
	Unit(units.System) string
	Exact() string
}

// of strips the type of one quantity.
func of[T typed](name string, parse func(string) (T, error)) kind {
	return kind{
		name:  name,
		parse: func(s string) (float64, error) { v, err := parse(s); return float64(v), err },
		text:  func(v float64, sys units.System) string { return T(v).Text(sys) },
		in:    func(v float64, sys units.System) float64 { return T(v).In(sys) },
		unit:  func(sys units.System) string { return T(0).Unit(sys) },
		exact: func(v float64) string { return T(v).Exact() },
	}
}

// kinds are all quantities that can be read.
var kinds = []kind{
	of("length", units.ParseLength),
	of("area", units.ParseArea),
	of("velocity", units.ParseVelocity),
	of("flow", units.ParseFlow),
	of("pressure", units.ParsePressure),
	of("density", units.ParseDensity),
	of("temperature", units.ParseTemperature),
	of("power", units.ParsePower),
	of("speed", units.ParseSpeed),
	of("angle", units.ParseAngle),
	of("ratio", units.ParseRatio),
	of("duration", units.ParseHours),
}

// find returns the quantity of that name.
func find(t *testing.T, name string) kind {
	t.Helper()
	for _, k := range kinds {
		if k.name == name {
			return k
		}
	}
	t.Fatalf("no quantity %q", name)
	return kind{}
}

// TestParse compares with exact values: hand-worked from the definitions of
// NIST SP 811 (2008), written as constant expressions, which Go evaluates exactly
// before it rounds once. The comparison is to the last bit, but for temperatures:
// the offset of their scales is itself rounded, which costs one unit there.
func TestParse(t *testing.T) {
	tests := []struct {
		quantity, text string
		want           float64
	}{
		{"length", "4 in", 4 * 0.0254},
		{"length", `4"`, 0.1016},
		{"length", "5 in", 0.127},
		{"length", "127 mm", 0.127},
		{"length", "12.7cm", 0.127},
		{"length", "1.2 m", 1.2},
		{"length", "6 ft 3 in", 75 * 0.0254},
		{"length", `6'3"`, 75 * 0.0254},
		{"length", "6′ 3″", 75 * 0.0254},
		{"length", "10 feet", 3.048},
		{"length", "  3 CM ", 0.03},
		{"length", ".5 m", 0.5},
		{"length", "5. m", 5},
		{"length", "1e3 mm", 1},
		{"length", "0 m", 0},
		{"area", "0.25 in2", 0.25 * 0.0254 * 0.0254},
		{"area", "0.25 in²", 0.25 * 0.0254 * 0.0254},
		{"area", "8 cm2", 8e-4},
		{"area", "8 cm^2", 8e-4},
		{"area", "1 ft2", 0.3048 * 0.3048},
		{"area", "3 m²", 3},
		{"velocity", "17.8 m/s", 17.8},
		{"velocity", "3500 fpm", 17.78},
		{"velocity", "3500 ft/min", 17.78},
		{"flow", "820 m3/h", 820.0 / 3600},
		{"flow", "820 m³/h", 820.0 / 3600},
		{"flow", "2 m3/s", 2},
		{"flow", "250 l/s", 0.25},
		{"flow", "250 L/s", 0.25},
		{"flow", "800 cfm", 800 * 0.3048 * 0.3048 * 0.3048 / 60},
		{"pressure", "-250 Pa", -250},
		{"pressure", "−250 Pa", -250},
		{"pressure", "+1.5 kPa", 1500},
		{"pressure", "3 hPa", 300},
		{"pressure", "1013.25 mbar", 101325},
		{"pressure", "6 in wg", 6 * 249.08891},
		{"pressure", "6 inH2O", 6 * 249.08891},
		{"pressure", "6 in  H2O", 6 * 249.08891},
		{"pressure", "100 mm H2O", 980.665},
		{"pressure", "1 psi", 0.45359237 * 9.80665 / (0.0254 * 0.0254)},
		{"density", "1.2 kg/m3", 1.2},
		{"density", "0.075 lb/ft3", 0.075 * 0.45359237 / (0.3048 * 0.3048 * 0.3048)},
		{"temperature", "18 C", 291.15},
		{"temperature", "18 °C", 291.15},
		{"temperature", "-40 C", 233.15},
		{"temperature", "-40 F", 233.15},
		{"temperature", "32 °F", 273.15},
		{"temperature", "291 K", 291},
		{"power", "4 kW", 4000},
		{"power", "750 W", 750},
		{"power", "5 hp", 5 * 550 * 0.3048 * 0.45359237 * 9.80665},
		{"speed", "1500 rpm", 25},
		{"speed", "1500 1/min", 25},
		{"speed", "50 Hz", 50},
		{"angle", "45 deg", 45},
		{"angle", "45°", 45},
		{"ratio", "5 %", 0.05},
		{"ratio", "5.1%", 0.051},
		{"ratio", "1e2 %", 1},
		{"duration", "2 h", 2},
		{"duration", "90 min", 1.5},
	}
	for _, tt := range tests {
		got, err := find(t, tt.quantity).parse(tt.text)
		same := got == tt.want || tt.quantity == "temperature" && scalar.EqualWithinULP(got, tt.want, 1)
		if err != nil || !same {
			t.Errorf("%s %q = %.17g, %v; want %.17g", tt.quantity, tt.text, got, err, tt.want)
		}
	}
}

// TestParseError checks the reason and the hint of each way to go wrong.
func TestParseError(t *testing.T) {
	tests := []struct{ quantity, text, want string }{
		{"length", "5 furlong", `length "5 furlong": unknown unit "furlong" (use in, ft, mm, cm or m)`},
		{"length", "4", `length "4": unit missing (use in, ft, mm, cm or m)`},
		{"length", "", `length "": empty (use in, ft, mm, cm or m)`},
		{"length", " ", `length " ": empty (use in, ft, mm, cm or m)`},
		{"length", "in", `length "in": number missing (write a number and a unit, as in "4 in")`},
		{"length", "-", `length "-": number missing (write a number and a unit, as in "4 in")`},
		{"length", "NaN m", `length "NaN m": not a finite number (write a finite number)`},
		{"length", "-Inf m", `length "-Inf m": not a finite number (write a finite number)`},
		{"length", "1e999 m", `length "1e999 m": number out of range (write a finite number)`},
		{"flow", "1e300 cfm", `flow "1e300 cfm": number out of range (write a finite number)`},
		{"length", "1,5 m", `length "1,5 m": comma in the number (write a decimal point, and no separator of thousands)`},
		{"flow", "1,250 m3/h", `flow "1,250 m3/h": comma in the number (write a decimal point, and no separator of thousands)`},
		{"length", "-1 m", `length "-1 m": sign not allowed (write it without a sign)`},
		{"length", "6 ft 3", `length "6 ft 3": unit missing (use in, ft, mm, cm or m)`},
		{"length", "6 ft 3 in 2 in", `length "6 ft 3 in 2 in": unexpected "2 in" at the end (leave it out)`},
		{"length", "1 m 3 cm", `length "1 m 3 cm": more than one unit (only feet and inches may be joined, as in "6 ft 3 in")`},
		{"length", "4 in x", `length "4 in x": unknown unit "in x" (use in, ft, mm, cm or m)`},
		{"length", "0x10 m", `length "0x10 m": unknown unit "x" (use in, ft, mm, cm or m)`},
		{"velocity", "3 m", `velocity "3 m": unknown unit "m" (use m/s, fpm or ft/s)`},
		{"velocity", "1_000 fpm", `velocity "1_000 fpm": unknown unit "_000 fpm" (use m/s, fpm or ft/s)`},
		{"pressure", "3 bar x", `pressure "3 bar x": unknown unit "bar x" (use Pa, hPa, kPa, mbar, in wg, mm H2O or psi)`},
		{"temperature", "-300 C", `temperature "-300 C": below the least possible value (the least is 0 K)`},
		{"ratio", "0.05", `ratio "0.05": unit missing (use %)`},
		{"ratio", "1e308 kg", `ratio "1e308 kg": unknown unit "kg" (use %)`},
		{"angle", "1 rad", `angle "1 rad": unknown unit "rad" (use deg)`},
	}
	for _, tt := range tests {
		_, err := find(t, tt.quantity).parse(tt.text)
		var pe *units.ParseError
		if !errors.As(err, &pe) || err.Error() != tt.want {
			t.Errorf("%s %q: error %v, want %s", tt.quantity, tt.text, err, tt.want)
			continue
		}
		if !errors.Is(err, units.ErrSyntax) {
			t.Errorf("%s %q: does not unwrap to ErrSyntax", tt.quantity, tt.text)
		}
		if pe.Input != tt.text || pe.Quantity != tt.quantity || pe.Hint() == "" || len(pe.Accepted) == 0 {
			t.Errorf("%s %q: fields %+v", tt.quantity, tt.text, pe)
		}
	}
}

// TestAccepted checks that every unit a message advises can be read.
func TestAccepted(t *testing.T) {
	for _, k := range kinds {
		_, err := k.parse("1")
		var pe *units.ParseError
		if !errors.As(err, &pe) {
			t.Errorf("%s: bare number gives %v", k.name, err)
			continue
		}
		for _, u := range pe.Accepted {
			if v, err := k.parse("300 " + u); err != nil || v <= 0 {
				t.Errorf("%s: %q is advised but gives %v, %v", k.name, u, v, err)
			}
		}
	}
}

// FuzzParse checks that no text makes a parser panic, that what is read is
// finite and survives Exact, and that every error names its quantity.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"4 in", "6 ft 3 in", "-1e-3 Pa", "18 °C", "5.1 %", "1,5 m", "NaN", "", "−", "+", ".", "1e", "9e99999999999999999999 %", "4 in\xff"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, k := range kinds {
			v, err := k.parse(s)
			if err != nil {
				if !strings.HasPrefix(err.Error(), k.name+" ") {
					t.Errorf("%q: error %q does not name %s", s, err, k.name)
				}
				continue
			}
			if back, err := k.parse(k.exact(v)); err != nil || back != v {
				t.Errorf("%s %q = %g; Exact %q reads as %g, %v", k.name, s, v, k.exact(v), back, err)
			}
		}
	})
}
