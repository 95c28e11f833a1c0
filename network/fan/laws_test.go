package fan_test

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"wyewright/network/fan"
	"wyewright/network/units"
)

// TestScaleTestCode compares with a *published* conversion of a measured curve by
// a fan test code with compressibility (ORNL-AMO AMO-Tools-Suite, Fan.unit.cpp,
// case FanCurve): the plain laws hold within 0.16 %.
func TestScaleTestCode(t *testing.T) {
	var old []fan.Point
	rows := curveFile(t, "06_fan_curve_density_speed/curve.csv")
	for _, r := range rows {
		old = append(old, fan.Point{
			Flow:     units.Flow(r[0]) * units.CubicFootPerMinute,
			Pressure: units.Pressure(r[1]) * units.InchWater,
			Power:    units.Power(r[2]) * units.Horsepower,
		})
	}
	if len(old) != 15 {
		t.Fatalf("%d points", len(old))
	}
	got := fan.Scale(old, 0.0308*units.PoundPerCubicFoot, 0.0332*units.PoundPerCubicFoot, 1180./60, 1187./60)
	for i, r := range rows {
		near(t, "flow", got[i].Flow.In(units.US), r[3], 1.6e-3)
		near(t, "pressure", got[i].Pressure.In(units.US), r[4], 1.6e-3)
		near(t, "power", got[i].Power.In(units.US), r[5], 1.6e-3)
	}
}

// TestScalePublished checks the worked examples of testdata: examples/13,
// fan_laws_power_density.json, each to its printed digits (*published*).
func TestScalePublished(t *testing.T) {
	const rho = units.Density(1.2)
	point := func(cfm, inches, hp float64) []fan.Point {
		return []fan.Point{{
			Flow:     units.Flow(cfm) * units.CubicFootPerMinute,
			Pressure: units.Pressure(inches) * units.InchWater,
			Power:    units.Power(hp) * units.Horsepower,
		}}
	}
	check := func(name string, got fan.Point, cfm, inches, hp, rel float64) {
		t.Helper()
		near(t, name+" flow", got.Flow.In(units.US), cfm, rel)
		near(t, name+" pressure", got.Pressure.In(units.US), inches, rel)
		near(t, name+" power", got.Power.In(units.US), hp, rel)
	}
	// Abulencia & Theodore 2009, Example 17.2.
	check("speed", fan.Scale(point(12200, 5, 9.25), rho, rho, 1694, 2100)[0], 15123.97, 7.68, 17.62, 1e-3)
	// Solberg, Elementary Heat Power, Example 10.5.
	check("faster", fan.Scale(point(10000, 2, 4), rho, rho, 400, 600)[0], 15000, 4.5, 13.5, 1e-12)
	// Fan catalogue page: 6000 ft and 200 °F, factor 0.643, to standard and back.
	thin := 0.643 * rho
	check("altitude", fan.Scale(point(7500, 1.5, 2.27), thin, rho, 0, 0)[0], 7500, 2.33, 3.53, 2e-3)
	// Stoecker & Jones, chapter 6: 20 to 40 °C at the same speed.
	warm := fan.Scale([]fan.Point{{Flow: 2.4, Pressure: 340, Power: 1800}}, rho, rho*293.15/313.15, 25, 25)[0]
	near(t, "warm power", float64(warm.Power), 1685, 3e-4)
	near(t, "warm pressure", float64(warm.Pressure), 318.3, 1e-4)
	near(t, "warm flow", float64(warm.Flow), 2.4, 1e-15)
}

// TestScaleProperties checks that scaling there and back changes nothing and
// leaves the points of the caller alone.
func TestScaleProperties(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		pts := falling(rt)
		pts[0].Power = 1234
		r0 := units.Density(rapid.Float64Range(0.8, 1.4).Draw(rt, "rho0"))
		r1 := units.Density(rapid.Float64Range(0.8, 1.4).Draw(rt, "rho1"))
		n0 := units.Speed(rapid.Float64Range(10, 60).Draw(rt, "n0"))
		n1 := units.Speed(rapid.Float64Range(10, 60).Draw(rt, "n1"))
		back := fan.Scale(fan.Scale(pts, r0, r1, n0, n1), r1, r0, n1, n0)
		for i := range pts {
			near(t, "flow", float64(back[i].Flow), float64(pts[i].Flow), 1e-12)
			near(t, "pressure", float64(back[i].Pressure), float64(pts[i].Pressure), 1e-9)
			near(t, "power", float64(back[i].Power), float64(pts[i].Power), 1e-12)
		}
		if pts[0].Pressure != 3000 {
			rt.Fatal("the caller's points were changed")
		}
	})
	// An unknown speed or density cannot become a curve.
	pts := points(0, 3, 1, 2)
	for name, bad := range map[string][]fan.Point{
		"old speed": fan.Scale(pts, 1, 1, 0, 25), "new speed": fan.Scale(pts, 1, 1, 25, 0),
		"old density": fan.Scale(pts, 0, 1, 1, 1), "new density": fan.Scale(pts, 1, 0, 1, 1),
	} {
		if _, err := fan.NewTable(bad); err == nil {
			t.Errorf("a zero %s makes a curve: %v", name, bad)
		}
	}
}

// TestFilter is hand-worked: 250 Pa at 2500 m³/h = 0.69444 m³/s.
func TestFilter(t *testing.T) {
	near(t, "coefficient", fan.FilterAt(250, 2500*units.CubicMetrePerHour), 360, 1e-12)
	for _, q := range []units.Flow{0, -1, units.Flow(math.NaN())} {
		if got := fan.FilterAt(250, q); !math.IsNaN(got) {
			t.Errorf("coefficient at flow %v is %v", q, got)
		}
	}
}

// TestSeparator is hand-worked: 6.4 heads at 15 m/s and 1.2 kg/m³ are 864 Pa.
// The heads named in the documentation are those of the cyclone table, which
// follow from the proportions by 16·a·b/De² (*published* proportions).
func TestSeparator(t *testing.T) {
	s := fan.Separator{Heads: 6.4, Inlet: 0.02}
	near(t, "loss", s.Coefficient(1.2)*0.3*0.3, 864, 1e-12)

	f, err := os.Open(examples + "../cyclones.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]float64{"Stairmand high efficiency": 6.4, "Lapple general purpose": 8}
	for _, r := range rows {
		heads, named := want[r[1]]
		if !named {
			continue
		}
		var x [4]float64
		for i := range x {
			if x[i], err = strconv.ParseFloat(r[2+i], 64); err != nil {
				t.Fatal(err)
			}
		}
		near(t, r[1], x[3], heads, 1e-12)
		near(t, r[1]+" by proportions", 16*x[0]*x[1]/(x[2]*x[2]), heads, 1e-12)
		delete(want, r[1])
	}
	if len(want) != 0 {
		t.Errorf("not in the table: %v", want)
	}
}

// TestMotor checks the two published powers by efficiency, the interpolation
// (hand-worked), and each way not to know.
func TestMotor(t *testing.T) {
	known := []fan.Point{{Flow: 0, Power: 1000}, {Flow: 1, Power: 2000}, {Flow: 2, Power: 4000}}
	partly := []fan.Point{{Flow: 0}, {Flow: 1, Power: 2000}, {Flow: 2, Power: 4000}}
	for _, tt := range []struct {
		name  string
		motor fan.Motor
		q     units.Flow
		p     units.Pressure
		want  units.Power
		ok    bool
		rel   float64
	}{
		// Abulencia & Theodore 2009, Example 17.3: printed 17.55 hp.
		{"by efficiency", fan.Motor{Efficiency: 0.63}, 6500 * units.CubicFootPerMinute, 10.8 * units.InchWater, 17.55 * units.Horsepower, true, 2e-3},
		// Solberg, Example 10.4: 291.894 ft of air at 0.075 lb/ft³, 78.047 %: 17 hp.
		{"by head", fan.Motor{Efficiency: 0.78047}, 20000 * units.CubicFootPerMinute, 291.894 * 0.3048 * 9.80665 * 0.075 * units.Pressure(units.PoundPerCubicFoot), 17 * units.Horsepower, true, 1e-3},
		{"between", fan.Motor{Points: known}, 1.5, 500, 3000, true, 1e-12},
		{"at a point", fan.Motor{Points: known}, 1, 500, 2000, true, 1e-12},
		{"at no flow", fan.Motor{Points: known, Efficiency: 0.5}, 0, 500, 1000, true, 1e-12},
		{"points before efficiency", fan.Motor{Points: known, Efficiency: 0.5}, 2, 500, 4000, true, 1e-12},
		{"past the points", fan.Motor{Points: known}, 2.01, 500, 0, false, 0},
		{"past the points, by efficiency", fan.Motor{Points: known, Efficiency: 0.5}, 2.5, 500, 2500, true, 1e-12},
		{"unknown power", fan.Motor{Points: partly}, 0.5, 500, 0, false, 0},
		{"nothing known", fan.Motor{Rating: 4000}, 1, 500, 0, false, 0},
		{"bad efficiency", fan.Motor{Efficiency: 1.2}, 1, 500, 0, false, 0},
		{"no flow, efficiency", fan.Motor{Efficiency: 0.5}, 0, 500, 0, false, 0},
		{"no pressure, efficiency", fan.Motor{Efficiency: 0.5}, 1, -5, 0, false, 0},
	} {
		got, ok := tt.motor.Load(tt.q, tt.p)
		if ok != tt.ok {
			t.Errorf("%s: known is %v", tt.name, ok)
		}
		near(t, tt.name, float64(got), float64(tt.want), tt.rel)
	}
}
