package shopfile

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wyewright/network/loss"
)

// swapShop has runs in both styles, with coefficients and comments.
const swapShop = `version: 1
collectors: {fan: {at: R, inlet: 6 in, fan: {flow: 500 m3/h}}}
runs:
  main: {from: J, to: R, size: 6 in, family: snap-lock, length: 5 m}
  a: {from: P, to: J, size: 4 in, family: PVC S&D, length: 5 m, k: {bends: 1.2, junction: 1.8, steps: 0.1}} # tee
  b: {from: Q, to: J, size: 5 in, family: snap-lock, length: 5 m, k: {bends: 0.9}, elbows: long}
  c:
    from: S # far
    to: J
    size: 5 in
    family: snap-lock
    length: 5 m
    k:
      # by the book
      bends: 0.9 # two
      junction: -0.2
tools:
  t: {flow: 300 m3/h, ports: [{at: P, size: 4 in, entry: 1}]}
  u: {flow: 300 m3/h, ports: [{at: Q, size: 5 in, entry: 1}]}
  v: {flow: 300 m3/h, ports: [{at: S, size: 5 in, entry: 1}]}
states: [each alone]
`

// TestRewriteSwaps: a run whose fittings are swapped keeps its line, but for what
// no longer holds of it. Hand-worked.
func TestRewriteSwaps(t *testing.T) {
	f, err := Decode("swap.yaml", []byte(swapShop), builtin(t))
	if err != nil {
		t.Fatal(err)
	}
	if m := f.Spec.Runs[2].Pieces[0].Make; m.Elbow != loss.FivePiece || m.ElbowRD != 1.5 {
		t.Errorf("elbows: long reads as %v of R/D %g", m.Elbow, m.ElbowRD)
	}
	long, usual := SwapEdit{Bends: true, Elbow: loss.Smooth, ElbowRD: 1.5}, SwapEdit{Bends: true, Elbow: loss.ThreePiece, ElbowRD: 1}
	for _, c := range []struct {
		run        string
		e          SwapEdit
		joint      bool
		gone, come []string
	}{
		{"a", long, false, []string{"a: {from: P, to: J, size: 4 in, family: PVC S&D, length: 5 m, k: {bends: 1.2, junction: 1.8, steps: 0.1}} # tee"},
			[]string{"a: {from: P, to: J, size: 4 in, family: PVC S&D, length: 5 m, k: {junction: 1.8, steps: 0.1}, elbows: long} # tee"}},
		{"a", SwapEdit{}, true, []string{"a: {from: P, to: J, size: 4 in, family: PVC S&D, length: 5 m, k: {bends: 1.2, junction: 1.8, steps: 0.1}} # tee"},
			[]string{"a: {from: P, to: J, size: 4 in, family: PVC S&D, length: 5 m, k: {bends: 1.2, steps: 0.1}, rejoined: true} # tee"}},
		{"b", usual, false, []string{"b: {from: Q, to: J, size: 5 in, family: snap-lock, length: 5 m, k: {bends: 0.9}, elbows: long}"},
			[]string{"b: {from: Q, to: J, size: 5 in, family: snap-lock, length: 5 m}"}},
		{"c", SwapEdit{Bends: true, Elbow: loss.FivePiece, ElbowRD: 1.5}, true, []string{"k:", "# by the book", "bends: 0.9 # two", "junction: -0.2"},
			[]string{"# by the book", "# two", "elbows: long", "rejoined: true"}},
	} {
		c.e.Run, c.e.Joint = c.run, c.joint
		out, err := f.Rewrite(Edits{Swaps: []SwapEdit{c.e}})
		if err != nil {
			t.Errorf("%+v: %v", c.e, err)
			continue
		}
		before, after := trimmed(swapShop), trimmed(string(out))
		if d := cmp.Diff(c.gone, without(before, after)); d != "" && c.run != "c" {
			t.Errorf("%+v: lines that went (-want +got):\n%s", c.e, d)
		}
		for _, l := range c.come {
			if !strings.Contains("\n"+strings.Join(after, "\n")+"\n", "\n"+l+"\n") {
				t.Errorf("%+v: no line %q in\n%s", c.e, l, out)
			}
		}
	}
	if _, err := f.Rewrite(Edits{Swaps: []SwapEdit{{Run: "nobody", Joint: true}}}); err == nil {
		t.Error("the fittings of a run that is not there were swapped")
	}
}

func trimmed(s string) []string {
	lines := strings.Split(s, "\n")
	for i := range lines {
		lines[i] = strings.TrimSpace(lines[i])
	}
	return lines
}

// without are the lines of a that b has not.
func without(a, b []string) []string {
	var out []string
	for _, l := range a {
		if !strings.Contains("\n"+strings.Join(b, "\n")+"\n", "\n"+l+"\n") {
			out = append(out, l)
		}
	}
	return out
}

// TestSetKeepsElbows: another size of a run keeps elbows of long radius where
// the family sells them in it.
func TestSetKeepsElbows(t *testing.T) {
	f, err := Decode("swap.yaml", []byte(swapShop), builtin(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		key, value string
		rd         float64
	}{{"size", "6 in", 1.5}, {"family", "US spiral", 1.5}, {"family", "PVC SDR35", 0.75}, {"elbows", "long", 1.5}} {
		run := "b"
		if c.value == "PVC SDR35" { // 5 in is not made, so 6 in
			if f, err = f.Set("b", "size", "6 in"); err != nil {
				t.Fatal(err)
			}
		}
		g, err := f.Set(run, c.key, c.value)
		if err != nil {
			t.Fatal(err)
		}
		if m := g.Spec.Runs[2].Pieces[0].Make; m.ElbowRD != c.rd {
			t.Errorf("%s %s: R/D %g, want %g", c.key, c.value, m.ElbowRD, c.rd)
		}
	}
}
