package plots

import (
	"fmt"
	"strings"
	"testing"
)

// crowded is a main with so many tools on either side, every duct changed.
func crowded(tools int, name string) PlanData {
	d := PlanData{Unit: "m", Collector: PlanMark{Name: "collector in the cellar, south-west", At: [3]float64{-3, 0, 1}}}
	for i := range tools {
		x := float64(2*i + 1)
		y := float64(2 + i%3)
		if i%2 == 0 {
			y = -y
		}
		d.Runs = append(d.Runs, PlanRun{Name: fmt.Sprint("main ", i), Path: [][3]float64{{x, 0, 3}, {x - 2, 0, 3}}, Diameter: 200, Changed: true, Label: []string{"250 → 224 mm", "224 → 180 mm"}[i%2]},
			PlanRun{Name: fmt.Sprint("drop ", i), Path: [][3]float64{{x, y, 1}, {x, y, 3}, {x, 0, 3}}, Diameter: 120, Changed: true, Label: "100 → 125 mm"})
		d.Joints = append(d.Joints, [3]float64{x, 0, 3})
		d.Tools = append(d.Tools, PlanMark{Name: fmt.Sprint(name, " ", i+1), At: [3]float64{x, y, 1}})
	}
	return d
}

// TestCrowdedShop: twenty tools on one main still have their names; what changes
// is then told by letters with a key, and no text touches another.
func TestCrowdedShop(t *testing.T) {
	for _, draw := range []func(PlanData) (*Figure, error){PlanView, Isometric} {
		d := crowded(20, "machine")
		fig, err := draw(d)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range d.Tools {
			if fig.count(m.Name) != 1 {
				t.Errorf("%s: %q stands %d times", fig.Title(), m.Name, fig.count(m.Name))
			}
		}
		if fig.count("100 → 125 mm") == 1 && fig.count("b") != 21 { // one of them in the key
			t.Errorf("%s: the key has a letter that stands %d times, not 21", fig.Title(), fig.count("b"))
		}
		apart(t, fig.Title(), fig)
	}
}

// TestNoRoom: what finds no room is named at the foot.
func TestNoRoom(t *testing.T) {
	d := crowded(30, "quite a large machine")
	fig, err := PlanView(d)
	if err != nil {
		t.Fatal(err)
	}
	set, noted := 0, false
	for _, o := range fig.ops {
		if strings.HasPrefix(o.text, "quite a large machine") {
			set++
		}
		noted = noted || strings.Contains(o.text, "no room to name: ")
	}
	if set < 30 && !noted {
		t.Errorf("%d of 30 names are set, and the foot says nothing", set)
	}
	if set == 30 {
		t.Error("all find room: the test shows nothing")
	}
}

func TestLetter(t *testing.T) {
	for k, want := range map[int]string{0: "a", 25: "z", 26: "aa", 27: "ab", 52: "ba"} {
		if got := letter(k); got != want {
			t.Errorf("%d: %q, want %q", k, got, want)
		}
	}
}
