package plots

import (
	"maps"
	"slices"
	"strings"
	"testing"
)

// TestTextsApart: in every example no text touches another and none leaves
// the page.
func TestTextsApart(t *testing.T) {
	all := figures()
	for _, name := range slices.Sorted(maps.Keys(all)) {
		fig, err := all[name]()
		if err != nil {
			t.Fatal(err)
		}
		apart(t, name, fig)
	}
}

func apart(t *testing.T, name string, fig *Figure) {
	t.Helper()
	var texts []op
	for _, o := range fig.ops {
		if o.text == "" {
			continue
		}
		if !(rect{0, 0, fig.w, fig.h}).holds(o.box) {
			t.Errorf("%s: %q leaves the page: %v of %.0f × %.0f", name, o.text, o.box, fig.w, fig.h)
		}
		for _, other := range texts {
			if o.box.hits(other.box) {
				t.Errorf("%s: %q touches %q", name, o.text, other.text)
			}
		}
		texts = append(texts, o)
	}
}

// count returns how often a text stands in the picture.
func (f *Figure) count(text string) int {
	n := 0
	for _, o := range f.ops {
		if o.text == text {
			n++
		}
	}
	return n
}

// TestShopNamesAll: both views of both shops print every name and every size.
func TestShopNamesAll(t *testing.T) {
	for _, d := range []PlanData{schoolPlan(), worksPlan()} {
		want := map[string]int{d.Collector.Name: 1}
		for _, m := range slices.Concat(d.Tools, d.Bleeds) {
			want[m.Name]++
		}
		for _, r := range d.Runs {
			if r.Label != "" {
				want[r.Label]++
			}
		}
		for _, draw := range []func(PlanData) (*Figure, error){PlanView, Isometric} {
			fig, err := draw(d)
			if err != nil {
				t.Fatal(err)
			}
			for text, n := range want {
				n += strings.Count("|collector|tool|", "|"+text+"|") // the legend says it too
				if got := fig.count(text); got != n {
					t.Errorf("%s: %q stands %d times, want %d", fig.Title(), text, got, n)
				}
			}
		}
	}
}

// TestShopLater: duct that comes later is dotted, named, and stands in the key in
// the place of the corridors.
func TestShopLater(t *testing.T) {
	d := schoolWays()
	for i := range d.Ways {
		d.Ways[i].Later = true
	}
	for _, draw := range []func(PlanData) (*Figure, error){PlanView, Isometric} {
		fig, err := draw(d)
		if err != nil {
			t.Fatal(err)
		}
		svg, err := fig.SVG()
		if err != nil {
			t.Fatal(err)
		}
		if s := string(svg); !strings.Contains(s, "comes later") || strings.Contains(s, "corridor") || !strings.Contains(s, "south wall") {
			t.Error("the duct that comes later is not told from corridors")
		}
	}
}

// TestShopWays: every corridor is named and stands in the key, as a thin dashed
// line; a shop without any speaks of none.
func TestShopWays(t *testing.T) {
	for _, draw := range []func(PlanData) (*Figure, error){PlanView, Isometric} {
		fig, err := draw(schoolWays())
		if err != nil {
			t.Fatal(err)
		}
		dashed := 0
		for _, o := range fig.ops {
			if o.line.width == wayLine.width && o.line.color == wayLine.color && len(o.line.dash) > 0 {
				dashed++
			}
		}
		if fig.count("south wall") != 1 || fig.count("over the lathe") != 1 || fig.count("corridor") != 1 || dashed != 3 {
			t.Errorf("%s: a corridor is missing, or %d thin lines are not two and one in the key", fig.Title(), dashed)
		}
		if fig, err = draw(schoolPlan()); err != nil || fig.count("corridor") != 0 {
			t.Errorf("corridors where there are none: %v", err)
		}
	}
}

// TestShopMakesRoom: where the labels find no room, the page gets wider rims.
func TestShopMakesRoom(t *testing.T) {
	d := PlanData{Unit: "m", Collector: PlanMark{"unit", at(0, 0, 0)}, Runs: []PlanRun{
		{Name: "main", Path: [][3]float64{at(0, 0, 0), at(9, 0, 0)}, Diameter: 1}}}
	small, err := PlanView(d)
	if err != nil {
		t.Fatal(err)
	}
	const names = 40
	for range names {
		d.Tools = append(d.Tools, PlanMark{"a tool with a long name", at(9, 0, 0)})
	}
	large, err := PlanView(d)
	if err != nil {
		t.Fatal(err)
	}
	if large.h <= small.h || large.count(d.Tools[0].Name) == 0 {
		t.Errorf("%d names on a page of height %.0f, one name on %.0f", large.count(d.Tools[0].Name), large.h, small.h)
	}
}

// TestShopExtremes: shops without width, height or depth are drawn.
func TestShopExtremes(t *testing.T) {
	for name, far := range map[string][3]float64{
		"riser": at(0, 0, 4), "along x": at(5, 0, 0), "along y": at(0, 5, 0), "tiny": at(1e-9, 0, 0), "huge": at(1e11, 1e11, 0), "no length": at(0, 0, 0),
	} {
		d := PlanData{Unit: "m", Collector: PlanMark{"unit", far},
			Runs: []PlanRun{{Name: "main", Path: [][3]float64{at(0, 0, 0), far}, Diameter: 100, Label: "100 mm"}}}
		for _, draw := range []func(PlanData) (*Figure, error){PlanView, Isometric} {
			fig, err := draw(d)
			if err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			if fig.count("100 mm") != 1 || fig.h > 2*pageHeight {
				t.Errorf("%s: %d labels, height %.0f", name, fig.count("100 mm"), fig.h)
			}
			for _, o := range fig.ops {
				for _, p := range o.path {
					if !(rect{0, 0, fig.w, fig.h}).holds(around(p, 0)) {
						t.Errorf("%s: %v leaves the page", name, p)
					}
				}
			}
		}
	}
}

// TestShopAsItStands: without a change no duct is called kept.
func TestShopAsItStands(t *testing.T) {
	d := schoolPlan()
	for i := range d.Runs {
		d.Runs[i].Changed = false
	}
	fig, err := PlanView(d)
	if err != nil {
		t.Fatal(err)
	}
	if fig.count("kept") != 0 || fig.count("changed") != 0 || fig.count("duct") != 1 {
		t.Error("the legend speaks of a change where there is none")
	}
}

// TestFanKey: points that cover each other are numbered together (hand-worked).
func TestFanKey(t *testing.T) {
	if got := numbers([]int{0, 2, 3, 4, 6, 7}); got != "1, 3–5, 7, 8" {
		t.Errorf("numbers are %q", got)
	}
	d := schoolFan()
	fig, err := FanChart(d)
	if err != nil {
		t.Fatal(err)
	}
	if fig.count("state") != 0 || fig.count("planer") != 1 {
		t.Error("states that stand apart have a key")
	}
	d.Points[1].Flow, d.Points[1].Pressure = d.Points[0].Flow+1, d.Points[0].Pressure
	if fig, err = FanChart(d); err != nil {
		t.Fatal(err)
	}
	if fig.count("state") != 1 || fig.count("planer") != 1 || fig.count("1, 2") != 1 {
		t.Error("states that cover each other have no key of their own")
	}
}
