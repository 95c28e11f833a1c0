package plots

import (
	"math"
	"testing"
)

// crossed are two ducts that cross on the page, a at height za along x, b at
// height zb along y.
func crossed(za, zb float64) PlanData {
	return PlanData{Unit: "m", Collector: PlanMark{Name: "fan", At: [3]float64{-3, 0, za}}, Runs: []PlanRun{
		{Name: "a", Path: [][3]float64{{-3, 0, za}, {3, 0, za}}, Diameter: 100},
		{Name: "b", Path: [][3]float64{{0, -3, zb}, {0, 3, zb}}, Diameter: 50, Changed: true},
	}}
}

// gaps counts the white lines of a picture and says in what colour the line
// after each is drawn.
func gaps(t *testing.T, d PlanData) (n int, changed bool) {
	t.Helper()
	fig, err := PlanView(d)
	if err != nil {
		t.Fatal(err)
	}
	for i, o := range fig.ops {
		if o.fill == nil && o.line.color == white && o.line.width > 0 {
			n++
			changed = fig.ops[i+1].line.color == navy
		}
	}
	return n, changed
}

// TestCrossings: the higher of two ducts stands before the other in a plan, and
// ducts that meet have no gap.
func TestCrossings(t *testing.T) {
	if n, changed := gaps(t, crossed(3, 2)); n != 1 || changed {
		t.Errorf("a above b: %d gaps, the changed one in front: %v", n, changed)
	}
	if n, changed := gaps(t, crossed(2, 3)); n != 1 || !changed {
		t.Errorf("b above a: %d gaps, the changed one in front: %v", n, changed)
	}
	if n, _ := gaps(t, crossed(2, 2)); n != 0 {
		t.Errorf("ducts that meet: %d gaps", n)
	}
	ends := crossed(2, 3)
	ends.Runs[1].Path[0] = [3]float64{0, 0, 3}
	if n, _ := gaps(t, ends); n != 0 {
		t.Errorf("a duct that ends on another: %d gaps", n)
	}
}

// TestIsometricDepth is hand-worked: moved by (1, −1, 1) a place stays where it is
// on the page, and comes nearer.
func TestIsometricDepth(t *testing.T) {
	v := isometric()
	a, b := [3]float64{1, 2, 3}, [3]float64{2, 1, 4}
	if d := dist(v.project(a), v.project(b)); d > 1e-12 || v.near(b) <= v.near(a) {
		t.Errorf("%g apart on the page, nearness %g and %g", d, v.near(a), v.near(b))
	}
	if v.near([3]float64{0, 1, 0}) >= v.near([3]float64{}) || v.near([3]float64{1, 0, 0}) <= v.near([3]float64{}) {
		t.Error("y, up the page, leads away from the eye, and x toward it")
	}
}

// TestWidthsInProportion: hand-worked, half the diameter is half the width, and a
// very thin duct is still seen.
func TestWidthsInProportion(t *testing.T) {
	d := crossed(1, 2)
	d.Runs = append(d.Runs, PlanRun{Name: "c", Diameter: 1})
	wide, half, thin := d.stroke(d.Runs[0]).width, d.stroke(d.Runs[1]).width, d.stroke(d.Runs[2]).width
	if wide != thickDuct || math.Abs(half-wide/2) > 1e-12 || thin != thinDuct {
		t.Errorf("widths %g, %g, %g", wide, half, thin)
	}
}

// TestSizesAndUndrawn: a run without a label has its size beside it, one with a
// label has not, and what has no place is named.
func TestSizesAndUndrawn(t *testing.T) {
	d := crossed(1, 2)
	d.Runs[0].Size, d.Runs[1].Size, d.Runs[1].Label = "100 mm", "50 mm", "60 → 50 mm"
	d.Undrawn = []string{"loft", "yard"}
	fig, err := Isometric(d)
	if err != nil {
		t.Fatal(err)
	}
	if fig.count("100 mm") != 1 || fig.count("50 mm") != 0 || fig.count("60 → 50 mm") != 1 || fig.count("without coordinates, so not drawn: loft, yard") != 1 {
		t.Error("sizes or the note at the foot are wrong")
	}
	apart(t, "sizes", fig)
}

// TestSizeOfCoveredDuct: of two ducts one above the other neither has its size in
// a plan, for it could be that of the other; the one beside them has.
func TestSizeOfCoveredDuct(t *testing.T) {
	d := crossed(1, 2)
	d.Runs[0].Size, d.Runs[1].Size, d.Runs[1].Path = "100 mm", "50 mm", [][3]float64{{3, 0, 2}, {-3, 0, 2}}
	d.Runs = append(d.Runs, PlanRun{Name: "c", Path: [][3]float64{{0, 0, 1}, {0, 4, 1}}, Size: "80 mm"})
	fig, err := PlanView(d)
	if err != nil {
		t.Fatal(err)
	}
	if fig.count("100 mm") != 0 || fig.count("50 mm") != 0 || fig.count("80 mm") != 1 {
		t.Errorf("sizes of covered ducts: %d, %d, beside them %d", fig.count("100 mm"), fig.count("50 mm"), fig.count("80 mm"))
	}
}
