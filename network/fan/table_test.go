package fan_test

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/interp"
	"pgregory.net/rapid"

	"wyewright/network/fan"
)

// TestTableShape checks on random falling curves that the smooth curve meets its
// points, never rises, stays between neighbours, and has no jump of value or
// slope at a point.
func TestTableShape(t *testing.T) {
	const jump = 1e-4 // rounding of secants up to 1e5 Pa per m³/s, times 1e-9
	rapid.Check(t, func(t *rapid.T) {
		pts := falling(t)
		c, err := fan.NewTable(pts)
		if err != nil {
			t.Fatal(err)
		}
		for i, pt := range pts {
			q := float64(pt.Flow)
			p, m := c.Pressure(q)
			if math.Abs(p-float64(pt.Pressure)) > 1e-9*3000 {
				t.Fatalf("point %d: %g, want %g", i, p, float64(pt.Pressure))
			}
			pl, ml := c.Pressure(math.Nextafter(q, -1))
			pr, mr := c.Pressure(math.Nextafter(q, 99))
			if max(math.Abs(pl-p), math.Abs(pr-p), math.Abs(ml-m), math.Abs(mr-m)) > jump {
				t.Fatalf("jump at point %d: p %g %g %g, slope %g %g %g", i, pl, p, pr, ml, m, mr)
			}
			if i == 0 {
				continue
			}
			prev := pts[i-1]
			last := float64(prev.Pressure)
			for k := 1; k <= 20; k++ {
				q := float64(prev.Flow) + float64(k)/20*float64(pt.Flow-prev.Flow)
				p, m := c.Pressure(q)
				if p > last+1e-9 || p < float64(pt.Pressure)-1e-9 || m > 1e-9*3000/float64(pt.Flow-prev.Flow) {
					t.Fatalf("segment %d at %g: p %g after %g, slope %g", i, q, p, last, m)
				}
				last = p
			}
		}
		if c.Humps() {
			t.Fatal("a falling curve has a hump")
		}
	})
}

// TestTableEnds checks the extrapolation: linear, continuous, past the last point
// at least as steep as the last segment and flagged by Beyond.
func TestTableEnds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pts := falling(t)
		c, err := fan.NewTable(pts)
		if err != nil {
			t.Fatal(err)
		}
		n := len(pts)
		lo, hi := c.Range()
		if lo != float64(pts[0].Flow) || hi != float64(pts[n-1].Flow) || c.Beyond(hi) || !c.Beyond(math.Nextafter(hi, 99)) {
			t.Fatalf("range %g to %g", lo, hi)
		}
		_, m0 := c.Pressure(lo)
		if p, m := c.Pressure(lo - 2); m != m0 || math.Abs(p-(3000-2*m0)) > 1e-6 {
			t.Fatalf("below: %g, slope %g of %g", p, m, m0)
		}
		_, m1 := c.Pressure(hi)
		secant := float64(pts[n-1].Pressure-pts[n-2].Pressure) / float64(pts[n-1].Flow-pts[n-2].Flow)
		if p, m := c.Pressure(hi + 2); m != m1 || m > secant || math.Abs(p-(float64(pts[n-1].Pressure)+2*m1)) > 1e-6 {
			t.Fatalf("past the end: %g, slope %g of %g, last segment %g", p, m, m1, secant)
		}
	})
}

// TestTableAgainstGonum compares inside the segments that touch neither end,
// where both use the slopes of Fritsch & Butland (*computed by gonum v0.17.0,
// interp.FritschButland*).
func TestTableAgainstGonum(t *testing.T) {
	q := []float64{0, 0.3, 0.5, 0.9, 1.2, 1.5}
	p := []float64{2900, 3000, 2950, 2500, 1900, 450}
	var other interp.FritschButland
	if err := other.Fit(q, p); err != nil {
		t.Fatal(err)
	}
	var flat []float64
	for i := range q {
		flat = append(flat, q[i], p[i])
	}
	c := table(t, points(flat...))
	for x := 0.3; x <= 1.2; x += 0.01 {
		got, slope := c.Pressure(x)
		near(t, "pressure", got, other.Predict(x), 1e-12)
		near(t, "slope", slope, other.PredictDerivative(x), 1e-10)
	}
}

// TestTableLine is hand-worked: points on a straight line give the line.
func TestTableLine(t *testing.T) {
	for _, pts := range [][]fan.Point{points(0, 100, 2, 0), points(0, 100, 1, 50, 1.5, 25, 2, 0)} {
		c := table(t, pts)
		for _, q := range []float64{-1, 0, 0.3, 1, 1.7, 2, 5} {
			p, m := c.Pressure(q)
			near(t, "line", p, 100-50*q, 1e-12)
			near(t, "slope", m, -50, 1e-12)
		}
	}
}

// TestHump checks that a hump is seen and kept at the height of its point.
func TestHump(t *testing.T) {
	pts := points(0, 2800, 0.5, 3000, 1, 2000, 1.5, 0)
	c := table(t, pts)
	linear, err := fan.NewLinear(pts)
	if err != nil {
		t.Fatal(err)
	}
	if !c.Humps() || !linear.Humps() {
		t.Error("the hump is not seen")
	}
	for q := 0.0; q <= 1.5; q += 0.001 {
		if p, _ := c.Pressure(q); p > 3000 {
			t.Fatalf("%g Pa at %g is above the highest point", p, q)
		}
	}
	// A flat start is no hump.
	if table(t, points(0, 3000, 0.5, 3000, 1, 2000)).Humps() {
		t.Error("a flat start counts as a hump")
	}
}

// TestPoints checks that points are sorted, copied, and kept from the caller.
func TestPoints(t *testing.T) {
	pts := points(1.5, 450, 0, 3000, 1, 1900)
	c := table(t, pts)
	pts[0].Pressure = 1e6
	got := c.Points()
	if got[0].Flow != 0 || got[1].Flow != 1 || got[2].Flow != 1.5 || got[2].Pressure != 450 {
		t.Errorf("points %v", got)
	}
	got[2].Pressure = 7
	if c.Points()[2].Pressure != 450 {
		t.Error("the caller can change the curve")
	}
}

func TestBadPoints(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	negative := points(0, 3, 1, 2)
	negative[0].Power = -1
	for _, tt := range []struct {
		name string
		pts  []fan.Point
	}{
		{"none", nil},
		{"one", points(1, 100)},
		{"rising at the end", points(0, 3, 1, 2, 2, 2.5)},
		{"flat at the end", points(0, 3, 1, 2, 2, 2)},
		{"repeated flow", points(0, 3, 1, 2, 1, 1)},
		{"negative flow", points(-1, 3, 1, 2)},
		{"negative power", negative},
		{"nan flow", points(0, 3, nan, 2)},
		{"nan pressure", points(0, nan, 1, 2)},
		{"infinite", points(0, inf, 1, 2)},
	} {
		if c, err := fan.NewTable(tt.pts); c != nil || !errors.Is(err, fan.ErrPoints) {
			t.Errorf("table, %s: %v", tt.name, err)
		}
		if c, err := fan.NewLinear(tt.pts); c != nil || !errors.Is(err, fan.ErrPoints) {
			t.Errorf("linear, %s: %v", tt.name, err)
		}
	}
}

// TestLinearAtPoints is hand-worked: the slope at a point is that on its right,
// at the last point that on its left; outside, the end lines go on.
func TestLinearAtPoints(t *testing.T) {
	c, err := fan.NewLinear(points(0, 100, 1, 90, 2, 60))
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct{ q, p, m float64 }{{-1, 110, -10}, {0, 100, -10}, {1, 90, -30}, {2, 60, -30}, {4, 0, -30}} {
		if p, m := c.Pressure(tt.q); p != tt.p || m != tt.m {
			t.Errorf("at %g: %g, %g; want %g, %g", tt.q, p, m, tt.p, tt.m)
		}
	}
}
