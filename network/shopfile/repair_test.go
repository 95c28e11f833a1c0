package shopfile

import (
	"strings"
	"testing"
)

// TestRepairForAll: a repair in the defaults is that of every gate at a port that
// leaks more than it leaves, unless the gate has one of its own; gates in runs
// take none. Hand-worked.
func TestRepairForAll(t *testing.T) {
	src := strings.Replace(string(small(5, "states: [each alone]\n")), "collectors:", "defaults: {gate: {leak: 2 cm2, repair: 15 EUR, leaves: 0.5 cm2}}\ncollectors:", 1)
	for was, now := range map[string]string{
		"{at: P1, size: 100 mm, entry: 1, gate: yes}":  "{at: P1, size: 100 mm, entry: 1}",
		"{at: P2, size: 100 mm, entry: 1, gate: yes}":  "{at: P2, size: 100 mm, entry: 1, gate: no}",
		"{at: P3, size: 100 mm, entry: 1, gate: yes}":  "{at: P3, size: 100 mm, entry: 1, gate: {leak: 0.5 cm2}}",
		"{at: P4, size: 100 mm, entry: 1, gate: yes}":  "{at: P4, size: 100 mm, entry: 1, gate: {repair: 9 EUR, leaves: 1 cm2}}",
		"run 0: {from: P0, to: J, size: 100 mm, famil": "run 0: {from: P0, to: J, gate: yes, size: 100 mm, famil",
	} {
		src = strings.Replace(src, was, now, 1)
	}
	f := decodeText(t, []byte(src))
	var got []string
	for _, r := range f.Repairs {
		got = append(got, r.Tool+r.Run+" "+areaText(r.Leaves)+" "+map[int64]string{1500: "15", 900: "9"}[int64(r.Cost.Minor)])
	}
	if want := "t0 0.5 cm2 15, t1 0.5 cm2 15, t4 1 cm2 9"; strings.Join(got, ", ") != want {
		t.Errorf("%q, want %q", strings.Join(got, ", "), want)
	}
}
