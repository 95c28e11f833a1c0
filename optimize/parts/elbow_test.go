package parts

import (
	"math"
	"testing"

	"wyewright/network"
	"wyewright/optimize/price"
)

// bent is a run whose last piece has the elbows of long radius of its family.
func bent(t *testing.T, b *Builder, family, size string) *network.Run {
	t.Helper()
	r := run(t, b, "r", family, size, 4.0)
	f, _ := b.Catalog.Family(family)
	style, rd, sold := f.LongElbow(size)
	if !sold {
		t.Fatalf("no long elbow of %s in %s", family, size)
	}
	r.Pieces[0].Make.Elbow, r.Pieces[0].Make.ElbowRD = style, rd
	return r
}

// TestElbows: hand-worked: bends of 90, 45 and 3 degrees are one elbow each and
// none; each is cut out and fitted, has a hanger and two joints.
func TestElbows(t *testing.T) {
	b := builder(t, "USD", Options{})
	for _, c := range []struct {
		family, size     string
		long             bool
		e90, e45, clamps float64
		long90, long45   float64
	}{
		{"snap-lock", "5 in", true, 0, 0, 0, 1, 1},
		{"snap-lock", "5 in", false, 1, 1, 0, 0, 0},
		{"US spiral", "5 in", true, 1, 1, 0, 0, 0}, // its usual ones are long
		{"clamp-together in", "5 in", true, 1, 1, 4, 0, 0},
		{"PVC DWV", "6 in", true, 0, 0, 0, 1, 1},
	} {
		r := run(t, b, "r", c.family, c.size, 4.0)
		if c.long {
			r = bent(t, b, c.family, c.size)
		}
		lines := b.Elbows("r", 0, &r.Pieces[0], []float64{90, 45, 3})
		d := float64(r.Pieces[0].Diameter)
		expect(t, c.family, lines, want{price.Elbow90, c.e90}, want{price.Elbow45, c.e45}, want{price.LongElbow90, c.long90}, want{price.LongElbow45, c.long45},
			want{price.Hanger, 2}, want{price.Coupling, c.clamps}, want{price.Screws, 12}, want{price.Sealant, 4 * math.Pi * d}, want{price.Pipe, 0})
		for task, h := range map[price.Task]float64{price.CutOut: 2 * .30, price.Fit: 2 * .45, price.Join: 4 * .25} {
			if got := hours(lines, task); math.Abs(got-h) > 1e-9 {
				t.Errorf("%s: %s: %g h, want %g", c.family, task, got, h)
			}
		}
		if _, unpriced := b.Cost(lines); unpriced != nil {
			t.Errorf("%s: unpriced %q", c.family, unpriced)
		}
	}
	hose := run(t, b, "r", "hose", "5 in", 4.0)
	pipe := run(t, b, "r", "US spiral", "5 in", 4.0)
	if a, c := b.Elbows("r", 0, &hose.Pieces[0], []float64{90}), b.Elbows("r", 0, &pipe.Pieces[0], []float64{4}); a != nil || c != nil {
		t.Errorf("a hose has elbows: %+v; a straight run: %+v", a, c)
	}
	high := b.Elbows("r", 4, &pipe.Pieces[0], []float64{90})
	if got := hours(high, price.CutOut); math.Abs(got-.30*1.3) > 1e-9 {
		t.Errorf("at height: %g h", got)
	}
}

// TestLongElbowsInNewDuct: new duct and the joints behind it take the elbows
// that its make says; duct with other elbows is other duct.
func TestLongElbowsInNewDuct(t *testing.T) {
	b := builder(t, "USD", Options{})
	long, usual := bent(t, b, "snap-lock", "6 in"), run(t, b, "r", "snap-lock", "6 in", 4.0)
	expect(t, "run", b.Run(nil, *long, Route{Corners: []float64{90, 45}}), want{price.LongElbow90, 1}, want{price.LongElbow45, 1}, want{price.Elbow90, 0})
	lines, _ := b.Joint(network.Joint{Point: "J", WyeDegrees: 45, BranchBend: 45, MainBend: 90}, usual, long, usual, "", all)
	expect(t, "joint", lines, want{price.LongElbow45, 1}, want{price.Elbow90, 1}, want{price.Elbow45, 0}, want{price.LongElbow90, 0})
	expect(t, "other elbows", b.Run(usual, *long, Route{Corners: []float64{90}}), want{price.Pipe, 4}, want{price.LongElbow90, 1})
}
