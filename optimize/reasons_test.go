package optimize

import (
	"slices"
	"testing"

	"wyewright/network"
)

// TestReasons: on generated shops a companion is called needed exactly where
// solving the state without it misses something, and what is named is the worst
// of it, both found here by another way.
func TestReasons(t *testing.T) {
	needed, idle := 0, 0
	for from := 0; from < 400; from += 10 {
		p, r := feasible(t, from)
		all, err := p.Reasons(t.Context(), r)
		if err != nil {
			t.Fatal(err)
		}
		for s, reasons := range all {
			st := r.States[s]
			if len(reasons) != len(st.Companions) {
				t.Fatalf("seed %d: %d reasons for %d companions", from, len(reasons), len(st.Companions))
			}
			for _, why := range reasons {
				state := st.State
				state.Open = slices.DeleteFunc(slices.Clone(state.Open), func(o string) bool { return o == why.Open })
				c, err := r.Network.Case(state)
				if err != nil {
					t.Fatal(err)
				}
				_, v, err := network.NewSolver(r.Network, nil).Check(t.Context(), c, &p.Limits)
				if err != nil {
					t.Fatal(err)
				}
				if why.Needed == v.Meets() || !why.Held {
					t.Errorf("seed %d, %s in %s: needed %v, meets without it %v, held %v", from, why.Open, state.Name, why.Needed, v.Meets(), why.Held)
				}
				if !why.Needed {
					idle++
					continue
				}
				needed++
				least := min(v.FlowRatio(), v.DustRatio())
				for _, d := range v.Fast {
					least = min(least, d.Ratio)
				}
				if len(v.Backward) > 0 {
					least = 0
				}
				if m := v.Motor; m.Checked && m.Load > 0 {
					least = min(least, float64(m.Rating/m.Load))
				}
				if why.Without.Ratio != least {
					t.Errorf("seed %d, %s in %s: names %v, the worst is %v", from, why.Open, state.Name, why.Without.Ratio, least)
				}
				if dust := why.Without.Rule == TransportRule; dust && (why.Limit <= 0 || !(why.Reached < why.Limit)) {
					t.Errorf("seed %d: %v of %v m/s", from, why.Reached, why.Limit)
				}
			}
		}
	}
	t.Logf("%d needed, %d not", needed, idle)
	if needed < 5 {
		t.Error("hardly any companion is needed: the test proves little")
	}
}
