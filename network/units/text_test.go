package units_test

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
	"pgregory.net/rapid"

	"wyewright/network/units"
)

// texter is a quantity that can be shown.
type texter interface{ Text(units.System) string }

// TestText checks units and digits. All values are hand-worked.
func TestText(t *testing.T) {
	tests := []struct {
		v      texter
		us, si string
	}{
		{3.81 * units.Metre, "12.5 ft", "3.8 m"},
		{8 * units.Inch * 100, "66.7 ft", "20.3 m"},
		{units.Area(0.0254 * 0.0254 / 4), "0.25 in2", "1.6 cm2"},
		{3500 * units.FootPerMinute, "3500 fpm", "17.8 m/s"},
		{820 * units.CubicMetrePerHour, "483 cfm", "820 m3/h"},
		{6.1 * units.InchWater, "6.10 in wg", "1519 Pa"},
		{-0.001 * units.InchWater, "0.00 in wg", "0 Pa"},
		{0.075 * units.PoundPerCubicFoot, "0.0750 lb/ft3", "1.201 kg/m3"},
		{units.Celsius(20), "68 F", "20.0 C"},
		{5 * units.Horsepower, "5.00 hp", "3.73 kW"},
		{units.Speed(25), "1500 rpm", "1500 rpm"},
		{units.Angle(22.5), "22.5 deg", "22.5 deg"},
		{units.Ratio(0.055), "5.5 %", "5.5 %"},
		{units.Hours(1.5), "1.5 h", "1.5 h"},
	}
	for _, tt := range tests {
		if us, si := tt.v.Text(units.US), tt.v.Text(units.SI); us != tt.us || si != tt.si {
			t.Errorf("%T: %q, %q; want %q, %q", tt.v, us, si, tt.us, tt.si)
		}
	}
	d := units.Length(0.1034)
	if us, si := d.DiameterText(units.US), d.DiameterText(units.SI); us != "4.07 in" || si != "103 mm" {
		t.Errorf("diameter: %q, %q", us, si)
	}
	if v, u := d.DiameterIn(units.SI), d.DiameterUnit(units.SI); !scalar.EqualWithinRel(v, 103.4, 1e-15) || u != "mm" {
		t.Errorf("diameter apart: %v %q", v, u)
	}
}

// TestRoundTrip checks, for values over many decades, that Exact is read back
// to the last bit, and that In with Unit is read back to rounding error: in both
// systems the way out and the way in are inverse to each other.
func TestRoundTrip(t *testing.T) {
	const rel = 4 * 0x1p-52 // two multiplications and two divisions, half a unit in the last place each, doubled
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.SampledFrom(kinds).Draw(t, "quantity")
		v := rapid.Float64Range(1e-9, 1e9).Draw(t, "value")
		if k.name == "temperature" { // relative error means little next to the zero of a scale
			v = rapid.Float64Range(300, 600).Draw(t, "temperature")
		}
		if back, err := k.parse(k.exact(v)); err != nil || back != v {
			t.Fatalf("%s %g: Exact %q reads as %g, %v", k.name, v, k.exact(v), back, err)
		}
		for _, sys := range []units.System{units.US, units.SI} {
			text := strconv.FormatFloat(k.in(v, sys), 'g', -1, 64) + " " + k.unit(sys)
			if back, err := k.parse(text); err != nil || !scalar.EqualWithinRel(back, v, rel) {
				t.Fatalf("%s %.17g: %q reads as %.17g, %v", k.name, v, text, back, err)
			}
			if text := k.text(v, sys); !strings.HasSuffix(text, " "+k.unit(sys)) {
				t.Fatalf("%s: %q does not end with %q", k.name, text, k.unit(sys))
			}
			if _, err := k.parse(k.text(v, sys)); err != nil {
				t.Fatalf("%s: Text %q cannot be read: %v", k.name, k.text(v, sys), err)
			}
		}
	})
}

// TestRoundTripFails checks that the comparison above notices a wrong factor.
func TestRoundTripFails(t *testing.T) {
	back, err := units.ParseLength("1 ft")
	if err != nil || scalar.EqualWithinRel(float64(back), 0.304801, 4*0x1p-52) {
		t.Errorf("a rounded foot passes as the exact one: %v, %v", back, err)
	}
}

func TestNotFiniteText(t *testing.T) {
	if got := units.Flow(math.NaN()).Text(units.US); got != "NaN cfm" {
		t.Errorf("NaN shows as %q", got)
	}
	if got := units.Pressure(math.Inf(-1)).Text(units.SI); got != "-Inf Pa" {
		t.Errorf("-Inf shows as %q", got)
	}
}

func TestSystem(t *testing.T) {
	for _, sys := range []units.System{units.US, units.SI} {
		if got, err := units.ParseSystem(sys.String()); err != nil || got != sys {
			t.Errorf("ParseSystem(%q) = %v, %v", sys, got, err)
		}
	}
	_, err := units.ParseSystem("metric")
	if want := `system of units "metric": unknown system (use us or si)`; err == nil || err.Error() != want || !errors.Is(err, units.ErrSyntax) {
		t.Errorf("error %v, want %s", err, want)
	}
	if got := units.System(7).String(); got != "System(7)" {
		t.Errorf("unknown system shows as %q", got)
	}
}
