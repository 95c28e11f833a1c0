package air_test

import (
	"encoding/csv"
	"errors"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
	"pgregory.net/rapid"

	"wyewright/network/air"
	"wyewright/network/units"
)

const reference = "../../testdata/reference/"

// rows reads a reference table without its header.
func rows(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open(reference + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(all) < 2 {
		t.Fatalf("%s has no rows", name)
	}
	return all[1:]
}

// number reads one cell.
func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// near reports a difference above the relative tolerance.
func near(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if !scalar.EqualWithinRel(got, want, rel) {
		t.Errorf("%s = %.10g, want %.10g within %g", what, got, want, rel)
	}
}

// TestAtmosphere compares with the standard atmosphere: *computed by fluids
// 1.0.22*. Pressure is held to 3e-6, since the exponent and the lapse of PressureAt
// are the rounded ones of its source; viscosity to rounding of the table.
func TestAtmosphere(t *testing.T) {
	temperature := map[string]units.Temperature{}
	checked := 0
	for _, r := range rows(t, "air_isa.csv") {
		z, want := r[1], number(t, r[2])
		switch r[0] {
		case "isa_temperature":
			temperature[z] = units.Temperature(want)
		case "isa_pressure":
			p, err := air.PressureAt(units.Length(number(t, z)))
			if err != nil {
				t.Fatal(err)
			}
			near(t, "pressure at "+z+" m", float64(p), want, 3e-6)
			checked++
		case "isa_viscosity":
			near(t, "viscosity at "+z+" m", float64(air.Viscosity(temperature[z])), want, 1e-9)
			checked++
		}
	}
	if checked < 10 {
		t.Errorf("only %d rows checked", checked)
	}
}

// TestViscosity compares with Sutherland's formula: *computed by fluids 1.0.22*.
func TestViscosity(t *testing.T) {
	for _, r := range rows(t, "air_viscosity.csv") {
		near(t, "viscosity at "+r[1]+" C", float64(air.Viscosity(units.Celsius(number(t, r[1])))), number(t, r[2]), 1e-9)
	}
	if got := air.Viscosity(0); got != 0 {
		t.Errorf("viscosity at absolute zero is %v", got)
	}
}

// TestMoist compares densities *computed by PsychroLib 2.5.0* (within 1e-7: dry
// air there holds at least 1e-7 of water) and saturation pressures *published* in
// ASHRAE Fundamentals, with the tolerance given in each row.
func TestMoist(t *testing.T) {
	checked := map[string]int{}
	for _, r := range rows(t, "air_moist.csv") {
		temp, want := units.Celsius(number(t, r[1])), number(t, r[4])
		checked[r[0]]++
		switch r[0] {
		case "sat_vapour_pressure_published":
			p, err := air.SaturationPressure(temp)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "saturation pressure at "+r[1]+" C", float64(p), want, 3e-4)
		case "moist_air_density":
			near(t, "density "+strings.Join(r[1:4], " "), moist(t, r), want, 1e-7)
		case "dry_air_volume_published":
			near(t, "dry air volume", 1/moist(t, r), want, 1e-3)
		case "moist_air_density_published":
			// The row gives the humidity ratio: rh = pv/ps with pv = p·W/(0.621945 + W).
			ps, err := air.SaturationPressure(temp)
			if err != nil {
				t.Fatal(err)
			}
			w := number(t, strings.TrimPrefix(r[2], "W="))
			r[2] = strconv.FormatFloat(number(t, r[3])*w/(0.621945+w)/float64(ps), 'g', -1, 64)
			near(t, "density at W=0.02", moist(t, r), want, 3e-4)
		default:
			t.Errorf("row %q is not checked", r[0])
		}
	}
	if checked["moist_air_density"] < 10 || checked["sat_vapour_pressure_published"] < 6 {
		t.Errorf("too few rows: %v", checked)
	}
}

// moist returns the density for temperature, humidity and pressure in the
// columns 1 to 3 of a row.
func moist(t *testing.T, r []string) float64 {
	t.Helper()
	s, err := air.Moist(units.Celsius(number(t, r[1])), units.Pressure(number(t, r[3])), units.Ratio(number(t, r[2])))
	if err != nil {
		t.Fatal(err)
	}
	return float64(s.Density)
}

// TestCIPM compares with a better formula, CIPM-2007 (*computed from the published
// formula*): its densities are 0.02 to 0.06 % higher, never lower.
func TestCIPM(t *testing.T) {
	for _, r := range rows(t, "derived_air_cipm2007.csv") {
		if excess := number(t, r[5])/moist(t, r) - 1; excess < 2e-4 || excess > 6e-4 {
			t.Errorf("%v: CIPM-2007 is %.3g %% higher", r[1:4], 100*excess)
		}
	}
}

// TestDensityFactors compares the density at altitude and temperature, relative
// to 70 °F at sea level, with a *published* fan catalogue table of three decimals
// (which differs by one in the last from its own formula).
func TestDensityFactors(t *testing.T) {
	for _, r := range rows(t, "examples/13_micro_checks/density_factors.csv") {
		p, err := air.PressureAt(units.Foot * units.Length(number(t, r[0])))
		if err != nil {
			t.Fatal(err)
		}
		for i, fahrenheit := range []float64{70, 100, 200} {
			// The catalogue takes 460 for the offset of the Fahrenheit scale.
			got := float64(p) / 101325 * 530 / (460 + fahrenheit)
			if want := number(t, r[1+i]); math.Abs(got-want) > 0.0015 {
				t.Errorf("%s ft, %g F: %.4f, want %.3f", r[0], fahrenheit, got, want)
			}
		}
	}
}

// TestFanInletDensity is *published*: ORNL-AMO AMO-Tools-Suite, Fan.unit.cpp,
// case BaseGasDensity: 70 °F, 29.92 in Hg plus 26.62 in of water, 60 %. That code
// uses another approximation of the vapour pressure: 0.02 %.
func TestFanInletDensity(t *testing.T) {
	temp, err := units.ParseTemperature("70 F")
	if err != nil {
		t.Fatal(err)
	}
	const inchMercury = 3386.389 // Pa, conventional, NIST SP 811
	s, err := air.Moist(temp, 29.92*inchMercury+26.62*units.InchWater, 0.6)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "density", float64(s.Density/units.PoundPerCubicFoot), 0.0793577, 2e-4)
}

// TestVelocityPressure checks the display rule V = 4005·√VP and its metric form
// V = 1.29·√VP, *published* in the ACGIH formulas (testdata: examples/13,
// velocity_pressure.json, first three cases).
func TestVelocityPressure(t *testing.T) {
	s := air.Standard()
	near(t, "standard density", float64(s.Density), 1.2014, 2e-5)
	for _, tt := range []struct {
		v    units.Velocity
		want units.Pressure
		rel  float64 // on the pressure: twice that of the velocity
	}{
		{4005 * units.FootPerMinute, 1 * units.InchWater, 0.006},
		{8010 * units.FootPerMinute, 4 * units.InchWater, 0.006},
		{38.7, 900, 0.006},
		{12.9, 100, 0.006},
	} {
		near(t, "velocity pressure", float64(s.VelocityPressure(tt.v)), float64(tt.want), tt.rel)
	}
	// *Hand-worked*: √(2·249.08891/1.20138475) = 20.36344 m/s = 4008.6 fpm.
	near(t, "one inch", float64(s.VelocityPressure(20.36344)), float64(units.InchWater), 1e-6)
	// *Hand-worked*: 1.813405882e-5/1.20138475.
	near(t, "kinematic viscosity", s.Kinematic(), 1.509430e-5, 1e-6)
}

func TestOutOfRange(t *testing.T) {
	nan := math.NaN()
	room := units.Celsius(20)
	for name, call := range map[string]func() error{
		"hot":           func() error { _, err := air.Moist(units.Celsius(81), 101325, 0.5); return err },
		"cold":          func() error { _, err := air.Moist(units.Celsius(-61), 101325, 0.5); return err },
		"thin":          func() error { _, err := air.Moist(room, 29e3, 0.5); return err },
		"dense":         func() error { _, err := air.Moist(room, 121e3, 0.5); return err },
		"humid":         func() error { _, err := air.Moist(room, 101325, 1.01); return err },
		"dry":           func() error { _, err := air.Moist(room, 101325, -0.01); return err },
		"boiling":       func() error { _, err := air.Moist(units.Celsius(80), 40e3, 1); return err },
		"nan t":         func() error { _, err := air.Moist(units.Temperature(nan), 101325, 0.5); return err },
		"nan p":         func() error { _, err := air.Moist(room, units.Pressure(nan), 0.5); return err },
		"nan rh":        func() error { _, err := air.Moist(room, 101325, units.Ratio(nan)); return err },
		"high":          func() error { _, err := air.PressureAt(11001); return err },
		"low":           func() error { _, err := air.PressureAt(-501); return err },
		"nan z":         func() error { _, err := air.PressureAt(units.Length(nan)); return err },
		"saturated hot": func() error { _, err := air.SaturationPressure(units.Celsius(201)); return err },
	} {
		if err := call(); !errors.Is(err, air.ErrRange) || !strings.HasPrefix(err.Error(), "air: ") {
			t.Errorf("%s: error %v", name, err)
		}
	}
}

// TestProperties checks what holds for any air: water vapour is lighter than air,
// warm air is lighter and more viscous than cold, and the saturation pressures
// over ice and over water meet at the triple point, within the fit of the two
// formulas.
func TestProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.Float64Range(-20, 45).Draw(t, "C")
		p := units.Pressure(rapid.Float64Range(70e3, 108e3).Draw(t, "p"))
		rh := units.Ratio(rapid.Float64Range(0, 0.9).Draw(t, "rh"))
		at := func(c float64, rh units.Ratio) air.State {
			s, err := air.Moist(units.Celsius(c), p, rh)
			if err != nil {
				t.Fatal(err)
			}
			return s
		}
		here := at(c, rh)
		if at(c, rh+0.1).Density >= here.Density {
			t.Fatal("humid air is not lighter")
		}
		if warm := at(c+1, rh); warm.Density >= here.Density || warm.Viscosity <= here.Viscosity {
			t.Fatal("warm air is not lighter and more viscous")
		}
	})
	const triple = 273.16
	ice, errIce := air.SaturationPressure(triple)
	water, errWater := air.SaturationPressure(triple + 1e-9)
	if errIce != nil || errWater != nil {
		t.Fatal(errIce, errWater)
	}
	near(t, "water over ice at the triple point", float64(water), float64(ice), 1e-4)
	if ice == water {
		t.Error("one formula serves both sides")
	}
}
