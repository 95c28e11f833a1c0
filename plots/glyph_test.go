package plots

import (
	"bytes"
	"strings"
	"testing"
)

// TestLettersLacking: a letter that the font lacks takes room, is drawn as a box
// in PNG, and stays itself in SVG. Liberation Sans has Latin, Greek and Cyrillic.
func TestLettersLacking(t *testing.T) {
	if n := lacking("Möbel, пила, Ωμ → ± − ≤ … ₂"); n > 1 {
		t.Errorf("%d letters of Europe are lacking", n)
	}
	if lacking("帯鋸") != 2 || known("帯 a") != "□ a" || lacks(standIn) {
		t.Error("letters of Japan are not seen to be lacking, or their stand-in is lacking too")
	}
	if w := smallText.width("帯鋸"); w != 2*sizeSmall {
		t.Errorf("two letters are %g points wide", w)
	}
	d := schoolPlan()
	d.Tools[0].Name = "帯鋸"
	fig, err := PlanView(d)
	if err != nil {
		t.Fatal(err)
	}
	svg, err := fig.SVG()
	if err != nil || !strings.Contains(string(svg), "帯鋸") {
		t.Errorf("not in the SVG: %v", err)
	}
	d.Tools[0].Name = "□□"
	boxes, err := PlanView(d)
	if err != nil {
		t.Fatal(err)
	}
	for i := range fig.ops { // same page, boxes in the place of the letters
		if fig.ops[i].text == "帯鋸" {
			boxes.ops[i].base = fig.ops[i].base
		}
	}
	a, _ := fig.PNG(72)
	b, _ := boxes.PNG(72)
	if !bytes.Equal(a, b) {
		t.Error("the PNG does not show boxes")
	}
}

// TestTextIsLegible: every text is 7 points at least where the picture is set
// 160 mm wide.
func TestTextIsLegible(t *testing.T) {
	for name, draw := range figures() {
		fig, err := draw()
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range fig.ops {
			if size := o.face.size * 16 * centimetre / fig.w; o.text != "" && size < 7 {
				t.Errorf("%s: %q is set in %.1f points", name, o.text, size)
				break
			}
		}
	}
}

// TestAxisBreak: an axis that does not start at zero says so, one that does not.
func TestAxisBreak(t *testing.T) {
	for lo, want := range map[float64]int{0: 0, 50: 1} {
		p := &pen{w: pageWidth, h: pageHeight}
		p.axes(rect{edge, edge, 400, 300}, axis{"x", 0, 10, 5}, axis{"y", lo, 100, 10})
		n := 0
		for _, o := range p.ops {
			if o.line.color == white {
				n++
			}
		}
		if n != want {
			t.Errorf("from %g: %d breaks, want %d", lo, n, want)
		}
	}
}

// TestLastNameTurnsIn: a long name at the right rim of a profile stands left of
// its line rather than turning all names upright.
func TestLastNameTurnsIn(t *testing.T) {
	d := ProfileData{Pressure: "Pa", Length: "m", Stations: []Station{{Name: "saw", Total: 100, Static: 200},
		{Name: "a collector with quite a long name", Distance: 10, Total: 900, Static: 950}}}
	fig, err := PressureProfile(d)
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range fig.ops {
		if o.turned {
			t.Errorf("%q is upright", o.text)
		}
	}
	if fig.count("a collector with quite a long name") != 1 {
		t.Error("the name is cut")
	}
	apart(t, "profile", fig)
}
