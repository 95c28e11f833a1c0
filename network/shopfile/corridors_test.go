package shopfile

import (
	"strings"
	"testing"

	"wyewright/network"

	"github.com/google/go-cmp/cmp"
)

// wayShop is a small shop of our own invention; %s stands for more points.
const wayShop = `version: 1
currency: EUR
defaults: {family: dust spiral, gate: {leak: 1 cm2}}
collectors:
  c: {at: R, inlet: 160 mm, fan: {flow: 900 m3/h}}
points:
  unit: m
  at:
    R: [0, 0, 2]
    J1: [4, 0, 2]
    J2: [4, 6, 2]
    P: [6, 6, 1]
    Q: [6, 0, 1]
%sruns:
  main 1: {from: J1, to: R, size: 125 mm}
  main 2: {from: J2, to: J1, size: 125 mm}
  drop 1: {from: P, to: J2, size: 100 mm}
  drop 2: {from: Q, to: J1, size: 100 mm}
tools:
  p: {flow: 400 m3/h, ports: [{at: P, size: 100 mm, entry: 1}]}
  q: {flow: 400 m3/h, ports: [{at: Q, size: 100 mm, entry: 1}]}
states: [each alone]
`

// wayPoints are points that only corridors use.
const wayPoints = "    K: [0, 6, 2] # by the door\n    corner: [2, 6, 2]\n"

// ways is wayShop with more points and more sections.
func ways(points, more string) []byte {
	return []byte(strings.Replace(wayShop, "%s", points, 1) + more)
}

// TestCorridors: hand-worked.
func TestCorridors(t *testing.T) {
	f := decodeText(t, ways(wayPoints, `corridors:
  north wall: {from: J2, to: K, via: [corner], length: 7 m, cost: 1.3, largest: 160 mm, not: [hose]}
  west wall: {from: K, to: R, via: [[0, 3, 2]]}
  cellar: {from: J2, to: hatch, length: 5 m}
  shaft: {from: hatch, to: R, length: 4 m}
redesign: {may: [routes]}
`))
	for _, w := range f.Warnings {
		t.Error(w)
	}
	want := []Corridor{
		{ID: "north wall", From: "J2", To: "K", Via: []network.Vec{{X: 2, Y: 6, Z: 2}}, Length: 7, Cost: 1.3, Largest: 0.16, Not: []string{"hose"}, Line: 26, Column: 3},
		{ID: "west wall", From: "K", To: "R", Via: []network.Vec{{X: 0, Y: 3, Z: 2}}, Cost: 1, Line: 27, Column: 3},
		{ID: "cellar", From: "J2", To: "hatch", Length: 5, Cost: 1, Line: 28, Column: 3},
		{ID: "shaft", From: "hatch", To: "R", Length: 4, Cost: 1, Line: 29, Column: 3},
	}
	if d := cmp.Diff(want, f.Corridors); d != "" {
		t.Errorf("corridors (-want +got):\n%s", d)
	}
	points := []network.Point{{ID: "K", At: network.Vec{X: 0, Y: 6, Z: 2}, Placed: true}, {ID: "hatch"}}
	if d := cmp.Diff(points, f.CorridorPoints); d != "" {
		t.Errorf("points of corridors (-want +got):\n%s", d)
	}
	// What only corridors use is no part of the shop as built.
	for _, p := range f.Spec.Points {
		if p.ID == "K" || p.ID == "hatch" || p.ID == "corner" {
			t.Errorf("point %s is in the shop", p.ID)
		}
	}
	if !f.Redesign.May.Routes || f.Redesign.May.Collector {
		t.Errorf("may %+v", f.Redesign.May)
	}
	if _, err := network.New(f.Spec); err != nil {
		t.Error(err)
	}
}

// TestCorridorsMayDiffer: a way of another length between the same points is
// another way; hand-worked, main 1 is 4 m long.
func TestCorridorsMayDiffer(t *testing.T) {
	for corridor, same := range map[string]bool{
		"{from: J1, to: R}":                                 true,
		"{from: R, to: J1, length: 4.03 m}":                 true,
		"{from: R, to: J1, length: 4.1 m}":                  false,
		"{from: R, to: J1, via: [[2, 1, 2]]}":               false,
		"{from: J2, to: R, via: [[1, 1, 2], [2, 6, 2]]}":    true,
		"{from: J2, to: R, via: [[2, 6, 2], [1, 1, 2]]}":    false,
		"{from: R, to: J2, via: [[2, 6, 2], [1, 1, 2]]}":    true,
		"{from: R, to: J2, via: [[1, 1, 2], [2, 6, 2.01]]}": false,
	} {
		src := ways("", "corridors: {first: {from: R, to: J2, via: [[2, 6, 2], [1, 1, 2]]}, x: "+corridor+"}\nredesign: {may: [routes]}\n")
		_, err := Decode("x", src, builtin(t))
		if same != (err != nil && strings.Contains(err.Error(), `corridor "x" goes the way of`)) || !same && err != nil {
			t.Errorf("%s: same way %v expected, got %v", corridor, same, err)
		}
	}
}

// TestCorridorsAndRoutes: corridors and the permission go together.
func TestCorridorsAndRoutes(t *testing.T) {
	for more, want := range map[string]string{
		"corridors: {a: {from: J2, to: R}}\nredesign: {may: [routes]}\n":                          "",
		"corridors: {a: {from: J2, to: R}}\nredesign: {families: [dust spiral], may: [resize]}\n": "corridors are given, but no redesign may use them",
		"redesign: {may: [routes]}\n": "the routes may change, but no corridor is given",
		"corridors: {a: {from: J2, to: R, not: [dust spiral]}}\nredesign: {may: [routes], families: [dust spiral]}\n":                     `corridor "a": no family on offer may run there`,
		"corridors: {a: {from: J2, to: K}, b: {from: K, to: R}, z: {from: K, to: corner}}\nredesign: {may: [routes]}\n":                   `corridor "z" leads nowhere`,
		"corridors: {a: {from: J2, to: K}}\nredesign: {may: [routes]}\n":                                                                  `corridor "a" leads nowhere`,
		"corridors: {a: {from: J2, to: K}, b: {from: K, to: corner}, z: {from: K, to: corner, length: 9 m}}\nredesign: {may: [routes]}\n": `corridor "a" leads nowhere; corridor "b" leads nowhere; corridor "z" leads nowhere`,
	} {
		points := ""
		if strings.Contains(more, "K") {
			points = strings.Split(wayPoints, "\n")[0] + "\n"
		}
		if strings.Contains(more, "corner") {
			points = wayPoints
		}
		var got []string
		for _, w := range decodeText(t, ways(points, more)).Warnings {
			got = append(got, w.Msg)
		}
		if s := strings.Join(got, "; "); s != want {
			t.Errorf("%s: %s, want %s", more, s, want)
		}
	}
}
