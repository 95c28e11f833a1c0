package plots

import (
	"fmt"
	"math"
	"slices"
	"testing"
)

// schoolProfile is a way of 8 stations in Pa and m. Invented, as all data of
// the golden pictures.
func schoolProfile() ProfileData {
	return ProfileData{Title: "Suction along the way: class of four, planer", Pressure: "Pa", Length: "m", Stations: []Station{
		{"planer", 0, 0, 0}, {"", 0, 310, 545}, {"bend", 1.8, 402, 637}, {"", 1.8, 468, 703},
		{"wye 1", 4.0, 580, 815}, {"", 4.0, 665, 865}, {"fan inlet", 7.6, 905, 1105}, {"", 7.6, 1243, 1443}}}
}

// worksProfile is a way of 15 stations in in wg and ft, each with a name, some
// of them at one distance. Behind wye 4 the static suction falls.
func worksProfile() ProfileData {
	return ProfileData{Title: "Suction along the way: Friday rush, lathe", Pressure: "in wg", Length: "ft", Stations: []Station{
		{"lathe", 0, 0, 0}, {"hood behind the tool rest", 0, 1.35, 2.25}, {"end of the hose", 6, 2.47, 3.37}, {"gate", 6.4, 2.62, 3.52},
		{"lathe drop", 15, 2.95, 3.85}, {"wye 6", 15, 2.81, 3.94}, {"main 6", 23, 3.26, 4.39}, {"wye 5", 23, 3.17, 4.31},
		{"wye 4", 31, 3.58, 4.72}, {"main 4, change of size", 31.5, 3.6, 4.31}, {"wye 3", 39, 3.93, 4.64}, {"wye 2", 47, 4.31, 5.15},
		{"wye 1", 55, 4.62, 5.52}, {"inlet of the cyclone", 66, 5.08, 5.98}, {"fan inlet", 66, 7.2, 7.95}}}
}

func profile(t *testing.T, d ProfileData) *Figure {
	t.Helper()
	fig, err := PressureProfile(d)
	if err != nil {
		t.Fatal(err)
	}
	apart(t, d.Title, fig)
	page := rect{0, 0, fig.w, fig.h}
	for _, o := range fig.ops {
		for _, at := range o.path {
			if !page.holds(around(at, 0)) {
				t.Errorf("%s: %v leaves the page", d.Title, at)
			}
		}
	}
	return fig
}

// TestProfilePrints: every name stands once, and the last suctions with it.
func TestProfilePrints(t *testing.T) {
	for _, test := range []struct {
		data ProfileData
		want []string
	}{
		{schoolProfile(), []string{"total 1243 Pa", "static 1443 Pa", "suction, Pa", "distance along the way, m"}},
		{worksProfile(), []string{"total 7.20 in wg", "static 7.95 in wg", "suction, in wg", "distance along the way, ft"}},
	} {
		fig := profile(t, test.data)
		for _, s := range test.data.Stations {
			if s.Name != "" {
				test.want = append(test.want, s.Name)
			}
		}
		for _, text := range test.want {
			if fig.count(text) != 1 {
				t.Errorf("%s: %q stands %d times", test.data.Title, text, fig.count(text))
			}
		}
	}
}

// TestProfileCrowds: from 2 to 45 long names, evenly spaced, bunched at either
// end or all at one distance: none touches another, no guide line runs through
// one, and none is lost or cut.
func TestProfileCrowds(t *testing.T) {
	for _, n := range []int{2, 3, 5, 8, 15, 30, 45} {
		for word, place := range map[string]func(float64) float64{
			"even":     func(u float64) float64 { return 20 * u },
			"at start": func(u float64) float64 { return 20 * math.Pow(u, 6) },
			"at end":   func(u float64) float64 { return 20 * (1 - math.Pow(1-u, 6)) },
			"one spot": func(float64) float64 { return 3 },
			"two ends": func(u float64) float64 { return 20 * math.Round(u) },
		} {
			d := ProfileData{Title: fmt.Sprintf("%d names, %s", n, word), Pressure: "Pa", Length: "m"}
			for i := range n {
				u := float64(i) / float64(n-1)
				d.Stations = append(d.Stations, Station{fmt.Sprintf("long name %d", i), place(u), 900 * u, 1000 * u})
			}
			fig := profile(t, d)
			for _, s := range d.Stations {
				if fig.count(s.Name) != 1 {
					t.Errorf("%s: %q stands %d times", d.Title, s.Name, fig.count(s.Name))
				}
			}
			unstruck(t, fig)
		}
	}
}

// unstruck: no guide or leader line runs through a text.
func unstruck(t *testing.T, fig *Figure) {
	t.Helper()
	for _, o := range fig.ops {
		if o.line.color != hairline.color && o.line.color != leader.color {
			continue
		}
		for _, part := range segments(o.path) {
			for _, text := range fig.ops {
				if text.text != "" && part.hitsRect(text.box) {
					t.Errorf("%s: a line runs through %q", fig.title, text.text)
				}
			}
		}
	}
}

// TestProfileExtremes: a way without names, without length, without suction,
// or with pressure above the room is drawn, with its last value.
func TestProfileExtremes(t *testing.T) {
	for want, stations := range map[string][]Station{
		"total 0.00":   {{"a", 0, 0, 0}, {"b", 5, 0, 0}},
		"total 7.00":   {{"", 3, 2, 2}, {"", 3, 7, 7}},
		"total −250":   {{"a", 0, 0, 0}, {"b", 9, -250, -120}},
		"total 3.00":   {{"same", 1e9, 1, 2}, {"same", 1e9, 3, 4}, {"same", 1e9, 3, 4}},
		"total 1000":   {{"first", -4, 1000, 1000}, {"last", -3.99, 1000, 1000}},
		"total 50 000": {{"", 0, 0, 0}, {"a name far too long for the page, " + worksProfile().Title + worksProfile().Title, 4, 50000, 60000}},
	} {
		fig := profile(t, ProfileData{Stations: stations})
		if fig.count(want) != 1 || fig.Title() != "Suction along the way" {
			t.Errorf("%q stands %d times under %q", want, fig.count(want), fig.Title())
		}
		if fig.count("same") > 1 {
			t.Error("one name at one distance is printed twice")
		}
	}
}

// TestProfileJump: the last jump is part of both lines, at the end of the frame.
func TestProfileJump(t *testing.T) {
	fig := profile(t, schoolProfile())
	for _, s := range []stroke{mainLine, staticLine} {
		i := slices.IndexFunc(fig.ops, func(o op) bool { return len(o.path) == 8 && o.line.width == s.width })
		if i < 0 {
			t.Fatalf("no line of width %v through 8 stations", s.width)
		}
		if way := fig.ops[i].path; way[6].X != way[7].X || way[6].Y >= way[7].Y {
			t.Errorf("the line ends with %v, %v", way[6], way[7])
		}
	}
}

// TestSpread: positions move apart about their middle and stay within the
// bounds (hand-worked).
func TestSpread(t *testing.T) {
	for _, test := range []struct {
		wanted []float64
		want   []float64
	}{
		{[]float64{10, 50}, []float64{10, 50}},
		{[]float64{50, 50, 50}, []float64{40, 50, 60}},
		{[]float64{20, 50, 56}, []float64{20, 48, 58}},
		{[]float64{0, 1}, []float64{0, 10}},
		{[]float64{99, 100}, []float64{90, 100}},
		{[]float64{30, 38, 38}, []float64{25 + 1.0/3, 35 + 1.0/3, 45 + 1.0/3}},
	} {
		got := spread(test.wanted, 10, 0, 100)
		if !slices.EqualFunc(got, test.want, func(a, b float64) bool { return math.Abs(a-b) < 1e-9 }) {
			t.Errorf("%v spread to %v, want %v", test.wanted, got, test.want)
		}
	}
}
