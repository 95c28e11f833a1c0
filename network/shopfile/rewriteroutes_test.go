package shopfile

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"wyewright/network"

	"github.com/google/go-cmp/cmp"
)

// changedLines are the lines that went and those that came, without indent.
func changedLines(before, after string) (gone, come []string) {
	without := func(a, b string) (out []string) {
		for l := range strings.SplitSeq(a, "\n") {
			if !strings.Contains("\n"+b+"\n", "\n"+l+"\n") {
				out = append(out, strings.TrimSpace(l))
			}
		}
		return out
	}
	return without(before, after), without(after, before)
}

// The annex is joined through the wall: the long run goes, two corridors are
// used up, and what else the file says stays as typed. Hand-worked.
func TestRewriteShortcut(t *testing.T) {
	f := decodeFile(t, filepath.Join(shops, "annex.yaml"))
	out, err := f.Rewrite(Edits{
		RemoveRuns: []string{"main 3"},
		AddRuns: []NewRun{{ID: "through the wall", From: "J3", To: "J1", Via: []network.Vec{{X: 9.5, Y: 0.5, Z: 2.7}, {X: 5, Y: 0.5, Z: 2.7}},
			Pieces: []network.Piece{piece(t, f, "dust spiral", "125 mm", 0)}, Corridors: []string{"through the wall", "south wall"}}},
		Runs: []RunEdit{{Run: "router hose", Pieces: []network.Piece{piece(t, f, "hose", "125 mm", 3.2)}}},
	})
	if err != nil {
		t.Fatal(err)
	}
	gone, come := changedLines(string(f.Source()), string(out))
	wantGone := []string{
		"main 3: {from: J3, to: J2, via: [[9500, 6500, 2700]], size: 100 mm, main: true}",
		"router hose: {from: RT, to: J3, size: 100 mm, family: hose, length: 3.2 m}",
		"through the wall: {from: J3, to: K1, via: [[9500, 500, 2700]], cost: 1.5, largest: 160 mm, not: [hose]}",
		"south wall: {from: K1, to: J1}",
	}
	wantCome := []string{
		"# taken out: main 3: {from: J3, to: J2, via: [[9500, 6500, 2700]], size: 100 mm, main: true}",
		"router hose: {from: RT, to: J3, pieces: [{size: 125 mm, family: hose, length: 3.2 m}], new: true}",
		"through the wall: {from: J3, to: J1, via: [[9500, 500, 2700], K1], pieces: [{size: 125 mm, family: dust spiral}], new: true}",
		"# taken out: through the wall: {from: J3, to: K1, via: [[9500, 500, 2700]], cost: 1.5, largest: 160 mm, not: [hose]}",
		"# taken out: south wall: {from: K1, to: J1}",
	}
	if d := cmp.Diff(wantGone, gone); d != "" {
		t.Errorf("lines that went (-want +got):\n%s", d)
	}
	if d := cmp.Diff(wantCome, come); d != "" {
		t.Errorf("lines that came (-want +got):\n%s", d)
	}
}

// tangle is a shop in which much hangs on the runs that go; invented.
const tangle = `version: 1
air: {density: 1.2 kg/m3}
collectors:
  fan unit: {at: COL, inlet: 160 mm, fan: {flow: 900 m3/h}}
points:
  unit: m
  at:
    COL: [0, 0, 2]
    A: [3, 0, 2] # by the window
    C: [6, 0, 2]
    bend: [4, 1, 2]
    beam: [3, 1, 2]
    kink: # of the second drop
      [7, 1, 1]
runs:
  main: {from: A, to: COL, size: 160 mm, family: dust spiral, k: {bends: 0.3, junction: 0.2}}
  middle: # the middle
    from: C
    to: A
    via: [bend]
    pieces: # wide, then narrow
      - {size: 120 mm, family: dust spiral, length: 2 m}
      - {size: 100 mm, family: dust spiral}
    k: {bends: 0.4, junction: 0.1, steps: 0.2}
    main: true
    length: 5 m
  spur:
    # the blind end
    from: B
    to: C
    size: 100 mm
    family: dust spiral
    length: 4 m
    gate: {open: 0.2, leak: 1 cm2}
  drop 1: {from: P, to: B, size: 100 mm, family: dust spiral, length: 3 m, via: [beam]}
  drop 2: {from: Q, to: C, size: 100 mm, family: dust spiral, length: 3 m, via: [kink], k: {junction: 0.5}}
corridors: {north: {from: P, to: C, length: 6 m, cost: 2}, attic: {from: B, to: COL, length: 9 m}, shed: {from: A, to: COL, length: 8 m}} # ways
tools:
  p: {flow: 300 m3/h, ports: [{at: P, size: 100 mm, entry: 1, gate: yes}]}
  q: {flow: 300 m3/h, ports: [{at: Q, size: 100 mm, entry: 1, gate: yes}]}
leaks:
  - name: cap # on the spur
    at: B
    area: 2 cm2
  - {name: seam, at: C, area: 1 cm2}
bleeds:
  - B
  - C
  - {name: vent, at: B, size: 80 mm}
fitted: {leaks: {cap: 1.5, seam: 1.25}}
states:
  - {name: one, running: [p], open gates: [spur], open: [vent]}
  - {name: two, running: [p]} # the same once the spur is gone
  - {name: three, running: [q], shut gates: [spur]}
readings:
  - {state: three, place: spur, quantity: suction, value: 300 Pa}
redesign:
  keep: [spur, drop 1]
  may: [resize, routes]
  only: {spur: [100 mm], main: [140 mm, 160 mm]}
`

// TestRewriteTangle: hand-worked, line by line. The spur goes, and with it the
// drop that led to it; the machine is joined along a corridor; the middle run is
// turned.
func TestRewriteTangle(t *testing.T) {
	f := decodeText(t, []byte(tangle))
	out, err := f.Rewrite(Edits{
		Head:       "Plan B.",
		RemoveRuns: []string{"spur", "drop 1", "drop 2", "main"},
		TurnRuns:   []string{"middle"},
		AddRuns: []NewRun{
			{ID: "north", From: "P", To: "A", Pieces: []network.Piece{piece(t, f, "hose", "100 mm", 1), piece(t, f, "dust spiral", "100 mm", 0)}, Length: 6, Corridors: []string{"north"}},
			{ID: "south", From: "Q", To: "A", Pieces: []network.Piece{piece(t, f, "dust spiral", "100 mm", 4)}},
			{ID: "main", From: "C", To: "COL", Via: []network.Vec{{X: 3, Y: 1, Z: 2}, {X: 1, Y: 0.5, Z: 2}}, Pieces: []network.Piece{piece(t, f, "dust spiral", "140 mm", 0)}},
		},
		Leaks: []LeakEdit{{Leak: "cap"}, {Leak: "seam", Area: 0.5e-4}},
	})
	if err != nil {
		t.Fatal(err)
	}
	want := `# Plan B.
version: 1
air: {density: 1.2 kg/m3}
collectors:
  fan unit: {at: COL, inlet: 160 mm, fan: {flow: 900 m3/h}}
points:
  unit: m
  at:
    COL: [0, 0, 2]
    A: [3, 0, 2] # by the window
    C: [6, 0, 2]
    bend: [4, 1, 2]
    beam: [3, 1, 2]
    # taken out: kink: # of the second drop
      # [7, 1, 1]
runs:
  # taken out: main: {from: A, to: COL, size: 160 mm, family: dust spiral, k: {bends: 0.3, junction: 0.2}}
  middle: # the middle
    from: A
    to: C
    via: [bend]
    pieces: [{size: 100 mm, family: dust spiral, length: 3 m}, {size: 120 mm, family: dust spiral, length: 2 m}]
    k: {bends: 0.4}
    # wide, then narrow
  # taken out: spur:
    # # the blind end
    # from: B
    # to: C
    # size: 100 mm
    # family: dust spiral
    # length: 4 m
    # gate: {open: 0.2, leak: 1 cm2}
  # taken out: drop 1: {from: P, to: B, size: 100 mm, family: dust spiral, length: 3 m, via: [beam]}
  # taken out: drop 2: {from: Q, to: C, size: 100 mm, family: dust spiral, length: 3 m, via: [kink], k: {junction: 0.5}}
  north: {from: P, to: A, pieces: [{size: 100 mm, family: hose, length: 1 m}, {size: 100 mm, family: dust spiral, length: 5 m}], new: true}
  south: {from: Q, to: A, pieces: [{size: 100 mm, family: dust spiral, length: 4 m}], new: true}
  main: {from: C, to: COL, via: [beam, [1, 0.5, 2]], pieces: [{size: 140 mm, family: dust spiral}], new: true}
# taken out: north: {from: P, to: C, length: 6 m, cost: 2}, attic: {from: B, to: COL, length: 9 m}
corridors: {shed: {from: A, to: COL, length: 8 m}} # ways
tools:
  p: {flow: 300 m3/h, ports: [{at: P, size: 100 mm, entry: 1, gate: yes}]}
  q: {flow: 300 m3/h, ports: [{at: Q, size: 100 mm, entry: 1, gate: yes}]}
leaks:
  # taken out: - name: cap # on the spur
    # at: B
    # area: 2 cm2
  - {name: seam, at: C, area: 0.4 cm2, seal: no}
bleeds:
  # taken out: - B
  - C
  # taken out: - {name: vent, at: B, size: 80 mm}
fitted:
  leaks:
    seam: 1.25
# the same once the spur is gone
states:
  - {name: one, running: [p]}
  - {name: three, running: [q]}
# The ducts run other ways than when these readings were taken.
# readings:
#   - {state: three, place: spur, quantity: suction, value: 300 Pa}
redesign:
  # taken out: keep: [spur, drop 1]
  may: [resize, routes]
  # taken out: spur: [100 mm]
  only: {main: [140 mm, 160 mm]}
`
	if d := cmp.Diff(want, string(out)); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}

// TestRewriteOption: hand-worked. The points of the curve are carried to the new
// speed in the units they were typed in; the filter is the renewed one, and what
// was fitted of the old one is gone.
func TestRewriteOption(t *testing.T) {
	f := decodeText(t, []byte(optionShop))
	const fast = `fan: {pressure: fan static, curve: [{flow: 0 m3/h, pressure: 2420 Pa, power: 0.5324 kW}, {flow: 2200 m3/h, pressure: 605 Pa, power: 1.331 kW}]}`
	speeds := []string{"# taken out: speeds: # by another pulley", "# - {speed: 110 %, price: 45 EUR}", "# - {speed: 120 %, price: 60.50 EUR}"}
	const clean = "filter: {clean: 100 Pa at 1000 m3/h, loaded: 300 Pa at 1000 m3/h} # cartridge"
	fitted := []string{"fitted:", "fan speed:", "old unit: 0.9"}
	want := map[string][]string{
		"fan at 110 % speed":                 slices.Concat([]string{fast}, speeds),
		"renewed filter":                     slices.Concat([]string{clean}, fitted),
		"fan at 110 % speed, renewed filter": slices.Concat([]string{fast, clean}, speeds, fitted),
		"new cyclone":                        {"redesign: {may: [collector], collector: new cyclone}"},
		"new cyclone, fan at 90 % speed": {"# taken out: speeds: [{speed: 90 %, price: 5 EUR}]",
			"new cyclone: {at: COL, inlet: 180 mm, price: 900 EUR, fan: {flow: 1620 m3/h}}", "redesign: {may: [collector], collector: new cyclone}"},
	}
	for _, o := range f.CollectorOptions {
		out, err := f.Rewrite(Edits{Collector: &o})
		if err != nil {
			t.Errorf("%s: %v", o.Label, err)
			continue
		}
		lines, ok := want[o.Label]
		_, come := changedLines(string(f.Source()), string(out))
		if d := cmp.Diff(lines, come); ok && d != "" {
			t.Errorf("%s (-want +got):\n%s", o.Label, d)
		}
		delete(want, o.Label)
	}
	if len(want) > 0 {
		t.Errorf("not on offer: %v", want)
	}
}

// TestRewriteSpeeds: every way to describe a fan is carried to another speed;
// that it reads back is Rewrite's own check, and sees a wrong power of the law.
func TestRewriteSpeeds(t *testing.T) {
	const shop = `version: 1
currency: EUR
collectors:
  - name: fan unit
    at: COL
    inlet: 160 mm
    speeds: [{speed: 90 %, price: 40 EUR}]
    FAN
runs: {drop: {from: P, to: COL, size: 100 mm, family: dust spiral, length: 3 m}}
tools: {saw: {flow: 400 m3/h, ports: [{at: P, size: 100 mm, entry: 2.0, gate: yes}]}}
states: [each alone]
`
	for fan, want := range map[string]string{
		"fan: {flow: 1000 m3/h}": "fan: {flow: 900 m3/h}",
		"fan: {pressure: fan total, quadratic: {shutoff: 10 in wg, free air: 1000cfm}}":                                                                                       "fan: {pressure: fan total, quadratic: {shutoff: 8.1 in wg, free air: 900cfm}}",
		"fan: {pressure: fan static, density: 1.1 kg/m3, curve speed: 1450 rpm, speed: 2000 rpm, curve: [{flow: 0 m3/s, pressure: 1 kPa}, {flow: 1e0 m3/s, pressure: 0 Pa}]}": "fan: {pressure: fan static, density: 1.1 kg/m3, curve speed: 1450 rpm, speed: 1800 rpm, curve: [{flow: 0 m3/s, pressure: 1 kPa}, {flow: 1e0 m3/s, pressure: 0 Pa}]}",
		"fan: {flow: 1000 m3/h}\n    motor: {rating: 2 hp, points: [{flow: 0 m3/h, power: 1 hp}, {flow: 1000 m3/h, power: 2 hp}]}":                                            "fan: {flow: 900 m3/h}\n    motor: {rating: 2 hp, points: [{flow: 0 m3/h, power: 0.729 hp}, {flow: 900 m3/h, power: 1.458 hp}]}",
	} {
		src := strings.Replace(shop, "FAN", fan, 1)
		f := decodeText(t, []byte(src))
		out, err := f.Rewrite(Edits{Collector: &f.CollectorOptions[0]})
		if err != nil {
			t.Errorf("%s: %v", fan, err)
			continue
		}
		text := strings.Replace(strings.Replace(src, fan, want, 1), "    speeds", "    # taken out: speeds", 1)
		if d := cmp.Diff(text, string(out)); d != "" {
			t.Errorf("%s (-want +got):\n%s", fan, d)
		}
	}
}
