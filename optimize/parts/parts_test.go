package parts

import (
	"math"
	"slices"
	"testing"

	"wyewright/network"
	"wyewright/network/catalog"
	"wyewright/network/units"
	"wyewright/optimize/price"
)

func builder(t testing.TB, currency string, o Options) *Builder {
	t.Helper()
	c, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	book, err := price.Builtin(currency)
	if err != nil {
		t.Fatal(err)
	}
	b, err := New(c, book, o)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// run makes a run from "family", "size", length triples.
func run(t testing.TB, b *Builder, id string, pieces ...any) *network.Run {
	t.Helper()
	r := &network.Run{ID: id}
	for i := 0; i < len(pieces); i += 3 {
		f, err := b.Catalog.Lookup(pieces[i].(string))
		if err != nil {
			t.Fatal(err)
		}
		p, err := f.Piece(pieces[i+1].(string), units.Length(pieces[i+2].(float64)))
		if err != nil {
			t.Fatal(err)
		}
		r.Pieces = append(r.Pieces, p)
	}
	return r
}

// count adds up the quantity of a kind that is bought.
func count(lines []Line, k price.Kind) float64 {
	n := 0.0
	for _, l := range lines {
		if l.Item.Kind == k && l.Action == Buy {
			n += l.Qty
		}
	}
	return n
}

// hours adds up the hours of a task.
func hours(lines []Line, task price.Task) float64 {
	h := 0.0
	for _, l := range lines {
		if l.Item == price.Work(task) {
			h += l.Hours
		}
	}
	return h
}

type want struct {
	kind price.Kind
	n    float64
}

func expect(t *testing.T, name string, lines []Line, wants ...want) {
	t.Helper()
	for _, w := range wants {
		if got := count(lines, w.kind); math.Abs(got-w.n) > 1e-9 {
			t.Errorf("%s: %g %v, want %g", name, got, w.kind, w.n)
		}
	}
}

func TestKeptRunHasNoLines(t *testing.T) {
	b := builder(t, "EUR", Options{})
	before := run(t, b, "drop", "hose", "100 mm", 1.5, "dust spiral", "120 mm", 0.0)
	before.Gate = &network.Gate{}
	after := *before
	after.Pieces = slices.Clone(before.Pieces)
	after.Pieces[1].Size = "12 cm" // another spelling
	after.New = true
	route := Route{Length: 5, Corners: []float64{90}, Port: &network.Port{Size: "100 mm"}}
	if lines := b.Run(before, after, route); lines != nil {
		t.Errorf("a kept run costs %+v", lines)
	}
	if bill := b.Bill(nil); len(bill.Rows) != 0 || bill.Planning != 0 || bill.Shelf != 0 {
		t.Errorf("bill of nothing: %+v", bill)
	}
}

// Hand-worked: 7 m of 160 mm in sticks of 3 m with one bend of 90° and one of
// 30°, in the place of 6 m of 120 mm.
func TestRunReplaced(t *testing.T) {
	b := builder(t, "EUR", Options{})
	lines := b.Run(run(t, b, "trunk", "dust spiral", "120 mm", 6.0), *run(t, b, "trunk", "dust spiral", "160 mm", 0.0),
		Route{Length: 7, Corners: []float64{90, 30}})
	expect(t, "trunk", lines, want{price.Pipe, 7}, want{price.Coupling, 2}, want{price.Elbow90, 1}, want{price.Elbow45, 1},
		want{price.Hanger, 5}, want{price.Reducer, 0}, want{price.Hose, 0}, want{price.Gate, 0}, want{price.Screws, 18},
		want{price.Sealant, 6 * math.Pi * 0.160})
	for task, h := range map[price.Task]float64{price.Hang: 7 * .30, price.Join: 6 * .25, price.Fit: 2 * .45, price.Strip: 6 * .12} {
		if got := hours(lines, task); math.Abs(got-h) > 1e-9 {
			t.Errorf("%s: %g h, want %g", task, got, h)
		}
	}
	spare := slices.IndexFunc(lines, func(l Line) bool { return l.Action == Remove })
	if spare < 0 || lines[spare].Item.Sizes[0] != "120 mm" || lines[spare].Qty != 6 {
		t.Errorf("no spare: %+v", lines)
	}
	// Above the limit of height every hour is 1.3.
	high := b.Run(nil, *run(t, b, "trunk", "dust spiral", "160 mm", 7.0), Route{Height: 4})
	if got := hours(high, price.Hang); math.Abs(got-7*.30*1.3) > 1e-9 {
		t.Errorf("at height: %g h", got)
	}
}

// The joints of the families, hand-worked: 7 m with one bend of 90°.
func TestRunByJointKind(t *testing.T) {
	b := builder(t, "USD", Options{})
	for _, c := range []struct {
		family, size string
		couplings    float64
		seams        float64 // hours of closing sticks
	}{
		{"US spiral", "6 in", 2, 0},          // 3 sticks of 3.048 m, 2 joints
		{"PVC S&D", "6 in", 2, 0},            // the same
		{"clamp-together in", "6 in", 6, 0},  // 5 sticks of 1.524 m, 4 joints, and 2 at the elbow
		{"snap-lock", "6 in", 0, 5 * 0.10},   // 5 sticks, crimped
		{"clamp-together in", "10 in", 6, 0}, //
	} {
		lines := b.Run(nil, *run(t, b, "r", c.family, c.size, 7.0), Route{Corners: []float64{90}})
		expect(t, c.family, lines, want{price.Coupling, c.couplings})
		if got := hours(lines, price.Seam); math.Abs(got-c.seams) > 1e-9 {
			t.Errorf("%s: %g h of seams, want %g", c.family, got, c.seams)
		}
	}
}

func TestHose(t *testing.T) {
	b := builder(t, "EUR", Options{})
	before := run(t, b, "drop", "hose", "120 mm", 3.0, "dust spiral", "120 mm", 2.0)
	port := &network.Port{Size: "100 mm", Diameter: 0.1}

	shorter := b.Run(before, *run(t, b, "drop", "hose", "120 mm", 1.0, "dust spiral", "120 mm", 2.0), Route{Port: port})
	if j, _ := b.Cost(shorter); j != 0 || len(shorter) != 3 || hours(shorter, price.Shorten) != 0.25 {
		t.Errorf("shortening costs %d: %+v", j, shorter)
	}
	alone := b.Shorten("drop", before.Pieces[0], 1, 0)
	if !slices.Equal(alone, shorter) {
		t.Errorf("two ways to shorten differ: %+v", alone)
	}
	// A new hose of the port's size: a reducer to the pipe that stays, none to
	// the port.
	fresh := b.Run(before, *run(t, b, "drop", "hose", "100 mm", 3.0, "dust spiral", "120 mm", 2.0), Route{Port: port})
	expect(t, "new hose", fresh, want{price.Hose, 3}, want{price.HoseClamp, 2}, want{price.Bonding, 1},
		want{price.Reducer, 1}, want{price.Pipe, 0}, want{price.Adapter, 0})
	// A longer hose is a new one; it does not fit the port.
	longer := b.Run(before, *run(t, b, "drop", "hose", "120 mm", 4.0, "dust spiral", "120 mm", 2.0), Route{Port: port})
	expect(t, "longer hose", longer, want{price.Hose, 4}, want{price.Reducer, 1})
}

func TestGateFollowsSize(t *testing.T) {
	b := builder(t, "EUR", Options{})
	old, now := run(t, b, "drop", "dust spiral", "120 mm", 2.0), run(t, b, "drop", "dust spiral", "140 mm", 2.0)
	old.Gate, now.Gate = &network.Gate{}, &network.Gate{}
	expect(t, "resized", b.Run(old, *now, Route{}), want{price.Gate, 1})
	expect(t, "longer", b.Run(old, *withGate(run(t, b, "drop", "dust spiral", "120 mm", 2.5)), Route{}), want{price.Gate, 0})
	old.Gate = nil
	expect(t, "first", b.Run(old, *withGate(run(t, b, "drop", "dust spiral", "120 mm", 2.0)), Route{}), want{price.Gate, 1}, want{price.Pipe, 0})
}

func withGate(r *network.Run) *network.Run { r.Gate = &network.Gate{}; return r }

var all = [3]bool{true, true, true}

// Two runs of one family: equal sizes need no reducer, unequal ones exactly
// one, and sold follows the catalogue.
func TestReducerOfEveryPair(t *testing.T) {
	b := builder(t, "EUR", Options{})
	for _, f := range b.Catalog.Families() {
		for _, x := range f.Sizes {
			for _, y := range f.Sizes {
				lines, sold := b.Joint(network.Joint{}, run(t, b, "a", f.Name, x.Name, 1.0), nil, run(t, b, "b", f.Name, y.Name, 1.0), "", all)
				reducers := 0.0
				if x.Name != y.Name {
					reducers = 1
				}
				expect(t, f.Name+" "+x.Name+" "+y.Name, lines, want{price.Reducer, reducers}, want{price.Adapter, 0}, want{price.Wye, 0})
				if sold != f.Reducer(x.Name, y.Name) {
					t.Errorf("%s %s-%s: sold %v", f.Name, x.Name, y.Name, sold)
				}
			}
		}
	}
}

// Every wye: sold as the catalogue says, one reducer where the main differs,
// one more where the wye is sold with a larger branch only.
func TestWyeFollowsCatalogue(t *testing.T) {
	b := builder(t, "USD", Options{})
	for _, name := range []string{"snap-lock", "PVC S&D", "dust spiral"} {
		f, _ := b.Catalog.Family(name)
		for _, m := range f.Sizes {
			for _, s := range f.Sizes {
				for _, c := range f.Sizes {
					lines, sold := b.Joint(network.Joint{Point: "J", WyeDegrees: 45, BranchBend: 45}, run(t, b, "m", name, m.Name, 1.0),
						run(t, b, "s", name, s.Name, 1.0), run(t, b, "c", name, c.Name, 1.0), "", all)
					direct := f.Wye("", s.Name, c.Name)
					larger := slices.ContainsFunc(f.Branches(c.Name), func(b catalog.Size) bool {
						return b.Nominal > s.Nominal && f.Reducer(s.Name, b.Name)
					})
					if sold != ((direct || larger) && f.Reducer(m.Name, c.Name)) {
						t.Fatalf("%s %s×%s×%s: sold %v", name, c.Name, m.Name, s.Name, sold)
					}
					if !sold {
						continue
					}
					reducers := 0.0
					if m.Name != c.Name {
						reducers = 1
					}
					if !direct { // one more in the branch leg
						reducers++
					}
					expect(t, name, lines, want{price.Wye, 1}, want{price.Reducer, reducers}, want{price.Elbow45, 1}, want{price.Hanger, 2})
					if _, unpriced := b.Cost(lines); len(unpriced) > 0 {
						t.Errorf("%s: unpriced %v", name, unpriced)
					}
				}
			}
		}
	}
}

// Hand-worked: a branch of 120 mm with a bend of 45° enters 180 mm behind a
// main of 160 mm.
func TestWyeJoint(t *testing.T) {
	b := builder(t, "EUR", Options{})
	j := network.Joint{Point: "J1", WyeDegrees: 45, BranchBend: 45}
	main, side, common := run(t, b, "m", "dust spiral", "160 mm", 3.0), run(t, b, "s", "dust spiral", "120 mm", 3.0), run(t, b, "c", "dust spiral", "180 mm", 3.0)
	if lines, sold := b.Joint(j, main, side, common, "", [3]bool{}); lines != nil || !sold {
		t.Errorf("a kept wye costs %+v", lines)
	}
	lines, sold := b.Joint(j, main, side, common, "", all)
	if !sold {
		t.Fatal("not sold")
	}
	// Fittings that touch: elbow and wye, reducer and wye.
	expect(t, "new", lines, want{price.Wye, 1}, want{price.Reducer, 1}, want{price.Elbow45, 1}, want{price.Coupling, 2},
		want{price.Screws, 15}, want{price.Sealant, math.Pi * (2*.120 + 2*.180 + .180)})
	if got := hours(lines, price.Cut); got != 0 {
		t.Errorf("cut into a new main: %g h", got)
	}
	if got := hours(lines, price.Fit); math.Abs(got-(.55+.45+.55)) > 1e-9 {
		t.Errorf("fitting %g h", got)
	}
	kept, _ := b.Joint(j, main, side, common, "", [3]bool{false, true, false})
	if got := hours(kept, price.Cut); got != 1.4 {
		t.Errorf("cut into the main that stays: %g h", got)
	}
	// The common duct goes on behind another wye: no reducer.
	on, sold := b.Joint(j, nil, side, common, "", all)
	expect(t, "second", on, want{price.Wye, 1}, want{price.Reducer, 0}, want{price.Coupling, 2})
	if !sold {
		t.Error("second wye not sold")
	}
	// As built without a part in any catalogue: kept, so no matter.
	odd := run(t, b, "o", "dust spiral", "315 mm", 1.0)
	if _, sold := b.Joint(j, main, odd, common, "", [3]bool{}); !sold {
		t.Error("a kept joint was called unsold")
	}
	if _, sold := b.Joint(j, main, odd, common, "", [3]bool{true, false, false}); sold {
		t.Error("a branch larger than the common duct was sold")
	}
}

func TestInlet(t *testing.T) {
	b := builder(t, "EUR", Options{})
	j := network.Joint{Common: -1, Branch: -1}
	for _, c := range []struct {
		family, size, inlet string
		reducers, adapters  float64
		sold                bool
	}{
		{"dust spiral", "200 mm", "200 mm", 0, 0, true},
		{"dust spiral", "180 mm", "200 mm", 1, 0, true},
		{"US spiral", "8 in", "200 mm", 0, 0, true},   // 1.6 %: slips
		{"dust spiral", "160 mm", "6 in", 1, 0, true}, // by way of 150 mm
		{"US spiral", "6 in", "160 mm", 0, 1, true},   // 5 %
		{"PVC S&D", "4 in", "4 in", 0, 1, true},       // plastic on a metal spigot
		{"snap-lock", "4 in", "8 in", 1, 0, false},    // four steps
		{"hose", "100 mm", "4 in", 0, 0, true},
		{"hose", "100 mm", "125 mm", 1, 0, true},
		{"PVC S&D", "6 in", "5 in", 1, 0, true}, // nothing mates: made to order
	} {
		lines, sold := b.Joint(j, run(t, b, "m", c.family, c.size, 1.0), nil, nil, c.inlet, all)
		expect(t, c.family+" "+c.size+" to "+c.inlet, lines, want{price.Reducer, c.reducers}, want{price.Adapter, c.adapters})
		if sold != c.sold {
			t.Errorf("%s %s to %s: sold %v", c.family, c.size, c.inlet, sold)
		}
	}
}

func TestAdapters(t *testing.T) {
	b := builder(t, "USD", Options{})
	for _, c := range []struct {
		fromFamily, from, toFamily, to string
		reducers, adapters             float64
		sold                           bool
	}{
		{"PVC S&D", "4 in", "snap-lock", "4 in", 0, 1, true},
		{"PVC S&D", "4 in", "snap-lock", "6 in", 1, 1, true},
		{"snap-lock", "5 in", "PVC S&D", "4 in", 1, 1, true}, // the change of size is made in snap-lock
		{"dust spiral", "100 mm", "US spiral", "4 in", 0, 1, true},
		{"hose", "4 in", "PVC S&D", "4 in", 0, 0, true},
		{"PVC S&D", "3 in", "hose", "4 in", 1, 0, true},
		{"hose", "120 mm", "EN 1506 spiral", "125 mm", 0, 1, true},
		{"hose", "4 in", "dust spiral", "100 mm", 0, 0, true},
		{"PVC SDR35", "10 in", "snap-lock", "4 in", 0, 0, false},
	} {
		lines, sold := b.Joint(network.Joint{}, run(t, b, "a", c.fromFamily, c.from, 1.0), nil, run(t, b, "b", c.toFamily, c.to, 1.0), "", all)
		name := c.fromFamily + " " + c.from + " to " + c.toFamily + " " + c.to
		if sold != c.sold {
			t.Errorf("%s: sold %v", name, sold)
		}
		if sold {
			expect(t, name, lines, want{price.Reducer, c.reducers}, want{price.Adapter, c.adapters})
		}
	}
}

// A hose turns by itself; pipe needs elbows, the next standard ones.
func TestBends(t *testing.T) {
	b := builder(t, "EUR", Options{})
	pipe, hose := run(t, b, "a", "dust spiral", "160 mm", 1.0), run(t, b, "b", "hose", "160 mm", 1.0)
	for degrees, n := range map[float64][2]float64{0: {0, 0}, 4: {0, 0}, 20: {1, 0}, 45: {1, 0}, 60: {0, 1}, 90: {0, 1}, 120: {1, 1}, 180: {0, 2}} {
		lines, _ := b.Joint(network.Joint{MainBend: degrees}, pipe, nil, pipe, "", all)
		expect(t, "bend", lines, want{price.Elbow45, n[0]}, want{price.Elbow90, n[1]}, want{price.Hanger, n[0] + n[1]})
	}
	lines, _ := b.Joint(network.Joint{MainBend: 90}, hose, nil, pipe, "", all)
	expect(t, "hose bend", lines, want{price.Elbow90, 0}, want{price.Sealant, 0})
}

func TestSmallJobs(t *testing.T) {
	b := builder(t, "EUR", Options{Rate: 1000, Height: map[string]units.Length{"J5": 4}})
	if err := b.Book.Override(price.Item{Kind: price.SealKit, Family: "cap"}, price.Quote{Money: 777}); err != nil {
		t.Fatal(err)
	}
	// Hand-worked: the user's kit, and 0.20 h × 1.3 at 10.00.
	if j, unpriced := b.Cost(b.Seal(network.Leak{ID: "cap", At: "J5"})); j != 777+260 || unpriced != nil {
		t.Errorf("seal: %d %v", j, unpriced)
	}
	// Hand-worked: gate seal of 100 mm at 6.50 and 0.30 h.
	if j, _ := b.Cost(b.Repair("drop", "100 mm")); j != 650+300 {
		t.Errorf("repair: %d", j)
	}
	lines := b.BleedInlet("125 mm", "dust spiral", "J1")
	expect(t, "bleed", lines, want{price.Saddle, 1}, want{price.Gate, 1}, want{price.Screen, 1}, want{price.Cap, 1})
	if _, unpriced := b.Cost(lines); unpriced != nil {
		t.Errorf("bleed: unpriced %v", unpriced)
	}
}

// The goal is 3 µs for a joint with its cost; the search fills tables with
// tens of thousands.
func BenchmarkJoint(b *testing.B) {
	bl := builder(b, "EUR", Options{Rate: 3500})
	j := network.Joint{Point: "J1", WyeDegrees: 45, BranchBend: 45}
	main, side, common := run(b, bl, "m", "dust spiral", "160 mm", 3.0), run(b, bl, "s", "dust spiral", "120 mm", 3.0), run(b, bl, "c", "dust spiral", "180 mm", 3.0)
	b.Run("lines", func(b *testing.B) {
		for b.Loop() {
			bl.Joint(j, main, side, common, "", all)
		}
	})
	b.Run("lines and cost", func(b *testing.B) {
		for b.Loop() {
			lines, _ := bl.Joint(j, main, side, common, "", all)
			bl.Cost(lines)
		}
	})
}
