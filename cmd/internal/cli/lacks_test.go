package cli

import (
	"testing"

	"wyewright/network"
)

// TestLacks: the worst of what a state misses is named; what meets is not.
// Hand-worked.
func TestLacks(t *testing.T) {
	s := &network.Spec{Runs: []network.Run{{ID: "main"}, {ID: "drop"}}, Tools: []network.Tool{{ID: "saw"}}}
	slow := []network.RunVerdict{{Run: 0, Ratio: 1.2}, {Run: 1, Ratio: 0.984}}
	for _, c := range []struct {
		v    network.Verdict
		want string
	}{
		{network.Verdict{Tools: []network.ToolVerdict{{Tool: 0, Ratio: 1.1}}, Dust: slow}, " (air in drop at 98 % of transport velocity)"},
		{network.Verdict{Tools: []network.ToolVerdict{{Tool: 0, Ratio: 0.5}}, Dust: slow}, " (saw gets 50 % of its flow)"},
		{network.Verdict{Tools: []network.ToolVerdict{{Tool: 0, Ratio: 1.1}}, Backward: []int{1}}, ""},
	} {
		if got := lacks(s, &c.v); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}
