package network_test

import (
	"os"
	"testing"

	"wyewright/network"
	"wyewright/network/air"
	"wyewright/network/catalog"
	"wyewright/network/fan"
	"wyewright/network/shopfile"
	"wyewright/network/units"
)

// closed is a duct of two pieces, wide and narrow, with a gate at its tool and a
// hole at the tool's end, behind a fan with the given curve.
func closed(curve fan.Curve, hole units.Area) network.Spec {
	s := network.Spec{Air: air.Standard(), Friction: network.Frictionless, Points: points("P", "COL"),
		Runs: []network.Run{bare("duct", "P", "COL", 0.1, 0)}, Tools: []network.Tool{hood("T", "P", 0.1)},
		Collectors: []network.Collector{{ID: "fan", At: "COL", Inlet: 0.1, Curve: curve, Meaning: network.FanStatic}}}
	s.Tools[0].Ports[0].Gate = &network.Gate{}
	s.Leaks = []network.Leak{{ID: "hole", At: "P", Area: hole}}
	return s
}

func shutOff(t *testing.T, s network.Spec) *network.ShutOff {
	t.Helper()
	n, err := network.New(s)
	if err != nil {
		t.Fatal(err)
	}
	out, err := n.ShutOff(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// TestShutOffByHand is hand-worked: a tight duct bears the shut-off pressure of
// 2000 Pa; with a leak the solver has less, but the check still takes the
// highest pressure of the curve, and the velocity pressure of the leak's air on
// top: 4 cm² at 2000 Pa let in less than 0.62·4e-4·√(2·2000/1.2) = 0.01432 m³/s,
// in the duct of 0.1 m 1.823 m/s, at most 2.0 Pa.
func TestShutOffByHand(t *testing.T) {
	falling := fan.Quadratic{Shutoff: 2000, FreeAir: 0.5}
	if got := shutOff(t, closed(falling, 0)).Most; got != 2000 {
		t.Errorf("a tight duct bears %v Pa, want 2000", float64(got))
	}
	if got := shutOff(t, closed(falling, 4e-4)).Most; got < 2000 || got > 2002 {
		t.Errorf("a leaking duct bears %v Pa, want 2000 to 2002", float64(got))
	}
	// A hump: 1500 Pa shut off, 1900 Pa at its top.
	humped, err := fan.NewTable([]fan.Point{{Flow: 0, Pressure: 1500}, {Flow: 0.3, Pressure: 1900}, {Flow: 0.6, Pressure: 0}})
	if err != nil {
		t.Fatal(err)
	}
	if got := shutOff(t, closed(humped, 0)).Most; got < 1899 || got > 1905 {
		t.Errorf("behind a humped fan: %v Pa, want 1900, the top of the hump", float64(got))
	}
}

// TestShutOffOpen: a port without a gate stays open and is counted, and a fan of
// fixed flow says nothing.
func TestShutOffOpen(t *testing.T) {
	s := closed(fan.Quadratic{Shutoff: 2000, FreeAir: 0.5}, 0)
	s.Tools[0].Ports[0].Gate = nil
	if got := shutOff(t, s); got.Open != 1 {
		t.Errorf("%d ports stay open, want 1", got.Open)
	}
	if got := shutOff(t, closed(fan.Fixed{Flow: 0.1}, 1e-3)); !got.Fixed || got.Pieces != nil {
		t.Errorf("fixed flow: %+v, want nothing but Fixed", got)
	}
}

// TestShutOffSchool: computed by an independent solver, the school bears 2934 Pa
// at the inlet's wall with the loaded filter and all gates shut, where its leaks
// flow; the check takes the curve's 3000 Pa at no flow.
func TestShutOffSchool(t *testing.T) {
	c, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	src, err := os.ReadFile("../testdata/shops/school.yaml")
	if err != nil {
		t.Fatal(err)
	}
	f, err := shopfile.Decode("school", src, c)
	if err != nil {
		t.Fatal(err)
	}
	got := shutOff(t, f.Spec)
	if got.Most < 2995 || got.Most > 3010 || got.Open != 0 {
		t.Errorf("suction %v Pa with %d ports open, want 3000 Pa and none", float64(got.Most), got.Open)
	}
	for run, pieces := range got.Pieces {
		for _, p := range pieces {
			if p < 2934 || p > got.Most {
				t.Errorf("run %d bears %v Pa", run, float64(p))
			}
		}
	}
}
