package cli

import (
	"testing"

	"wyewright/network"
	"wyewright/network/units"
)

// TestRunWords: each word of a run, and a run of two widths that is slow in
// the wide one and fast in the narrow one. Hand-worked.
func TestRunWords(t *testing.T) {
	slow := network.RunVerdict{Velocity: 12, Limit: 18, Ratio: 12.0 / 18}
	fine := network.RunVerdict{Velocity: 20, Limit: 18, Ratio: 20.0 / 18}
	fast := network.RunVerdict{Velocity: 33.04, Limit: 30, Ratio: 30 / 33.04}
	other := network.RunVerdict{Run: 1, Velocity: 40, Limit: 30, Ratio: 0.75}
	for _, c := range []struct {
		v           network.Verdict
		limit, want string
	}{
		{network.Verdict{}, "", "no dust"},
		{network.Verdict{Dust: []network.RunVerdict{fine}, Fast: []network.RunVerdict{other}}, "18.0", "ok"},
		{network.Verdict{Dust: []network.RunVerdict{slow}}, "18.0", "slow: dust may settle"},
		{network.Verdict{Fast: []network.RunVerdict{other, fast}}, "", "fast: 33.0 is above the ceiling of 30.0"},
		{network.Verdict{Dust: []network.RunVerdict{slow}, Fast: []network.RunVerdict{fast}}, "18.0",
			"slow: dust may settle, fast: 33.0 is above the ceiling of 30.0"},
		{network.Verdict{Dust: []network.RunVerdict{slow}, Backward: []int{0}}, "18.0", "backward: air runs the wrong way"},
	} {
		if limit, words := runWords(&c.v, 0, units.SI); limit != c.limit || words != c.want {
			t.Errorf("%q %q, want %q %q", limit, words, c.limit, c.want)
		}
	}
}

// TestSettings: the gate card and check say everything that a state opens, shuts
// and switches off.
func TestSettings(t *testing.T) {
	s := network.State{Open: []string{"bleed"}, OpenGates: []string{"main 2"}, ShutGates: []string{"link"}, Off: []string{"old unit"}}
	if got, want := settings(&s, "nothing else"), "bleed, gate in main 2, gate in link shut, old unit off"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := settings(&network.State{}, "nothing else"); got != "nothing else" {
		t.Errorf("%q", got)
	}
}
