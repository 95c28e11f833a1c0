package parts

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"wyewright/network"
	"wyewright/network/units"
	"wyewright/optimize/price"
)

// rows writes the rows to buy as "group: item, from the shop".
func rows(b *Bill) []string {
	var out []string
	for _, g := range b.Subtotals() {
		for _, r := range g.Rows {
			out = append(out, fmt.Sprintf("%s: %s, %s", g.Group, r.Item, Amount(r.ShelfQty, r.ShelfUnit, units.SI)))
		}
	}
	return out
}

// TestGroups: what one buys comes in groups, each with its sums, which add up
// to the bill.
func TestGroups(t *testing.T) {
	b := builder(t, "EUR", Options{Rate: 3500, Freight: 6000, Height: map[string]units.Length{"COL": 1}})
	lines := redesign(t, b)
	lines = append(lines, b.Run(nil, *run(t, b, "new hose", "hose", "120 mm", 1.5), Route{})...)
	lines = append(lines, b.Repair("P", "120 mm")...)
	lines = append(lines, Lump("a collector", "COL", 90000))
	bill := b.Bill(lines)
	var names []string
	var total, shelf price.Money
	for _, g := range bill.Subtotals() {
		names = append(names, g.Group.String())
		total += g.Total
		shelf += g.Shelf
		if r := g.Rows[0]; g.Group == InPlace && r.Where(units.SI) != "at COL" {
			t.Errorf("the collector stands %q", r.Where(units.SI))
		}
		if g.Group == Spares && g.Total != 0 {
			t.Errorf("spares are in the planning cost: %d", g.Total)
		}
	}
	if want := []string{"pipe", "hose", "fittings", "hanging", "sealing and screws", "bonding", "in place", "spares"}; !slices.Equal(names, want) {
		t.Errorf("groups %q", names)
	}
	if total != bill.Materials || shelf+bill.Labour+bill.Freight != bill.Shelf {
		t.Errorf("total %d of %d, shelf %d of %d", total, bill.Materials, shelf, bill.Shelf)
	}
	got := rows(bill)
	for _, want := range []string{"hose: hose clamp, 120 mm, 2", "sealing and screws: gate seal, 120 mm, 1", "in place: in place, a collector, 1", "fittings: gate, dust spiral 140 mm, 1"} {
		if !slices.Contains(got, want) {
			t.Errorf("no %q in %q", want, got)
		}
	}
	sums := map[string]price.Money{}
	for _, s := range bill.Sums() {
		sums[s.Name] = s.Amount
	}
	if sums["freight"] != 6000 || sums["spares"] != 800 || sums["from the shop in whole sticks and packs"]+sums["spares"]+bill.Labour+6000 != bill.Shelf {
		t.Errorf("sums %v", sums)
	}
}

// TestSpares: hand-worked: 33 m of 160 mm are 11 sticks with 10 couplings, so
// one spare coupling; nothing is left of the sticks for 7 % of waste, so one
// more stick; and a tube of sealant. 3.5 m leave enough, and a bucket of
// sealant lasts. The planning cost is the same with and without.
func TestSpares(t *testing.T) {
	b := builder(t, "EUR", Options{})
	lines := pipeLines(t, b, 33)
	bill := b.Bill(lines)
	if j, _ := b.Cost(lines); j != bill.Planning || bill.Planning != bill.Materials+bill.Labour {
		t.Errorf("planning cost %d, want %d", bill.Planning, j)
	}
	spares := func(b *Bill) []string {
		return slices.DeleteFunc(rows(b), func(s string) bool { return !strings.HasPrefix(s, "spares: ") })
	}
	if got, want := spares(bill), []string{"spares: pipe, dust spiral 160 mm, 1 stick", "spares: coupling, dust spiral 160 mm, 1", "spares: sealant, 1 tube"}; !slices.Equal(got, want) {
		t.Errorf("spares %q, want %q", got, want)
	}
	if got := spares(b.Bill(pipeLines(t, b, 3.5))); !slices.Equal(got, []string{"spares: sealant, 1 tube"}) {
		t.Errorf("spares of two pieces %q", got)
	}
	usd := builder(t, "USD", Options{})
	if got := spares(usd.Bill(usd.Run(nil, *run(t, usd, "a", "snap-lock", "6 in", 4.0), Route{}))); len(got) != 0 {
		t.Errorf("spares where sealant comes in gallons: %q", got)
	}
}

// TestPlaces: every part of the redesign says where it goes, and the places
// add up to the row.
func TestPlaces(t *testing.T) {
	b := builder(t, "EUR", Options{})
	bill := b.Bill(redesign(t, b))
	got := map[string]string{}
	for i := range bill.Rows {
		r := &bill.Rows[i]
		sum := 0.0
		for _, p := range r.Places {
			sum += p.Qty
		}
		if d := sum - r.Qty; d > 1e-9 || d < -1e-9 || r.Qty > 0 && len(r.Places) == 0 {
			t.Errorf("%s: %g in places of %g", r.Item, sum, r.Qty)
		}
		got[r.Action.String()+" "+r.Item.String()] = r.Where(units.SI)
	}
	for item, want := range map[string]string{
		"buy wye, dust spiral 180 mm × 120 mm":     "at J1 (saw drop to near trunk)",
		"buy elbow 90, dust spiral 140 mm":         "in planer drop; at J2 (planer drop to far trunk)",
		"buy reducer, dust spiral 160 mm × 180 mm": "at J1 (far trunk)",
		"buy reducer, dust spiral 180 mm × 200 mm": "at COL (near trunk)",
		"buy elbow 45, dust spiral 120 mm":         "at J1 (saw drop)",
		"buy hanger":                               "3 in planer drop; 2 in far trunk; 4 in near trunk; 2 at J1; at J2",
		"buy gate, dust spiral 140 mm":             "in planer drop",
		"buy seal kit, old cap":                    "at J1",
		"reuse hose, 120 mm":                       "1.00 m in saw drop",
		"work, fit gate":                           "",
	} {
		if got[item] != want {
			t.Errorf("%s: %q, want %q", item, got[item], want)
		}
	}
	clamped := func(id string) *network.Run { return run(t, b, id, "clamp-together mm", "160 mm", 1.0) }
	lines, _ := b.Joint(network.Joint{Point: "J", WyeDegrees: 45}, clamped("m"), clamped("s"), clamped("c"), "", all)
	for _, r := range b.Bill(lines).Rows {
		if r.Item.Kind == price.Coupling && r.Where(units.SI) != "at J (s); at J (m); at J (c)" {
			t.Errorf("clamps: %q", r.Where(units.SI))
		}
	}
	// An elbow at a point with a height.
	j1 := b.Elbows("J9", 0, &run(t, b, "r", "dust spiral", "160 mm", 1.0).Pieces[0], []float64{90})
	b.o.Height = map[string]units.Length{"J9": 1}
	j2 := b.Elbows("J9", 0, &run(t, b, "r", "dust spiral", "160 mm", 1.0).Pieces[0], []float64{90})
	if j1[0].Point || !j2[0].Point {
		t.Errorf("run %v, point %v", j1[0].Point, j2[0].Point)
	}
}

// TestNotes: notes speak of what is on the bill, in the reader's units.
func TestNotes(t *testing.T) {
	b := builder(t, "EUR", Options{})
	hose := b.Bill(b.Run(nil, *run(t, b, "h", "hose", "120 mm", 1.5), Route{}))
	pipe := b.Bill(pipeLines(t, b, 3.5))
	lines := b.Run(nil, *run(t, b, "a", "dust spiral", "160 mm", 7.0), Route{Corners: []float64{90, 45, 90}})
	lines = append(lines, b.Run(nil, *run(t, b, "b", "dust spiral", "120 mm", 1.0), Route{Corners: []float64{90}})...)
	lines = append(lines, b.Elbows("c", 0, &run(t, b, "c", "dust spiral", "160 mm", 1.0).Pieces[0], []float64{90})...)
	bent := b.Bill(lines)
	for name, c := range map[string]struct {
		notes []string
		has   []string
		not   []string
	}{
		"hose":    {hose.Notes(units.SI), []string{"Bonding: "}, []string{"Hangers"}},
		"pipe":    {pipe.Notes(units.SI), []string{"Hangers: one within 0.6 m", "Sealant: ", "Spares "}, []string{"Bonding"}},
		"feet":    {pipe.Notes(units.US), []string{"Hangers: one within 2 ft"}, []string{"0.6 m"}},
		"nothing": {b.Bill(nil).Notes(units.SI), nil, []string{" "}},
		"cut":     {pipe.CutNotes(units.SI), []string{"Each cut takes 3 mm"}, nil},
		"bends":   {bent.CutNotes(units.SI), []string{"Saw again at the bends inside a run: 1 in b, 3 in a."}, nil},
		"no bend": {pipe.CutNotes(units.SI), []string{"hold each piece up"}, []string{"Saw again"}},
		"no cut":  {hose.CutNotes(units.SI), nil, []string{" "}},
	} {
		text := strings.Join(c.notes, "\n")
		for _, s := range c.has {
			if !strings.Contains(text, s) {
				t.Errorf("%s: no %q in %q", name, s, text)
			}
		}
		for _, s := range c.not {
			if strings.Contains(text, s) {
				t.Errorf("%s: %q in %q", name, s, text)
			}
		}
	}
}
