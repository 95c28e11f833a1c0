package parts

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wyewright/network/units"
	"wyewright/optimize/price"
)

// pipeLines are the lines of new runs a, b, … of 160 mm with those lengths.
func pipeLines(t testing.TB, b *Builder, lengths ...float64) []Line {
	t.Helper()
	var lines []Line
	for id, length := range lengths {
		lines = append(lines, b.Run(nil, *run(t, b, string(rune('a'+id)), "dust spiral", "160 mm", length), Route{})...)
	}
	return lines
}

// layout writes sticks as text: pieces; rest.
func layout(g *CutGroup) string {
	var out []string
	for _, s := range g.Sticks {
		text := ""
		for _, p := range s.Pieces {
			text += fmt.Sprintf("%s %s, ", p.String(), Mark(p.Length, units.SI))
		}
		out = append(out, text+"rest "+Mark(s.Rest, units.SI))
	}
	return strings.Join(out, " | ")
}

// TestCutList: hand-worked: 7.0, 2.0, 2.5 and 0.9 m from sticks of 3 m. 7 m is
// two whole sticks and 1 m. With a saw of no width 2 + 1 fill a stick; with
// 3 mm they do not. Either way three sticks are needed for 2, 2.5 and 1 or 0.9.
func TestCutList(t *testing.T) {
	for kerf, want := range map[units.Length]string{
		-1: "a (1 of 3) 3000 mm, rest 0 mm | a (2 of 3) 3000 mm, rest 0 mm | c 2500 mm, rest 500 mm | b 2000 mm, a (3 of 3) 1000 mm, rest 0 mm | d 900 mm, rest 2100 mm",
		0:  "a (1 of 3) 3000 mm, rest 0 mm | a (2 of 3) 3000 mm, rest 0 mm | c 2500 mm, rest 497 mm | b 2000 mm, d 900 mm, rest 94 mm | a (3 of 3) 1000 mm, rest 1997 mm",
	} {
		b := builder(t, "EUR", Options{Kerf: kerf})
		lines := pipeLines(t, b, 7, 2, 2.5, 0.9)
		groups := b.Cuts(lines)
		if len(groups) != 1 {
			t.Fatalf("%d groups", len(groups))
		}
		g := &groups[0]
		if got := layout(g); got != want || !g.Proved() || g.Status() != "optimal" || g.Least != 5 {
			t.Errorf("kerf %g: got %q, want %q; %s, least %d", kerf, got, want, g.Status(), g.Least)
		}
		if flat := b.CutList(lines); len(flat) != 5 || flat[2].Pieces[0].Where != "c" {
			t.Errorf("sticks: %+v", flat)
		}
		if g.NoKerf != 5 {
			t.Errorf("without the saw %d sticks", g.NoKerf)
		}
		// 12.4 of 15 m are used.
		if w := g.Waste(); math.Abs(w-2.6/15) > 1e-9 {
			t.Errorf("waste %g", w)
		}
	}
}

// TestKerf: hand-worked: two pieces of 1.5 m fill a stick of 3 m only without
// the saw; 1.4985 m each leave just its width, and 3 × 0.998 two of them.
func TestKerf(t *testing.T) {
	for _, c := range []struct {
		kerf    units.Length
		lengths []float64
		sticks  int
	}{
		{0, []float64{1.5, 1.5}, 2},
		{-1, []float64{1.5, 1.5}, 1},
		{0, []float64{1.4985, 1.4985}, 1},
		{0, []float64{1.4986, 1.4985}, 2},
		{0, []float64{0.998, 0.998, 0.998}, 1},
		{0.010, []float64{0.998, 0.998, 0.998}, 2},
		{0, []float64{2.999}, 1}, // the saw takes the rest
	} {
		b := builder(t, "EUR", Options{Kerf: c.kerf})
		g := b.Cuts(pipeLines(t, b, c.lengths...))[0]
		if len(g.Sticks) != c.sticks || g.NoKerf != 1 {
			t.Errorf("%v with %g: %d sticks, want %d; without the saw %d, want 1", c.lengths, c.kerf, len(g.Sticks), c.sticks, g.NoKerf)
		}
		if hint := strings.Contains(strings.Join(g.Lines(units.SI), ";"), "1 stick would do if"); hint != (c.sticks > 1) {
			t.Errorf("%v with %g: %q", c.lengths, c.kerf, g.Lines(units.SI))
		}
	}
}

// TestCutListAgreesWithCouplings: a run of several sticks has a coupling
// between any two of its pieces, however near a whole number of sticks it is
// (hand-worked counts).
func TestCutListAgreesWithCouplings(t *testing.T) {
	b := builder(t, "EUR", Options{})
	for length, n := range map[float64]int{0.5: 1, 2.9995: 1, 3: 1, 3.0005: 1, 3.002: 2, 6: 2, 6.0009: 2, 6.5: 3, 9.0011: 4} {
		lines := pipeLines(t, b, length)
		cut := 0
		for _, s := range b.CutList(lines) {
			cut += len(s.Pieces)
		}
		if couplings := count(lines, price.Coupling); cut != n || couplings != float64(n-1) {
			t.Errorf("%g m: %d pieces and %g couplings, want %d", length, cut, couplings, n)
		}
	}
}

// TestInstead: hand-worked: 7.2 m that come out are 3, 3 and 1.2 m; of the new
// 2.5, 2.0 and 1.1 m each is cut from one of them. Other sizes do not serve.
func TestInstead(t *testing.T) {
	b := builder(t, "EUR", Options{})
	lines := pipeLines(t, b, 2, 2.5, 1.1)
	old := run(t, b, "old", "dust spiral", "160 mm", 7.2)
	lines = append(lines, b.Run(old, *run(t, b, "old", "dust spiral", "200 mm", 1.0), Route{})...)
	groups := b.Cuts(lines)
	var got []string
	for _, i := range groups[0].Instead {
		got = append(got, fmt.Sprintf("%s from %s of %s", i.Piece.String(), Mark(i.Length, units.SI), i.From))
	}
	if want := []string{"b from 3000 mm of old", "a from 3000 mm of old", "c from 1200 mm of old"}; !slices.Equal(got, want) || len(groups[1].Instead) != 0 {
		t.Errorf("got %q, want %q; %+v", got, want, groups[1].Instead)
	}
	if len(groups[0].Sticks) != 3 {
		t.Errorf("%d sticks: duct that comes out is not counted on", len(groups[0].Sticks))
	}
	if line := groups[0].Lines(units.SI); !strings.Contains(line[len(line)-1], "not counted on): 2500 mm out of old for b; 2000 mm out of old for a; 1100 mm out of old for c") {
		t.Errorf("%q", line)
	}
}

// TestInsteadKerf: hand-worked: of a 3 m stick that comes out two pieces of 1.5 m
// cannot be cut, since the saw takes 3 mm; two of 1.498 m can.
func TestInsteadKerf(t *testing.T) {
	b := builder(t, "EUR", Options{})
	for each, want := range map[float64]int{1.5: 1, 1.498: 2} {
		lines := pipeLines(t, b, each, each)
		old := run(t, b, "old", "dust spiral", "160 mm", 3.0)
		lines = append(lines, b.Run(old, *run(t, b, "old", "dust spiral", "200 mm", 3.0), Route{})...)
		if got := len(b.Cuts(lines)[0].Instead); got != want {
			t.Errorf("%g m: %d pieces from old duct, want %d", each, got, want)
		}
	}
}

// TestStatus: what is said of a number of sticks.
func TestStatus(t *testing.T) {
	for least, want := range map[int]string{3: "optimal", 2: "not proved, at most 1 stick more than the least possible",
		1: "not proved, at most 2 sticks more than the least possible", 0: "not proved"} {
		g := CutGroup{Sticks: make([]Stick, 3), Least: least}
		if got := g.Status(); got != want || g.Proved() != (least == 3) {
			t.Errorf("%d: %q", least, got)
		}
	}
}

// TestMark: hand-worked marks on a tape, and amounts.
func TestMark(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Mark(2.4996, units.SI), "2500 mm"},
		{Mark(1.0668, units.US), "42 in"},
		{Mark(0.0127, units.US), "1/2 in"},
		{Mark(1.9780, units.US), "77 7/8 in"},
		{Mark(1.5240-.003, units.US), "59 7/8 in"},
		{Amount(2, "box", units.SI), "2 boxes"},
		{Amount(1, "tube", units.SI), "1 tube"},
		{Amount(3.048, "m", units.US), "10.00 ft"},
		{Amount(3, "each", units.US), "3"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

// A cut list loses nothing and overfills no stick.
func TestCutListKeepsLength(t *testing.T) {
	b := builder(t, "USD", Options{})
	rapid.Check(t, func(t *rapid.T) {
		var lines []Line
		want := 0.0
		for range rapid.IntRange(1, 6).Draw(t, "runs") {
			r := anyRun(t, b, "r")
			lines = append(lines, b.Run(nil, r, Route{})...)
		}
		want = count(lines, price.Pipe)
		got := 0.0
		for _, s := range b.CutList(lines) {
			in := 0.0
			for _, p := range s.Pieces {
				in += float64(p.Length)
			}
			got += in
			if over := in + 0.003*float64(len(s.Pieces)-1) + float64(s.Rest) - float64(s.Length); over > 1e-3 || s.Rest < 0 {
				t.Fatalf("stick overfilled by %g m: %+v", over, s)
			}
		}
		if math.Abs(got-want) > 0.02 {
			t.Fatalf("cut %g m of %g m", got, want)
		}
	})
}
