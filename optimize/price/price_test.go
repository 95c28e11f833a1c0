package price

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wyewright/network/catalog"
	"wyewright/network/units"
)

func book(t testing.TB, currency string) *Book {
	t.Helper()
	b, err := Builtin(currency)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func one(k Kind, family string, sizes ...string) Item {
	i := Item{Kind: k, Family: family}
	copy(i.Sizes[:], sizes)
	return i
}

// Every size of every family can be bought, in both currencies: pipe or hose,
// and each fitting that the catalogue says is sold.
func TestBooksCoverTheCatalogue(t *testing.T) {
	c, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	for _, currency := range Currencies() {
		b := book(t, currency)
		if b.Date == "" || b.Region == "" || !strings.Contains(b.Source, "invented") {
			t.Errorf("%s: head incomplete", currency)
		}
		need := func(i Item) {
			t.Helper()
			q, ok := b.Price(i)
			if !ok || q.Money <= 0 || q.Per <= 0 || q.Unit == "" || q.Source == "" {
				t.Errorf("%s: %v has no price (%+v)", currency, i, q)
			}
		}
		for _, f := range c.Families() {
			// Beyond the listed sizes some families run on; see the bounds below.
			for _, s := range f.Sizes {
				if d := float64(s.Nominal); d < 0.076 || d > 0.316 {
					continue
				}
				if f.Hose {
					need(one(Hose, f.Name, s.Name))
					need(one(HoseClamp, "", s.Name))
					continue
				}
				for _, k := range []Kind{Pipe, Elbow90, Elbow45, Wye, Coupling, Gate, Cap, Saddle, Adapter} {
					need(one(k, f.Name, s.Name))
				}
				if _, rd, sold := f.LongElbow(s.Name); sold && rd > f.Make.ElbowRD {
					for long, usual := range map[Kind]Kind{LongElbow90: Elbow90, LongElbow45: Elbow45} {
						need(one(long, f.Name, s.Name))
						a, _ := b.Price(one(long, f.Name, s.Name))
						if u, _ := b.Price(one(usual, f.Name, s.Name)); a.Money <= u.Money {
							t.Errorf("%s: %v costs no more than the usual one", currency, one(long, f.Name, s.Name))
						}
					}
				}
				for _, other := range f.Sizes {
					if other.Nominal < s.Nominal && f.Reducer(s.Name, other.Name) {
						need(one(Reducer, f.Name, other.Name, s.Name))
					}
				}
			}
		}
		for _, k := range []Kind{Hanger, Sealant, Screws, Bonding, SealKit, AccessDoor, TestPlug} {
			need(Item{Kind: k})
		}
	}
}

// Hand-worked from the listed neighbours.
func TestInterpolation(t *testing.T) {
	eur, usd := book(t, "EUR"), book(t, "USD")
	for _, c := range []struct {
		book   *Book
		item   Item
		want   Money
		marked bool
		ok     bool
	}{
		{eur, one(Pipe, "dust spiral", "160 mm"), 850, false, true},
		{eur, one(Pipe, "dust spiral", "16 cm"), 850, false, true},
		{eur, one(Pipe, "dust spiral", "140 mm"), 736, true, true},                // 650 + 200·15/35 = 735.71
		{eur, one(Wye, "dust spiral", "120 mm", "100 mm"), 2680, true, true},      // 2200 + 600·20/25
		{eur, one(Reducer, "dust spiral", "125 mm", "180 mm"), 2000, false, true}, // by the larger end
		{usd, one(Pipe, "snap-lock", "9 in"), 555, true, true},                    // (460 + 650)/2
		{usd, one(Elbow90, "PVC SDR35", "5 in"), 2500, true, true},                // (1400 + 3600)/2
		{usd, one(Hose, "hose", "2.5 in"), 195, true, true},                       // (160 + 230)/2
		{usd, one(Pipe, "PVC SDR35", "3 in"), 85, true, true},                     // 240 − (550 − 240)/2, one step below
		{usd, one(Pipe, "hose", "14 in"), 0, false, false},                        // no such table
		{usd, one(Hose, "hose", "315 mm"), 1560, true, true},                      // 1500 + 300·10.2/50.8 = 1560.2, the next size after 12 in
		{usd, one(Hose, "hose", "16 in"), 0, false, false},                        // beyond it
		{eur, one(Gate, "dust spiral", "400 mm"), 0, false, false},
		{eur, one(Pipe, "unheard of", "100 mm"), 0, false, false},
		{eur, one(Pipe, "dust spiral", "wide"), 0, false, false},
		{eur, one(Pipe, "dust spiral"), 0, false, false},
	} {
		q, ok := c.book.Price(c.item)
		if ok != c.ok || ok && (q.Money != c.want || q.Interpolated != c.marked) {
			t.Errorf("%v: got %d marked %v ok %v, want %d %v %v", c.item, q.Money, q.Interpolated, ok, c.want, c.marked, c.ok)
		}
	}
}

// Hand-worked: 10 ft at 2.30 is 23.00, not 10 × 0.3048 m at a rounded 7.55/m
// (23.01); half a cent goes up, also where binary fractions fall short of it.
func TestTimes(t *testing.T) {
	q, _ := book(t, "USD").Price(one(Pipe, "snap-lock", "4 in"))
	if got := q.Times(10 * 0.3048); got != 2300 || q.Unit != "ft" {
		t.Errorf("10 ft: %d per %s", got, q.Unit)
	}
	for _, c := range []struct {
		price    Money
		quantity float64
		want     Money
	}{{3, 1.5, 5}, {1, 0.5, 1}, {1, 0.49, 0}, {5, 0.1 + 0.2, 2}, {10, 0.35 - 0.3, 1}, {700, 3, 2100}, {0, 9, 0}} {
		if got := c.price.Times(c.quantity); got != c.want {
			t.Errorf("%d × %g: %d, want %d", c.price, c.quantity, got, c.want)
		}
	}
}

func TestMoneyText(t *testing.T) {
	eur, yen := Currency{"EUR", 2}, Currency{"JPY", 0}
	for m, want := range map[Money]string{0: "0.00 EUR", 5: "0.05 EUR", 123450: "1234.50 EUR", -7: "-0.07 EUR",
		math.MinInt64: "-92233720368547758.08 EUR"} {
		if got := eur.Text(m); got != want {
			t.Errorf("%d: %q, want %q", m, got, want)
		}
	}
	if got := yen.Text(120); got != "120 JPY" {
		t.Error(got)
	}
	for _, bad := range []string{"", ".5", "1.234", "-1", "1e3", "x"} {
		if m, err := eur.Parse(bad); err == nil {
			t.Errorf("%q parsed as %d", bad, m)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		m := Money(rapid.Int64Range(0, 1<<50).Draw(t, "m"))
		if back, err := eur.Parse(eur.Number(m)); err != nil || back != m {
			t.Fatalf("%d → %q → %d, %v", m, eur.Number(m), back, err)
		}
	})
}

// A price between two listed ones lies between them, for every table.
func TestInterpolationIsBetween(t *testing.T) {
	for _, currency := range Currencies() {
		b := book(t, currency)
		for k, tab := range b.tables {
			for i := 1; i < len(tab.sizes); i++ {
				lo, hi := tab.prices[i-1], tab.prices[i]
				if lo > hi {
					t.Errorf("%s %v: a larger size is cheaper", currency, k)
				}
				m, ok := b.between(tab, k.family, i, (tab.sizes[i-1]+tab.sizes[i])/2)
				if !ok || m < lo || m > hi {
					t.Errorf("%s %v: %d not within %d…%d", currency, k, m, lo, hi)
				}
			}
		}
	}
}

func TestOverride(t *testing.T) {
	b := book(t, "USD")
	if err := b.Override(one(Reducer, "US spiral", `6"`, "4in"), Quote{Money: 1}); err != nil {
		t.Fatal(err)
	}
	for _, i := range []Item{one(Reducer, "US spiral", "6 in", "4 in"), one(Reducer, "US spiral", "4 in", "6 in")} {
		if q, _ := b.Price(i); q.Money != 1 || q.Source != "your price" || q.Unit != "each" {
			t.Errorf("%v: the override lost: %+v", i, q)
		}
	}
	if q, _ := b.Price(one(Reducer, "US spiral", "6 in", "5 in")); q.Money != 2800 {
		t.Errorf("the override reached another item: %+v", q)
	}
	// A price for an item the book does not know, and for one leak by name.
	if err := b.Override(one(Pipe, "ours", "143 mm"), Quote{Money: 999}); err != nil {
		t.Fatal(err)
	}
	if q, ok := b.Price(one(Pipe, "ours", "14.3 cm")); !ok || q.Money != 999 {
		t.Errorf("own item: %+v", q)
	}
	if err := b.Override(one(SealKit, "cap"), Quote{Money: 1234}); err != nil {
		t.Fatal(err)
	}
	named, _ := b.Price(one(SealKit, "cap"))
	general, _ := b.Price(one(SealKit, "other"))
	if named.Money != 1234 || general.Money != 1200 {
		t.Errorf("leaks: %d, %d", named.Money, general.Money)
	}
	for _, bad := range []struct {
		i Item
		q Quote
	}{{one(Pipe, "x", "4"), Quote{Money: 1}}, {one(Pipe, "x", "4 in"), Quote{Money: -1}}, {Item{Kind: kinds}, Quote{}},
		{one(Pipe, "x", "4 in"), Quote{Per: math.NaN()}}} {
		if err := b.Override(bad.i, bad.q); !errors.Is(err, ErrOverride) {
			t.Errorf("%v %+v: %v", bad.i, bad.q, err)
		}
	}
	if fresh := book(t, "USD"); len(fresh.overrides) > 0 {
		t.Error("overrides leak into the next book")
	}
}

func TestUnknown(t *testing.T) {
	if _, err := Builtin("XYZ"); !errors.Is(err, ErrCurrency) {
		t.Error(err)
	}
	if _, err := ParseKind("wormhole"); err == nil {
		t.Error("a wormhole was taken for a part")
	}
	for k := range kinds {
		if back, err := ParseKind(k.String()); err != nil || back != k || k.Unit() == "" {
			t.Errorf("%v: %v %v", k, back, err)
		}
	}
}

// The norms as the table of common practice has them (first and last group).
func TestNorms(t *testing.T) {
	n, err := BuiltinNorms()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		task Task
		d    float64
		crew Crew
		want float64
	}{
		{Hang, 0.160, Amateur, 0.30}, {Hang, 0.180, Amateur, 0.38}, {Hang, 0.315, Professional, 0.30},
		{Cut, 0.1016, Amateur, 1.2}, {Cut, 0.2032, Professional, 0.9}, {Strip, 0.250, Amateur, 0.20},
		{Shorten, 0.1, Amateur, 0.25}, {Seam, 0.1, Professional, 0.10},
	} {
		if got := n.Hours(c.task, units.Length(c.d), c.crew); got != c.want {
			t.Errorf("%s at %g m: %g, want %g", c.task, c.d, got, c.want)
		}
	}
	for _, task := range []Task{Hang, Join, Fit, Cut, FitGate, FitHose, Strip, Reseal, Shorten, Seam} {
		norm, ok := n[task]
		if !ok || norm.Source == "" || norm.Unit == "" {
			t.Errorf("%s: incomplete", task)
		}
		for g, h := range norm.Hours {
			if h[Professional] > h[Amateur] || h[Professional] <= 0 || g > 0 && h[Amateur] < norm.Hours[g-1][Amateur] {
				t.Errorf("%s: %v", task, norm.Hours)
			}
		}
	}
}

func BenchmarkPrice(b *testing.B) {
	bk := book(b, "EUR")
	i := one(Wye, "dust spiral", "180 mm", "120 mm")
	for b.Loop() {
		bk.Price(i)
	}
}
