package plots

import (
	"fmt"
	"math"
	"testing"
)

// correlations makes a symmetric matrix of a rule for i > k.
func correlations(names []string, rule func(i, k int) float64) CorrelationData {
	d := CorrelationData{Names: names, R: make([][]float64, len(names))}
	for i := range names {
		d.R[i] = make([]float64, len(names))
		d.R[i][i] = 1
		for k := range i {
			d.R[i][k] = rule(i, k)
			d.R[k][i] = d.R[i][k]
		}
	}
	return d
}

// schoolCorrelation is six parameters of the school. Invented, as all data of
// the golden pictures.
func schoolCorrelation() CorrelationData {
	r := [][]float64{{}, {-0.62}, {0.11, -0.34}, {0.48, 0.05, -0.93}, {-0.02, 0.29, 0.3, -0.18}, {0.71, -0.41, 0, 0.66, -1}}
	names := []string{"probe factor", "friction of hose", "fan of yard unit", "filter of yard unit", "opening at J5", "extra loss in planer hose"}
	d := correlations(names, func(i, k int) float64 { return r[i][k] })
	d.Title = "What the readings of the school cannot tell apart"
	return d
}

// worksCorrelation is twenty parameters with long names.
func worksCorrelation() CorrelationData {
	var names []string
	for i := range 20 {
		names = append(names, fmt.Sprintf([]string{"opening at J%d", "extra loss in main %d", "leak at the gate of the wide belt sander at the north wall, number %d", "friction of hose %d"}[i%4], i+1))
	}
	return correlations(names, func(i, k int) float64 { return math.Sin(float64(7*i+3*k)) * math.Exp(-float64(i-k)/6) })
}

// TestCorrelationSigns: the sign is printed from 0.3 on, once in the square;
// where cells are large the number stands beneath. Of the school's pairs 4 are
// 0.3 or more and 5 are −0.3 or less. Counted by hand.
func TestCorrelationSigns(t *testing.T) {
	fig, err := Correlation(schoolCorrelation())
	if err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string]int{
		"+": 4 + 3, "−": 5 + 1, // with two filled samples and an open one of the legend
		"+0.48": 1, "−0.93": 1, "+0.30": 1, "−1.00": 1, "+0.29": 0, "−0.18": 0, "+0.11": 0,
		"extra loss in planer hose": 1, "6": 2, "1": 4, // of the legend too; 6 is no column
	} {
		if got := fig.count(text); got != want {
			t.Errorf("%q stands %d times, want %d", text, got, want)
		}
	}
}

// TestCorrelationArea: the area of a square is in proportion to the size of the
// correlation, and the outline of an open one stays within (hand-worked).
func TestCorrelationArea(t *testing.T) {
	for _, r := range []float64{0.25, 1} {
		for _, by := range []float64{1, -1} {
			p := &pen{}
			p.correlated(xy{50, 50}, 23, by*r)
			o := p.ops[0]
			if side := o.path[1].X - o.path[0].X + o.line.width; math.Abs(side*side-400*r) > 0.5 {
				t.Errorf("%g: area %g, want %g", by*r, side*side, 400*r)
			}
		}
	}
	p := &pen{}
	if p.correlated(xy{}, 20, 0); len(p.ops) != 0 {
		t.Error("nothing is drawn as something")
	}
}

// TestCorrelationSizes: from 2 to 24 parameters texts stay apart and on the
// page, whatever the names.
func TestCorrelationSizes(t *testing.T) {
	for n := 2; n <= correlateMost; n++ {
		for _, name := range []string{"a", "leak at the gate of the wide belt sander at the north wall, behind the rack, number"} {
			var names []string
			for i := range n {
				names = append(names, fmt.Sprintf("%s %d", name, i))
			}
			for _, r := range []float64{1, -1, 0.3, 0} {
				fig, err := Correlation(correlations(names, func(int, int) float64 { return r }))
				if err != nil {
					t.Fatal(err)
				}
				apart(t, fmt.Sprintf("%d of %q, %g", n, name, r), fig)
			}
		}
	}
}

// badCorrelations are data that are refused, with what is said.
func badCorrelations() []badData {
	with := func(change func(*CorrelationData)) error {
		d := schoolCorrelation()
		change(&d)
		return second(Correlation(d))
	}
	return []badData{
		{second(Correlation(CorrelationData{})), ErrEmpty, "plots: Correlation: Names: correlation needs two parameters"},
		{with(func(d *CorrelationData) { d.Names[2] = "" }), ErrEmpty, "plots: Correlation: Names[2]: no name"},
		{with(func(d *CorrelationData) { d.Names = make([]string, 25) }), ErrValue, ""},
		{with(func(d *CorrelationData) { d.R = d.R[1:] }), ErrValue, "plots: Correlation: R: 5 rows for 6 parameters"},
		{with(func(d *CorrelationData) { d.R[3] = d.R[3][:2] }), ErrValue, "plots: Correlation: R[3]: 2 values for 6 parameters"},
		{with(func(d *CorrelationData) { d.R[3][1] = 0.5 }), ErrValue, "plots: Correlation: R[3][1]: 0.5, but 0.05 the other way round"},
		{with(func(d *CorrelationData) { d.R[3][1], d.R[1][3] = 1.5, 1.5 }), ErrValue, ""},
		{with(func(d *CorrelationData) { d.R[2][2] = 0.9 }), ErrValue, "plots: Correlation: R[2][2]: 0.9 of a parameter with itself, not 1"},
		{with(func(d *CorrelationData) { d.R[0][4] = math.NaN() }), ErrValue, "plots: Correlation: R[0][4]: NaN is not a number that can be drawn"},
	}
}
