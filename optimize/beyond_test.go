package optimize

import "testing"

// TestBeyond: what a plan misses itself is no reason for one of its changes, unless
// it would miss clearly more without. Hand-worked.
func TestBeyond(t *testing.T) {
	own := []Shortfall{{State: "class", Tool: "planer", Ratio: 0.9687}, {State: "class", Rule: TransportRule, Run: "main", Ratio: 0.9}}
	for _, c := range []struct {
		m    Shortfall
		want bool
	}{
		{Shortfall{State: "class", Tool: "planer", Ratio: 0.9686}, false},
		{Shortfall{State: "class", Tool: "planer", Ratio: 0.96}, true},
		{Shortfall{State: "alone", Tool: "planer", Ratio: 0.99}, true},
		{Shortfall{State: "class", Rule: TransportRule, Run: "main", Ratio: 0.9}, false},
		{Shortfall{State: "class", Rule: CeilingRule, Run: "main", Ratio: 0.9}, true},
	} {
		if got := beyond(c.m, own); got != c.want {
			t.Errorf("%+v: %v", c.m, got)
		}
	}
}
