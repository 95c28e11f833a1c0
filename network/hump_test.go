package network_test

import (
	"math"
	"testing"

	"wyewright/network"
	"wyewright/network/air"
	"wyewright/network/fan"
	"wyewright/network/units"
)

// TestHumpedFan: a curve with a dip at part load crosses a duct's square law
// three times; the answer is the crossing with the most flow. The crossings are
// found from the curve itself by bisection on 100,000 flows.
func TestHumpedFan(t *testing.T) {
	curve, err := fan.NewTable([]fan.Point{{Flow: 0, Pressure: 1500}, {Flow: 0.1, Pressure: 500}, {Flow: 0.2, Pressure: 300}, {Flow: 0.25, Pressure: 700},
		{Flow: 0.3, Pressure: 1500}, {Flow: 0.4, Pressure: 1900}, {Flow: 0.5, Pressure: 1700}, {Flow: 0.7, Pressure: 600}, {Flow: 0.8, Pressure: 0}})
	if err != nil {
		t.Fatal(err)
	}
	several := 0
	// c of Δp = c·Q² from flat to steep, in a wide and in a narrow duct, whose
	// first guess lies above and below the dip.
	for i := range 100 {
		d := []float64{0.16, 0.1}[i%2]
		area := math.Pi / 4 * d * d
		c := 2000 * math.Pow(1.05, float64(i/2))
		k := c * 2 * area * area / float64(air.Standard().Density)
		spec := network.Spec{Air: air.Standard(), Friction: network.Frictionless, Points: points("P", "COL"),
			Runs: []network.Run{bare("duct", "P", "COL", d, k)}, Tools: []network.Tool{hood("T", "P", d)},
			Collectors: []network.Collector{{ID: "fan", At: "COL", Inlet: units.Length(d), Curve: curve, Meaning: network.FanStatic}}}
		spec.Tools[0].Ports[0].Entry = 0
		_, sol := solveSpec(t, spec, network.State{Running: []string{"T"}})
		web, err := network.NewGeneral(spec)
		if err != nil {
			t.Fatal(err)
		}
		other, err := network.Solve(t.Context(), web, network.State{Running: []string{"T"}})
		if err != nil {
			t.Fatal(err)
		}
		var crossings []float64
		before := 1.0
		for i := 1; i <= 100000; i++ {
			q := 0.9 * float64(i) / 100000
			h, _ := curve.Pressure(q)
			now := h - c*q*q
			if now*before < 0 {
				crossings = append(crossings, q)
			}
			before = now
		}
		if len(crossings) > 1 {
			several++
		}
		want := crossings[len(crossings)-1]
		if got := float64(other.Collector.Flow); math.Abs(got-want) > 2e-5 {
			t.Errorf("c = %.0f, %v m: %v m³/s by the general solver, crossings at %v", c, d, units.Flow(got), crossings)
		}
		if got := float64(sol.Collector.Flow); math.Abs(got-want) > 2e-5 {
			t.Errorf("c = %.0f, %v m: %v m³/s, crossings at %v", c, d, units.Flow(got), crossings)
		}
	}
	if several < 20 {
		t.Errorf("only %d systems cross the curve more than once", several)
	}
}
