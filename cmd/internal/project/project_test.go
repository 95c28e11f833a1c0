package project

import (
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"wyewright/network/shopfile"
	"wyewright/network/units"
	"wyewright/optimize/price"
)

// load reads a demo shop from the repository.
func load(t *testing.T, name string) *Project {
	t.Helper()
	folder := os.DirFS("../../../testdata/shops")
	f, c, err := Load(folder, name, name)
	if err != nil {
		t.Fatal(err)
	}
	p, err := New(f, c, folder)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// TestCollectorInPlace: the studio's readings were taken with the old
// canister, which stands first in the file; the redesign names the new cyclone.
func TestCollectorInPlace(t *testing.T) {
	p := load(t, "instrument.yaml")
	if first, now := p.File.Spec.Collectors[0].ID, p.Network.Spec().Collectors[0].ID; first != "old canister" || now != "new cyclone" {
		t.Errorf("the file has %q first, the redesign %q", first, now)
	}
}

// TestProblem: what the school's file allows reaches the problem.
func TestProblem(t *testing.T) {
	p := load(t, "school.yaml")
	problem, err := p.Problem()
	if err != nil {
		t.Fatal(err)
	}
	if got := problem.Companions; got != p.File.Redesign.May.Companions {
		t.Errorf("%d companions, the file allows %d", got, p.File.Redesign.May.Companions)
	}
	if got, want := problem.Limits.Transport, units.Velocity(17.8); got != want {
		t.Errorf("transport velocity %v, want %v", got, want)
	}
	if len(problem.States) != 8 || len(problem.Choices) == 0 {
		t.Errorf("%d states, %d choices", len(problem.States), len(problem.Choices))
	}
}

// TestParseItem: names of items as a price file has them. Hand-worked.
func TestParseItem(t *testing.T) {
	for name, want := range map[string]price.Item{
		"hanger":                     {Kind: price.Hanger},
		"pipe, dust spiral, 160 mm":  {Kind: price.Pipe, Family: "dust spiral", Sizes: [3]string{"160 mm"}},
		"hose clamp, 5 in":           {Kind: price.HoseClamp, Sizes: [3]string{"5 in"}},
		"wye, snap-lock, 5 in, 4 in": {Kind: price.Wye, Family: "snap-lock", Sizes: [3]string{"5 in", "4 in"}},
	} {
		if got, err := parseItem(name); err != nil || got != want {
			t.Errorf("%s: %+v, %v; want %+v", name, got, err, want)
		}
	}
	for _, bad := range []string{"", "pip, dust spiral, 1 in", "wye, snap-lock, 1 in, 2 in, 3 in, 4 in"} {
		if _, err := parseItem(bad); err == nil {
			t.Errorf("%q is taken", bad)
		}
	}
}

// shop is the least file that has prices; %s stands for its section.
const shop = `version: 1
name: One machine
units: si
currency: EUR
collectors: {fan unit: {at: COL, inlet: 160 mm, fan: {pressure: fan static, curve: [{flow: 0 m3/h, pressure: 2400 Pa}, {flow: 1900 m3/h, pressure: 300 Pa}]}}}
points: {unit: m, at: {COL: [0, 0, 1.5], A: [6, 2, 1]}}
runs: {drop A: {from: A, to: COL, size: 100 mm, family: hose}}
tools: {planer: {flow: 820 m3/h, dust: chips, ports: [{at: A, size: 120 mm, entry: 1.6, gate: no}]}}
states: [each alone]
prices: `

// priced makes the project of the shop with a section of prices and a file.
func priced(t *testing.T, section, file string) (*Project, error) {
	t.Helper()
	folder := fstest.MapFS{"shop.yaml": {Data: []byte(shop + section + "\n")}, "p.csv": {Data: []byte(file)}}
	f, c, err := Load(folder, "shop.yaml", "shop.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return New(f, c, folder)
}

// TestPrices: a price file in the ways it may be written, and the file's own
// prices in front of it. Hand-worked: 3.048 EUR a foot is 10 EUR a metre.
func TestPrices(t *testing.T) {
	const file = "item,price,per\n# a comment\n\"pipe, dust spiral, 160 mm\",3.048,ft\n\"pipe, dust spiral, 180 mm\",7,m\nhanger,2.50\n"
	if _, err := priced(t, "{file: p.csv}", file); err == nil {
		t.Error("3.048 EUR is no amount in cents, yet it is taken")
	}
	p, err := priced(t, `{file: p.csv, own: {hanger: 3 EUR}}`, strings.Replace(file, "3.048", "3.05", 1))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		item string
		qty  float64
		want price.Money
	}{{"pipe, dust spiral, 160 mm", 3.048, 3050}, {"pipe, dust spiral, 180 mm", 2, 1400}, {"hanger", 2, 600}} {
		item, err := parseItem(c.item)
		if err != nil {
			t.Fatal(err)
		}
		q, ok := p.Book.Price(item)
		if got := q.Times(c.qty); !ok || got != c.want {
			t.Errorf("%g of %s cost %d, want %d", c.qty, c.item, got, c.want)
		}
	}
	if fresh, err := price.Builtin("EUR"); err != nil {
		t.Error(err)
	} else if q, _ := fresh.Price(price.Item{Kind: price.Hanger}); q.Money == 300 {
		t.Error("one shop's own price has reached the book of all")
	}
}

// TestWrongPrices: every faulty row is named, and files outside the folder
// are refused.
func TestWrongPrices(t *testing.T) {
	for _, c := range []struct{ section, file, want string }{
		{"{file: p.csv}", "item,price\npip,3\nhanger,cheap\nhanger,3,yard\nhanger\n", "row 2: "},
		{"{file: p.csv}", "item,price\npip,3\nhanger,cheap\nhanger,3,yard\nhanger\n", "row 3: "},
		{"{file: p.csv}", "item,price\npip,3\nhanger,cheap\nhanger,3,yard\nhanger\n", `row 4: per "yard"`},
		{"{file: p.csv}", "item,price\npip,3\nhanger,cheap\nhanger,3,yard\nhanger\n", "row 5: needs an item and a price"},
		{"{file: q.csv}", "", "q.csv"},
		{"{file: ../p.csv}", "", "must lie in the folder"},
		{"{own: {hangar: 3 EUR}}", "", "line 10: "},
	} {
		_, err := priced(t, c.section, c.file)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.section, err, c.want)
		}
	}
}

// TestLimits: the rules of a file, with the dust's own velocity or one for all.
func TestLimits(t *testing.T) {
	f := &shopfile.File{}
	f.Redesign.Limits = shopfile.Limits{Margin: 0.05, TransportByDust: true, Transport: 20, Ceiling: 30, Risers: 0.1}
	if got := Limits(f); got.Transport != 0 || got.Margin != 0.05 || got.Ceiling != 30 || got.Riser != 0.1 {
		t.Errorf("%+v", got)
	}
	f.Redesign.Limits.TransportByDust = false
	if got := Limits(f); got.Transport != 20 {
		t.Errorf("%+v", got)
	}
}
