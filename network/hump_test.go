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
	for k := 2.0; k < 60; k *= 1.07 {
		spec := network.Spec{Air: air.Standard(), Friction: network.Frictionless, Points: points("P", "COL"),
			Runs: []network.Run{bare("duct", "P", "COL", 0.16, k)}, Tools: []network.Tool{hood("T", "P", 0.16)},
			Collectors: []network.Collector{{ID: "fan", At: "COL", Inlet: 0.16, Curve: curve, Meaning: network.FanStatic}}}
		spec.Tools[0].Ports[0].Entry = 0
		_, sol := solveSpec(t, spec, network.State{Running: []string{"T"}})
		c := float64(spec.Air.Density) / 2 / math.Pow(math.Pi/4*0.16*0.16, 2) * k
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
		if got := float64(sol.Collector.Flow); math.Abs(got-want) > 2e-5 {
			t.Errorf("k = %.2f: %v m³/s, crossings at %v", k, units.Flow(got), crossings)
		}
	}
	if several < 3 {
		t.Errorf("only %d systems cross the curve more than once", several)
	}
}
