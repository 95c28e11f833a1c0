package fan_test

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/diff/fd"
	"gonum.org/v1/gonum/floats/scalar"
	"pgregory.net/rapid"

	"wyewright/network/fan"
	"wyewright/network/units"
)

const examples = "../../testdata/reference/examples/"

// near reports a difference above the relative tolerance; values near zero are
// compared absolutely with the same number.
func near(t testing.TB, what string, got, want, rel float64) {
	t.Helper()
	if !scalar.EqualWithinAbsOrRel(got, want, rel, rel) {
		t.Errorf("%s = %.10g, want %.10g within %g", what, got, want, rel)
	}
}

// curveFile reads a table of numbers with comment lines and a header.
func curveFile(t *testing.T, name string) [][]float64 {
	t.Helper()
	f, err := os.Open(examples + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil || len(all) < 2 {
		t.Fatal(len(all), err)
	}
	var out [][]float64
	for _, row := range all[1:] {
		var x []float64
		for _, cell := range row {
			v, err := strconv.ParseFloat(cell, 64)
			if err != nil {
				t.Fatal(err)
			}
			x = append(x, v)
		}
		out = append(out, x)
	}
	return out
}

// exhaust holds the fan of the published exhaust system (ASHRAE Fundamentals,
// duct design, sample problem 7, as encoded in FDS).
type exhaust struct {
	Fan struct {
		Modes struct {
			Quadratic struct {
				MaxPressure float64 `json:"max_pressure"`
				MaxFlow     float64 `json:"max_flow"`
			}
			Table struct{ Points [][2]float64 }
		}
	}
}

// operating is a recomputed operating point of that system.
type operating struct {
	Flow  float64
	FanDp float64 `json:"fan_dp"`
}

// readExhaust reads both files of the example.
func readExhaust(t *testing.T) (in exhaust, quadratic, linear operating) {
	t.Helper()
	var out struct {
		Recomputed struct {
			Quadratic operating
			Linear    operating `json:"table_linear"`
		}
	}
	for name, v := range map[string]any{"inputs.json": &in, "expected.json": &out} {
		src, err := os.ReadFile(examples + "01_ashrae_exhaust_7/" + name)
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(src, v); err != nil {
			t.Fatal(err)
		}
	}
	return in, out.Recomputed.Quadratic, out.Recomputed.Linear
}

// points makes a curve of flow and pressure in turn.
func points(x ...float64) []fan.Point {
	var pts []fan.Point
	for i := 0; i+1 < len(x); i += 2 {
		pts = append(pts, fan.Point{Flow: units.Flow(x[i]), Pressure: units.Pressure(x[i+1])})
	}
	return pts
}

// table makes a smooth curve that must be good.
func table(t testing.TB, pts []fan.Point) *fan.Table {
	t.Helper()
	c, err := fan.NewTable(pts)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// TestExhaust checks that the recomputed operating points of the exhaust system
// lie on the curves (*published* inputs; flow and pressure *computed* by the
// makers of the table, rounded to 1e-5 m³/s and 0.01 Pa).
func TestExhaust(t *testing.T) {
	in, quadratic, linear := readExhaust(t)
	q := in.Fan.Modes.Quadratic
	p, _ := fan.Quadratic{Shutoff: units.Pressure(q.MaxPressure), FreeAir: units.Flow(q.MaxFlow)}.Pressure(quadratic.Flow)
	near(t, "quadratic", p, quadratic.FanDp, 1e-4)

	var pts []fan.Point
	for _, pt := range in.Fan.Modes.Table.Points {
		pts = append(pts, fan.Point{Flow: units.Flow(pt[1]), Pressure: units.Pressure(pt[0])})
	}
	c, err := fan.NewLinear(pts)
	if err != nil {
		t.Fatal(err)
	}
	p, _ = c.Pressure(linear.Flow)
	near(t, "linear", p, linear.FanDp, 1e-4)

	// The table is sampled from the parabola: away from its vertex, where the
	// points are far apart, the smooth curve must be nearer to it than the lines.
	smooth := table(t, pts)
	want, _ := fan.Quadratic{Shutoff: 3000, FreeAir: 2.4094}.Pressure(linear.Flow)
	got, _ := smooth.Pressure(linear.Flow)
	if d, dl := got-want, p-want; d*d >= dl*dl {
		t.Errorf("the smooth curve is %.2f Pa off the parabola, the lines %.2f Pa", d, dl)
	}
}

// TestDerivatives compares each derivative with a central difference (*computed
// by gonum v0.17.0, diff/fd*) away from the points of the straight lines.
func TestDerivatives(t *testing.T) {
	pts := points(0, 3000, 0.4, 3100, 0.8, 2800, 1.2, 1900, 1.5, 450)
	linear, err := fan.NewLinear(pts)
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]fan.Curve{
		"table": table(t, pts), "linear": linear, "quadratic": fan.Quadratic{Shutoff: 3000, FreeAir: 1.5},
	} {
		for _, q := range []float64{-0.5, 0.03, 0.21, 0.55, 1.01, 1.33, 1.7, 3} {
			_, got := c.Pressure(q)
			want := fd.Derivative(func(x float64) float64 { p, _ := c.Pressure(x); return p }, q,
				&fd.Settings{Formula: fd.Central, Step: 1e-5})
			near(t, name+" slope at "+strconv.FormatFloat(q, 'g', -1, 64), got, want, 1e-5)
		}
	}
}

// TestQuadraticEnds is hand-worked: Shutoff at no flow, nothing at free air, flat
// below zero.
func TestQuadraticEnds(t *testing.T) {
	c := fan.Quadratic{Shutoff: 3000, FreeAir: 2}
	for _, tt := range []struct{ q, p, m float64 }{{-1, 3000, 0}, {0, 3000, 0}, {1, 2250, -1500}, {2, 0, -3000}, {4, -9000, -6000}} {
		if p, m := c.Pressure(tt.q); p != tt.p || m != tt.m {
			t.Errorf("at %g: %g, %g; want %g, %g", tt.q, p, m, tt.p, tt.m)
		}
	}
	if lo, hi := c.Range(); lo != 0 || hi != 2 {
		t.Errorf("range %g to %g", lo, hi)
	}
}

// TestFixed checks what a solver asks for.
func TestFixed(t *testing.T) {
	var c fan.Curve = fan.Fixed{Flow: 1.45}
	f, ok := c.(fan.Fixed)
	lo, hi := c.Range()
	if p, m := c.Pressure(1); !ok || f.Flow != 1.45 || lo != 1.45 || hi != 1.45 || p != 0 || m != 0 {
		t.Errorf("%v %v %g %g %g %g", f, ok, lo, hi, p, m)
	}
}

// TestNoAllocation checks the promise of Curve.
func TestNoAllocation(t *testing.T) {
	pts := points(0, 3000, 0.5, 2800, 1, 1900, 1.5, 450)
	linear, err := fan.NewLinear(pts)
	if err != nil {
		t.Fatal(err)
	}
	sink := 0.0
	for _, c := range []fan.Curve{table(t, pts), linear, fan.Quadratic{Shutoff: 1, FreeAir: 1}, fan.Fixed{Flow: 1}} {
		if n := testing.AllocsPerRun(100, func() { p, m := c.Pressure(0.7); sink += p + m }); n != 0 {
			t.Errorf("%T allocates %g times", c, n)
		}
	}
	if sink == 0 {
		t.Error("nothing was computed")
	}
}

func BenchmarkTable(b *testing.B) {
	c := table(b, points(0, 3000, 0.3, 2950, 0.6, 2700, 0.9, 2200, 1.2, 1500, 1.5, 450))
	q := 0.0
	for b.Loop() {
		p, _ := c.Pressure(q)
		if q += 0.01; q > 1.6 {
			q = p * 1e-9
		}
	}
}

// falling draws a curve that falls from point to point.
func falling(t *rapid.T) []fan.Point {
	n := rapid.IntRange(2, 9).Draw(t, "n")
	q, p := rapid.Float64Range(0, 0.5).Draw(t, "q0"), 3000.0
	var pts []fan.Point
	for range n {
		pts = append(pts, points(q, p)...)
		q += rapid.Float64Range(0.01, 1).Draw(t, "dq")
		p -= rapid.Float64Range(0.01, 1000).Draw(t, "dp")
	}
	return pts
}
