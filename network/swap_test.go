package network_test

import (
	"math"
	"slices"
	"testing"

	"wyewright/network"
	"wyewright/network/air"
	"wyewright/network/fan"
	"wyewright/network/loss"
	"wyewright/network/networktest"
)

// teeShop is a trunk, a drop that rises, turns once and enters it at a right
// angle, and a run straight behind, all of 125 mm; k are what is known of the
// three as built.
func teeShop(t *testing.T, k ...network.Overrides) *network.Network {
	t.Helper()
	curve, err := fan.NewTable([]fan.Point{{Flow: 0, Pressure: 2500}, {Flow: 0.5, Pressure: 300}})
	if err != nil {
		t.Fatal(err)
	}
	s := network.Spec{Name: "tee", Air: air.Standard(), Collectors: []network.Collector{{ID: "fan", At: "COL", Inlet: 0.125, Curve: curve, Meaning: network.FanStatic}}}
	s.Points = []network.Point{{ID: "COL", Placed: true}, {ID: "J", At: network.Vec{X: 4}, Placed: true}, {ID: "A", At: network.Vec{X: 4, Y: 2, Z: -2}, Placed: true},
		{ID: "B", At: network.Vec{X: 8}, Placed: true}, {ID: "C", At: network.Vec{X: 4, Y: -2, Z: -2}, Placed: true}}[:len(k)+1]
	for i, ends := range [][3]string{{"trunk", "J", "COL"}, {"drop A", "A", "J"}, {"far", "B", "J"}, {"drop C", "C", "J"}} {
		if i == len(k) {
			break
		}
		s.Runs = append(s.Runs, network.Run{ID: ends[0], From: ends[1], To: ends[2], K: k[i], Pieces: []network.Piece{networktest.Piece(networktest.Spiral(), 0.125, 0)}})
		if i > 0 {
			s.Tools = append(s.Tools, network.Tool{ID: ends[1], Flow: 0.2, Transport: 15, Ports: []network.Port{{At: ends[1], Diameter: 0.125, Entry: 1, Gate: &network.Gate{}}}})
		}
	}
	n, err := network.New(s)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// lossIn are the pressures, in velocity pressures of the drop, that the air of
// tool A loses by kind.
func lossIn(t *testing.T, n *network.Network) map[network.LossKind]float64 {
	t.Helper()
	sol, err := network.Solve(t.Context(), n, network.State{Name: "A", Running: []string{"A"}})
	if err != nil {
		t.Fatal(err)
	}
	d := float64(n.Spec().Runs[1].Pieces[0].Diameter)
	v := float64(sol.Runs[1].Flow) / (math.Pi / 4 * d * d)
	out := map[network.LossKind]float64{}
	for _, st := range n.Way(sol, 0, 0).Steps {
		if st.Run == 1 {
			out[st.Kind] += float64(st.Loss) / (float64(n.Spec().Air.Density) / 2 * v * v)
		}
	}
	return out
}

// TestSwapByHand: what a drop loses as built, with new elbows, with a new wye and
// with both. Hand-worked: a smooth bend of R/D 2 loses 0.13 at 90°, 0.6 times as
// much at 45°; the family's five-piece bend of R/D 1.5 loses 0.24 and 0.144. All
// air in the branch, of the common size: Kb = 0.55 (1 + 1 − 2 cos 45°).
func TestSwapByHand(t *testing.T) {
	const wye = 0.55 * (2 - math.Sqrt2)
	elbows, joint := network.SwapElbows{Run: 1, Elbow: loss.Smooth, ElbowRD: 2}, network.Rejoin{Run: 1}
	both := network.Overrides{Bends: network.Override(1.3), Junction: network.Override(2.4)}
	for name, c := range map[string]struct {
		k                network.Overrides
		changes          []network.Change
		bend, joint, leg float64
		end              float64
		rejoinable       bool
	}{
		"as built":               {k: both, bend: 1.3, joint: 2.4, end: 45, rejoinable: true},
		"new elbows":             {k: both, changes: []network.Change{elbows}, bend: 0.13 * 1.6, joint: 2.4, end: 45, rejoinable: true},
		"new wye":                {k: both, changes: []network.Change{joint}, bend: 1.3 + 0.144, leg: wye, end: 45},
		"both":                   {k: both, changes: []network.Change{elbows, joint}, bend: 0.13 * 1.6, leg: wye, end: 45},
		"nothing known":          {bend: 0.24 * 1.6, leg: wye, end: 45},
		"nothing known, rejoint": {changes: []network.Change{joint}, bend: 0.24 * 1.6, leg: wye, end: 45},
	} {
		n := teeShop(t, network.Overrides{}, c.k, network.Overrides{}).With(c.changes...)
		got := lossIn(t, n)
		for kind, want := range map[network.LossKind]float64{network.BendLoss: c.bend, network.OwnLoss: c.joint, network.WyeLoss: c.leg} {
			if math.Abs(got[kind]-want) > 1e-6 {
				t.Errorf("%s: %v takes %.6f velocity pressures, want %.6f", name, kind, got[kind], want)
			}
		}
		corners, end, k := n.Bends(1)
		if len(corners) != 1 || corners[0] != 90 || math.Abs(end-c.end) > 1e-9 || math.Abs(k-c.bend) > 1e-9 {
			t.Errorf("%s: bends %v and %g lose %g", name, corners, end, k)
		}
		if n.Rejoinable(1) != c.rejoinable || n.Rejoinable(0) || n.Rejoinable(2) {
			t.Errorf("%s: rejoinable %t, the others %t, %t", name, n.Rejoinable(1), n.Rejoinable(0), n.Rejoinable(2))
		}
	}
}

// TestRejoinable: a coefficient of the main counts as one of its wye where there
// is one wye, and of none of them where there are several.
func TestRejoinable(t *testing.T) {
	none, known := network.Overrides{}, network.Overrides{Junction: network.Override(1.5)}
	for name, c := range map[string]struct {
		k    []network.Overrides
		a, c bool
	}{
		"nothing known":         {[]network.Overrides{none, none, none}, false, false},
		"the main":              {[]network.Overrides{none, none, known}, true, false},
		"the trunk only":        {[]network.Overrides{known, none, none}, false, false},
		"two wyes, branch A":    {[]network.Overrides{none, known, none, none}, true, false},
		"two wyes, branch C":    {[]network.Overrides{none, none, none, known}, false, true},
		"two wyes, main":        {[]network.Overrides{none, none, known, none}, false, false},
		"two wyes, all of them": {[]network.Overrides{none, known, known, known}, false, true},
	} {
		n := teeShop(t, c.k...)
		if got := n.Rejoinable(1); got != c.a {
			t.Errorf("%s: drop A %t", name, got)
		}
		if len(c.k) > 3 && n.Rejoinable(3) != c.c {
			t.Errorf("%s: drop C %t", name, !c.c)
		}
		if again := n.With(network.Rejoin{Run: 1}); again.Rejoinable(1) {
			t.Errorf("%s: rejoined twice", name)
		}
	}
}

// TestRejoinLeavesTheOther: of two drops that enter opposite each other, a new
// wye for one leaves what is known of the other in force, and the main's lapses
// with the first wye. Hand-worked: K as given, on the drop's velocity pressure.
func TestRejoinLeavesTheOther(t *testing.T) {
	k := func(x float64) network.Overrides { return network.Overrides{Junction: network.Override(x)} }
	n := teeShop(t, network.Overrides{}, k(2.4), network.Overrides{}, k(1.7))
	if !slices.ContainsFunc(n.Joints(), func(j network.Joint) bool { return j.Opposite }) {
		t.Fatal("the drops are not opposed")
	}
	own := func(n *network.Network, tool string, run int) float64 {
		sol, err := network.Solve(t.Context(), n, network.State{Name: tool, Running: []string{tool}})
		if err != nil {
			t.Fatal(err)
		}
		k, _ := n.ToolIndex(tool)
		v := float64(sol.Runs[run].Flow) / (math.Pi / 4 * 0.125 * 0.125)
		for _, st := range n.Way(sol, k, 0).Steps {
			if st.Kind == network.OwnLoss {
				return float64(st.Loss) / (float64(n.Spec().Air.Density) / 2 * v * v)
			}
		}
		return 0
	}
	for _, c := range []struct {
		run     int
		a, c    float64
		changed string
	}{{1, 0, 1.7, "drop A"}, {3, 2.4, 0, "drop C"}} {
		v := n.With(network.Rejoin{Run: c.run})
		if a, b := own(v, "A", 1), own(v, "C", 3); math.Abs(a-c.a) > 1e-6 || math.Abs(b-c.c) > 1e-6 {
			t.Errorf("%s rejoined: known of A %.4f, of C %.4f; want %g, %g", c.changed, a, b, c.a, c.c)
		}
	}
	for _, run := range []int{1, 3} {
		if slices.ContainsFunc(n.With(network.Rejoin{Run: run}).Joints(), func(j network.Joint) bool { return j.Opposite }) {
			t.Errorf("still opposed with a new wye for run %d", run)
		}
	}
	m := teeShop(t, network.Overrides{}, network.Overrides{}, k(0.9))
	if before, after := own(m, "B", 2), own(m.With(network.Rejoin{Run: 1}), "B", 2); math.Abs(before-0.9) > 1e-6 || after != 0 {
		t.Errorf("the main's coefficient is %g, and %g with a new wye for the branch", before, after)
	}
}
