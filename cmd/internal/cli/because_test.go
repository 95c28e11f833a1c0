package cli

import (
	"testing"

	"wyewright/network"
	"wyewright/network/units"
	"wyewright/optimize"
)

func TestBecause(t *testing.T) {
	flow := optimize.Shortfall{Rule: optimize.FlowRule, Tool: "saw", Ratio: 0.93}
	dust := optimize.Shortfall{Rule: optimize.TransportRule, Run: "main", Ratio: 0.9}
	for _, c := range []struct {
		r    optimize.Reason
		want string
	}{
		{optimize.Reason{}, "part of the plan, though no rule hangs on it alone"},
		{optimize.Reason{Needed: true, Held: true, Without: flow}, "lets saw have its flow (93 % without it)"},
		{optimize.Reason{Needed: true, Without: flow}, "brings more air to saw (93 % without it)"},
		{optimize.Reason{Needed: true, Held: true, Without: dust, Reached: 16, Limit: 17.8}, "keeps main above 17.8 m/s (16.0 m/s without it)"},
		{optimize.Reason{Needed: true, Without: dust, Reached: 16, Limit: 17.8}, "helps to keep main above 17.8 m/s (16.0 m/s without it)"},
		{optimize.Reason{Needed: true, Held: true, Without: optimize.Shortfall{Rule: optimize.CeilingRule, Run: "main"}, Reached: 31, Limit: 30}, "keeps main below 30.0 m/s (31.0 m/s without it)"},
		{optimize.Reason{Needed: true, Held: true, Without: optimize.Shortfall{Rule: optimize.DirectionRule, Run: "main"}}, "keeps the air in main from running backward"},
		{optimize.Reason{Needed: true, Held: true, Without: optimize.Shortfall{Rule: optimize.MotorRule}}, "keeps the motor within its rating"},
	} {
		if got := because(&c.r, units.SI); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// TestWhySet: what the file sets open is told from what the plan opens.
func TestWhySet(t *testing.T) {
	state := optimize.StateResult{State: network.State{Open: []string{"lathe", "saw"}}}
	o := &outcome{result: &optimize.Result{States: []optimize.StateResult{state}}, reasons: [][]optimize.Reason{nil}}
	if got := o.why(0); got != "set in the shop file" {
		t.Errorf("%q", got)
	}
	o.result.States[0].Companions = []string{"saw"}
	o.reasons[0] = []optimize.Reason{{Open: "saw"}}
	if got := o.why(0); got != "part of the plan, though no rule hangs on it alone; lathe: set in the shop file" {
		t.Errorf("%q", got)
	}
}
