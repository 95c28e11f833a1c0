package fan_test

import (
	"math"
	"testing"

	"wyewright/network/fan"
	"wyewright/network/units"
)

// TestAtSpeed: every kind of curve at another speed gives by² of the pressure at
// by times the flow; the tabled ones by their points, an unknown one as asked.
// Hand-worked from the fan laws.
func TestAtSpeed(t *testing.T) {
	pts := []fan.Point{{Flow: 0, Pressure: 2400}, {Flow: 0.3, Pressure: 1900}, {Flow: 0.6, Pressure: 600, Power: 1500}}
	table, err := fan.NewTable(pts)
	if err != nil {
		t.Fatal(err)
	}
	line, err := fan.NewLinear(pts)
	if err != nil {
		t.Fatal(err)
	}
	const by = 0.9
	for name, c := range map[string]fan.Curve{"table": table, "linear": line, "quadratic": fan.Quadratic{Shutoff: 2400, FreeAir: 0.7}, "other": other{table}} {
		slow := fan.AtSpeed(c, by)
		for _, q := range []float64{0, 0.1, 0.31, 0.55} {
			p, slope := c.Pressure(q)
			got, gotSlope := slow.Pressure(by * q)
			if math.Abs(got-by*by*p) > 1e-9*2400 || math.Abs(gotSlope-by*slope) > 1e-9*math.Abs(slope)+1e-6 {
				t.Errorf("%s at %g: %g and %g, want %g and %g", name, q, got, gotSlope, by*by*p, by*slope)
			}
		}
		if _, hi := c.Range(); true {
			if _, got := slow.Range(); math.Abs(got-by*hi) > 1e-12 {
				t.Errorf("%s ends at %g, want %g", name, got, by*hi)
			}
		}
	}
	if f, ok := fan.AtSpeed(fan.Fixed{Flow: 0.5}, by).(fan.Fixed); !ok || math.Abs(float64(f.Flow)-0.45) > 1e-15 {
		t.Errorf("a fixed flow becomes %v", f)
	}
	m := fan.Motor{Points: pts}.AtSpeed(by)
	if got := m.Points[2]; math.Abs(float64(got.Power)-0.729*1500) > 1e-9 || math.Abs(float64(got.Flow-units.Flow(0.54))) > 1e-12 || pts[2].Power != 1500 {
		t.Errorf("power point %+v", got)
	}
}

// other is a curve of a foreign type.
type other struct{ fan.Curve }
