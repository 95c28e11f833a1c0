package network_test

import (
	"context"
	"fmt"
	"os"
	"testing"

	"wyewright/network"
	"wyewright/network/catalog"
	"wyewright/network/shopfile"
)

// stateRow is a row of a state table of an invented workshop, computed by an
// independent solver (total pressure, Swamee-Jain friction, the coefficients
// of the demo files): flows in m³/h or cfm by run or tool, suction at the
// inlet's wall in Pa.
type stateRow struct {
	running []string
	runs    map[string]float64
	tools   map[string]float64
	suction float64
}

const (
	m3h  = 1 / 3600.0
	cfm  = 0.3048 * 0.3048 * 0.3048 / 60
	inWG = 249.08891
)

// TestStateTables: the demo shops as found reproduce their state tables
// within 5 %, plus a few m³/h where a table rounds small leaks.
func TestStateTables(t *testing.T) {
	cases := []struct {
		shop string
		unit float64
		slop float64 // rounding of the table, in its unit
		rows []stateRow
	}{
		{"school", m3h, 3, []stateRow{
			{nil, map[string]float64{"main 1": 234, "main 3": 187}, nil, 2934},
			{[]string{"planer"}, map[string]float64{"main 1": 996, "main 3": 177}, map[string]float64{"planer": 774}, 2721},
			{[]string{"saw bench"}, map[string]float64{"main 1": 1464, "main 3": 168}, map[string]float64{"saw bench": 1253}, 2590},
			{[]string{"planer", "bandsaw", "lathe 1"}, map[string]float64{"main 1": 2530, "main 3": 1962},
				map[string]float64{"planer": 533, "bandsaw": 875, "lathe 1": 969}, 1867},
			{[]string{"linisher"}, map[string]float64{"main 1": 1483, "main 3": 1440}, map[string]float64{"linisher": 1268}, 2585},
		}},
		{"instrument", cfm, 2, []stateRow{
			{nil, map[string]float64{"trunk 1": 192, "trunk 2": 13}, nil, 7.57 * inWG},
			{[]string{"resaw bandsaw"}, map[string]float64{"trunk 1": 379}, map[string]float64{"resaw bandsaw": 246}, 6.89 * inWG},
			{[]string{"drum sander"}, map[string]float64{"trunk 1": 373, "trunk 2": 245}, map[string]float64{"drum sander": 237}, 6.92 * inWG},
			{[]string{"neck bench"}, map[string]float64{"trunk 1": 360, "trunk 2": 226}, map[string]float64{"neck bench": 218}, 6.99 * inWG},
			{[]string{"drum sander", "resaw bandsaw"}, map[string]float64{"trunk 1": 419, "trunk 2": 153},
				map[string]float64{"resaw bandsaw": 161, "drum sander": 149}, 6.69 * inWG},
		}},
		{"coop", m3h, 6, []stateRow{
			{nil, map[string]float64{"main 1": 637}, nil, 3589},
			{[]string{"bandsaw 500"}, map[string]float64{"main 1": 2031}, map[string]float64{"bandsaw 500": 1431}, 3341},
			{[]string{"panel saw 1", "thicknesser", "spindle moulder"}, map[string]float64{"main 1": 4778},
				map[string]float64{"panel saw 1": 1130, "thicknesser": 1706, "spindle moulder": 1591}, 2095},
			{[]string{"wide-belt sander", "panel saw 1"}, map[string]float64{"main 1": 4156},
				map[string]float64{"wide-belt sander": 2275, "panel saw 1": 1434}, 2498},
			{[]string{"wide-belt sander", "thicknesser", "spindle moulder", "panel saw 2"}, map[string]float64{"main 1": 5088},
				map[string]float64{"wide-belt sander": 1354, "thicknesser": 1315, "spindle moulder": 1300, "panel saw 2": 832}, 1875},
			{[]string{"panel saw 1", "panel saw 2", "edge-bander", "bandsaw 700"}, map[string]float64{"main 1": 4632},
				map[string]float64{"panel saw 1": 1210, "panel saw 2": 1133, "edge-bander": 1077, "bandsaw 700": 840}, 2189},
		}},
	}
	c, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range cases {
		src, err := os.ReadFile("../testdata/shops/" + k.shop + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		f, err := shopfile.Decode(k.shop, src, c)
		if err != nil {
			t.Fatal(err)
		}
		n, err := network.New(f.Spec)
		if err != nil {
			t.Fatal(err)
		}
		worst := 0.0
		within := func(what string, got, want, slop float64) {
			t.Helper()
			d := got - want
			if d < 0 {
				d = -d
			}
			worst = max(worst, (d-slop)/want)
			if d > 0.05*want+slop {
				t.Errorf("%s: %s = %.0f, table %.0f", k.shop, what, got, want)
			}
		}
		for _, row := range k.rows {
			sol, err := network.Solve(context.Background(), n, network.State{Running: row.running})
			if err != nil {
				t.Fatal(err)
			}
			for id, want := range row.runs {
				i, ok := n.RunIndex(id)
				if !ok {
					t.Fatalf("no run %q", id)
				}
				within(fmt.Sprint(row.running, " ", id), float64(sol.Runs[i].Flow)/k.unit, want, k.slop)
			}
			for id, want := range row.tools {
				i, ok := n.ToolIndex(id)
				if !ok {
					t.Fatalf("no tool %q", id)
				}
				within(fmt.Sprint(row.running, " ", id), float64(sol.Tools[i].Flow)/k.unit, want, k.slop)
			}
			if row.suction > 0 {
				within(fmt.Sprint(row.running, " suction"), float64(sol.Collector.Static), row.suction, 2)
			}
		}
		t.Logf("%s: worst deviation %.1f %%", k.shop, 100*worst)
	}
}
