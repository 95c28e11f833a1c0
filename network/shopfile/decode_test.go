package shopfile

import (
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"wyewright/network"
	"wyewright/network/fan"

	"github.com/google/go-cmp/cmp"
)

// small makes a shop of one main and the given tools, with more sections
// behind it.
func small(tools int, more string) []byte {
	var b strings.Builder
	b.WriteString("version: 1\ncollectors: {c: {at: R, inlet: 100 mm, fan: {flow: 500 m3/h}}}\nruns:\n")
	b.WriteString("  main: {from: J, to: R, size: 200 mm, family: dust spiral, length: 5 m}\n")
	for i := range tools {
		fmt.Fprintf(&b, "  run %d: {from: P%d, to: J, size: 100 mm, family: dust spiral, length: 2 m}\n", i, i)
	}
	b.WriteString("tools:\n")
	for i := range tools {
		fmt.Fprintf(&b, "  t%d: {flow: 300 m3/h, ports: [{at: P%d, size: 100 mm, entry: 1, gate: yes}]}\n", i, i)
	}
	b.WriteString(more)
	return []byte(b.String())
}

func decodeText(t *testing.T, src []byte) *File {
	t.Helper()
	f, err := Decode("test.yaml", src, builtin(t))
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Hand-worked: the sets that the makers name, small ones first.
func TestStates(t *testing.T) {
	for _, c := range []struct{ maker, want string }{
		{"- each alone", "t0; t1; t2"},
		{"- any two of [t0, t1, t2]", "t0 + t1; t0 + t2; t1 + t2"},
		{"- any 2 of [t0, t2]", "t0 + t2"},
		{"- at most 2 of [t2, t0, t1]", "t2; t0; t1; t2 + t0; t2 + t1; t0 + t1"},
		{"- at most three of [t0, t1]", "t0; t1; t0 + t1"},
		{"- {any: 2, of: [t0, t1, t2]}", "t0 + t1; t0 + t2; t1 + t2"},
		{"- {at most: two, of: [t0, t1]}", "t0; t1; t0 + t1"},
		{"- each of [t0, t1]", "t0; t1"},
		{"- {name: x, running: [t1, t0]}\n  - any two of [t0, t1]", "x"},
		{"- {name: x, running: [t1]}\n  - {name: forgotten, running: [t1], open: [t0]}", "x; forgotten"},
	} {
		f := decodeText(t, small(3, "states:\n  "+c.maker+"\n"))
		var names []string
		for _, s := range f.States {
			names = append(names, s.Name)
		}
		if got := strings.Join(names, "; "); got != c.want {
			t.Errorf("%s: %s, want %s", c.maker, got, c.want)
		}
	}
	// 9 of 30 are 14 307 150: refused, and at once.
	var all []string
	for i := range 30 {
		all = append(all, fmt.Sprintf("t%d", i))
	}
	src := small(30, "states: [\"any 9 of ["+strings.Join(all, ", ")+"]\"]\n")
	if _, err := Decode("x", src, builtin(t)); err == nil || !strings.Contains(err.Error(), "more than 1000 states") {
		t.Errorf("too many states: %v", err)
	}
}

// Computed by package air for the same inputs, which has tests of its own.
func TestAir(t *testing.T) {
	for _, c := range []struct {
		air      string
		rho, tol float64
	}{
		{"", 1.19890, 5e-6}, // 20 °C, 50 %, 101325 Pa: computed by PsychroLib 2.5.0
		{"air: {density: 1.1 kg/m3}\n", 1.1, 1e-12},
		{"air: {density: 0.075 lb/ft3}\n", 1.2014, 1e-4}, // hand-worked: 0.075 · 16.01846
		{"air: {altitude: 1800 m}\n", 0.9632, 1e-4},      // hand-worked: (81494 − 0.378·1170 Pa)/(287.05·293.15)
	} {
		f := decodeText(t, small(1, c.air+"states: [each alone]\n"))
		if got := float64(f.Spec.Air.Density); math.Abs(got-c.rho) > c.tol {
			t.Errorf("%q: density %v, want %v", c.air, got, c.rho)
		}
	}
	f := decodeText(t, small(1, "air: {density: 1.20 kg/m3, viscosity: 1.51e-5 m2/s}\nstates: [each alone]\n"))
	if got := f.Spec.Air.Kinematic(); math.Abs(got-1.51e-5) > 1e-18 {
		t.Errorf("kinematic viscosity %v", got)
	}
}

// A curve taken at 1.2 kg/m³ gives half the pressure in air of 0.6 kg/m³, and
// at twice the speed twice the flow and four times the pressure (fan laws,
// hand-worked).
func TestCurveIsScaled(t *testing.T) {
	src := strings.Replace(string(small(1, "air: {density: 0.6 kg/m3}\nstates: [each alone]\n")), "fan: {flow: 500 m3/h}",
		"fan: {pressure: fan static, curve speed: 1450 rpm, speed: 2900 rpm, curve: [{flow: 0 m3/s, pressure: 1000 Pa}, {flow: 1 m3/s, pressure: 200 Pa, power: 3 kW}]}", 1)
	c := decodeText(t, []byte(src)).Spec.Collectors[0]
	pts := c.Curve.(*fan.Table).Points()
	if got := pts[1]; math.Abs(float64(got.Flow)-2) > 1e-9 || math.Abs(float64(got.Pressure)-400) > 1e-9 {
		t.Errorf("scaled point %+v", got)
	}
	if got := float64(c.Motor.Points[0].Power); math.Abs(got-12000) > 1e-6 {
		t.Errorf("scaled power %v W, want 12 kW", got)
	}
}

// Hand-worked: what stays of a run's length for the piece without one, and
// which properties of a piece come from where.
func TestPieces(t *testing.T) {
	more := `defaults: {family: dust spiral, roughness: {dust spiral: 0.2 mm}, multiple: 2.5}
states: [each alone]
`
	src := strings.Replace(string(small(1, more)), "run 0: {from: P0, to: J, size: 100 mm, family: dust spiral, length: 2 m}",
		`run 0: {from: P0, to: J, length: 5 m, pieces: [{size: 100 mm, family: hose, length: 1.5 m, k: 0.4}, {size: 4 in, family: PVC S&D, roughness: 0.01 mm, length: 0.5 m}, {size: 120 mm}, {size: bent tin, diameter: 96 mm, length: 1 m}], k: {bends: 0.3, junction: -0.2}}`, 1)
	f := decodeText(t, []byte(src))
	r := f.Spec.Runs[1]
	var got []string
	for _, p := range r.Pieces {
		got = append(got, fmt.Sprintf("%s %s %.5g m, ID %.5g mm, rough %.3g mm, x%g, k %g", p.Size, p.Make.Family,
			float64(p.Length), float64(p.Diameter)*1e3, float64(p.Make.Roughness)*1e3, p.Make.Multiple, p.K))
	}
	want := []string{
		"100 mm hose 1.5 m, ID 100 mm, rough 0 mm, x2.5, k 0.4",
		"4 in PVC S&D 0.5 m, ID 103.25 mm, rough 0.01 mm, x1, k 0", // 4.065 in: ASTM D2729
		"120 mm dust spiral 2 m, ID 120 mm, rough 0.2 mm, x1, k 0",
		"bent tin dust spiral 1 m, ID 96 mm, rough 0.2 mm, x1, k 0",
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	if *r.K.Bends != 0.3 || *r.K.Junction != -0.2 || r.K.Steps != nil {
		t.Errorf("overrides %+v", r.K)
	}
}

// Hand-worked: a tool's figures and where they come from.
func TestTools(t *testing.T) {
	tools := `tools:
  a: {flow: by port, dust: heavy, ports: [{at: P0, size: 120 mm, entry: plain end, gate: {open: 0.3, leak: 0.5 cm2, repair: 8 EUR, leaves: 0.1 cm2}}, {at: P1, size: 4 in, entry: 2, gate: no, min flow: 100 m3/h}]}
  b: {kind: lathe hood, flow: 400 cfm, basis: maker, dust: flour, transport: 3500 fpm, ports: [{at: P2, diameter: 99 mm, gate: yes}]}
dust: {flour: 11 m/s, heavy: 25 m/s}
states: [each alone]
`
	src := string(small(3, ""))
	f := decodeText(t, []byte(src[:strings.Index(src, "tools:")]+tools))
	a, b := f.Spec.Tools[0], f.Spec.Tools[1]
	// 20 m/s through 120 mm and 4 in: 0.226195 + 0.162147 m³/s.
	if math.Abs(float64(a.Flow)-0.388342) > 1e-6 || a.Basis != "rule" || a.Transport != 25 || a.Ports[0].Entry != 0.93 {
		t.Errorf("tool a: %+v", a)
	}
	if a.Ports[1].Gate != nil || math.Abs(float64(a.Ports[1].Min)-100.0/3600) > 1e-12 {
		t.Errorf("port of a: %+v", a.Ports[1])
	}
	if math.Abs(float64(b.Flow)-0.188779) > 1e-6 || b.Basis != "maker" || b.Ports[0].Entry != 1.2 || b.Ports[0].Diameter != 0.099 {
		t.Errorf("tool b: %+v", b)
	}
	// The value as typed: 3500 fpm is 17.78 m/s, not 17.8.
	if math.Abs(float64(b.Transport)-17.78) > 1e-9 {
		t.Errorf("transport %v", b.Transport)
	}
	if g := b.Ports[0].Gate; math.Abs(g.Open-0.2) > 1e-9 || math.Abs(float64(g.Leak)-1.6129e-4) > 1e-9 {
		t.Errorf("default gate %+v", g)
	}
	want := []Repair{{Tool: "a", Cost: Amount{Given: true, Minor: 800, Digits: 2, Currency: "EUR"}, Leaves: 0.1e-4}}
	for i := range f.Repairs {
		f.Repairs[i].Line, f.Repairs[i].Column, f.Repairs[i].Cost.Line, f.Repairs[i].Cost.Column = 0, 0, 0, 0
	}
	if d := cmp.Diff(want, f.Repairs); d != "" {
		t.Errorf("repairs (-want +got):\n%s", d)
	}
}

// Hand-worked.
func TestRedesignAndPrices(t *testing.T) {
	f := decodeText(t, small(1, `states: [each alone]
leaks: {cap: {at: J, area: 8 cm2, seal: 12 EUR}, lid: {at: J, area: 1 cm2, seal: yes}, seam: {at: J, area: 1 cm2}}
bleeds: [J, {name: b, at: J, size: 80 mm, leak: 1 cm2}]
redesign:
  families: [Dust Spiral, hose]
  keep: [main]
  may: [resize, companions: 2, repair gates]
  tail: 2 ft
  sizes: {min: 100 mm, max: 8 in}
  only: {run 0: [100 mm, 120 mm]}
  limits: {margin: 5 %, transport: 17.8 m/s, ceiling: 30 m/s, risers: +10 %}
  collector: c
  bleed: {sizes: [100 mm], k: 1.2}
prices:
  currency: EUR
  labour: 35.50 EUR/h
  crew: professional
  waste: 8 %
  freight: 60 EUR
  kerf: 2.5 mm
  file: prices.csv
  own: {dust spiral 100 mm: 9.4 EUR/m, gate: 21 EUR}
`))
	want := Redesign{Families: []string{"dust spiral", "hose"}, Keep: []string{"main"},
		May:  May{Resize: true, RepairGates: true, Companions: 2},
		Tail: 0.6096, SizeMin: 0.1, SizeMax: 0.2032, Only: []OnlySizes{{"run 0", []string{"100 mm", "120 mm"}}},
		Limits: Limits{Margin: 0.05, Transport: 17.8, Ceiling: 30, Risers: 0.1}, Collector: "c",
		Bleed: BleedRule{Sizes: []string{"100 mm"}, K: 1.2}}
	if d := cmp.Diff(want, f.Redesign); d != "" {
		t.Errorf("redesign (-want +got):\n%s", d)
	}
	p := f.Prices
	if p.Labour.Minor != 3550 || p.Labour.Per != "h" || p.Crew != Professional || p.Waste != 0.08 ||
		p.Freight.Minor != 6000 || !p.Freight.Given || p.Kerf != 0.0025 || p.Path != "prices.csv" ||
		len(p.Own) != 2 || p.Own[0].Cost.Minor != 940 || p.Own[0].Cost.Per != "m" || p.Own[1].Cost.Minor != 2100 {
		t.Errorf("prices %+v", p)
	}
	if s := f.Seals; !s[0].Allowed || s[0].Cost.Minor != 1200 || !s[1].Allowed || s[1].Cost.Given || s[2].Allowed {
		t.Errorf("seals %+v", s)
	}
	if len(f.BleedPoints) != 1 || f.BleedPoints[0] != "J" || f.Spec.Bleeds[0].K != 1.5 {
		t.Errorf("bleeds %v %+v", f.BleedPoints, f.Spec.Bleeds)
	}
}

// Hand-worked: 1 in of water is 249.08891 Pa, 1 fpm is 0.00508 m/s.
func TestReadings(t *testing.T) {
	f := decodeText(t, small(2, "states:\n  - {name: both, running: [t0, t1]}\nbleeds: [{name: b, at: J, size: 80 mm}]\n"))
	_, err := DecodeReadings("r.csv", []byte("\ufeffvalue,state,quantity,place,method\n"+
		">30 m/s,both,velocity,main,traverse\n<200 fpm,none,velocity,t0,hose mouth\n6.1 in wg,t1 + b,suction,J,\n"+
		"-500 Pa,t1,static pressure,collector,\n\"<-1,000 Pa\",t1,static pressure,c,\n"), f)
	if err == nil || len(err.(Diagnostics)) != 1 {
		t.Fatalf("the separator of thousands: %v", err)
	}
	rs, err := DecodeReadings("r.csv", []byte("value,state,quantity,place,method\n"+
		">30 m/s,both,velocity,main,traverse\n<200 fpm,none,velocity,t0,hose mouth\n6.1 in wg,t1 + b,suction,J,\n"+
		"-500 Pa,t1,static pressure,collector,\n<-1000 Pa,t1,static pressure,c,\n"), f)
	if err != nil {
		t.Fatal(err)
	}
	want := []Reading{
		{State: f.States[0], Place: AtRun, Name: "main", Value: 30, Bound: AtLeast, Method: Traverse, Text: ">30 m/s", Line: 2},
		{State: network.State{Name: "none"}, Place: AtPort, Name: "t0", Value: 1.016, Bound: AtMost, Method: Mouth, Text: "<200 fpm", Line: 3},
		{State: network.State{Name: "t1 + b", Running: []string{"t1"}, Open: []string{"b"}}, Place: AtPoint, Name: "J", Quantity: Suction,
			Value: 1519.442351, Text: "6.1 in wg", Line: 4},
		{State: network.State{Name: "t1", Running: []string{"t1"}}, Place: AtCollector, Name: "collector", Quantity: Suction, Value: 500, Text: "-500 Pa", Line: 5},
		// Below −1000 Pa is a suction of more than 1000 Pa.
		{State: network.State{Name: "t1", Running: []string{"t1"}}, Place: AtCollector, Name: "c", Quantity: Suction, Value: 1000, Bound: AtLeast, Text: "<-1000 Pa", Line: 6},
	}
	for i := range want {
		want[i].File = "r.csv"
	}
	approx := cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) < 1e-6 })
	if d := cmp.Diff(want, rs, approx); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}

// Hand-worked.
func TestMoney(t *testing.T) {
	for _, c := range []struct {
		text string
		want int64
	}{{"12 EUR", 1200}, {"12.5 EUR", 1250}, {"0.05 EUR", 5}, {"1500 JPY", 1500}, {"12.345 EUR", -1}, {"1.5 JPY", -1}, {"-3 EUR", -1},
		{"3 EUR/h", -1}, {"EUR 3", -1}, {"3 Euro", -1}, {"99999999999999 EUR", -1}, {". EUR", -1}, {"1e3 EUR", -1}} {
		d := newDecoder("x", nil, builtin(t))
		a := d.amount(&node{kind: scalar, text: c.text, label: "seal", line: 1, col: 1})
		if got := a.Minor; c.want >= 0 && (got != c.want || len(d.faults) > 0) || c.want < 0 && (a.Given || len(d.faults) != 1) {
			t.Errorf("%q: %d, %v", c.text, got, d.faults)
		}
	}
}

// rewriteAll lays each run of a file anew along its own way, and takes each of
// its collector options: Rewrite's own check says whether that reads back. It
// may refuse what no hand writes, where lenient says so.
func rewriteAll(t *testing.T, f *File, lenient bool) {
	t.Helper()
	for _, r := range f.Spec.Runs[:min(3, len(f.Spec.Runs))] {
		e := Edits{RemoveRuns: []string{r.ID}, AddRuns: []NewRun{{ID: r.ID, From: r.From, To: r.To, Via: r.Via, Pieces: r.Pieces}}}
		if out, err := f.Rewrite(e); err != nil && !lenient {
			t.Errorf("run %q laid anew: %v\n%s\n%s", r.ID, err, f.src, out)
		}
	}
	for _, o := range f.CollectorOptions[:min(5, len(f.CollectorOptions))] {
		if out, err := f.Rewrite(Edits{Collector: &o}); err != nil && !lenient {
			t.Errorf("option %q: %v\n%s\n%s", o.Label, err, f.src, out)
		}
	}
}

// No text makes Decode or Rewrite panic, and what decodes comes back byte for
// byte and is decoded the same.
func FuzzDecode(f *testing.F) {
	f.Add([]byte(blockShop))
	f.Add([]byte(tangle))
	f.Add([]byte(flowTangle))
	f.Add([]byte(optionShop))
	f.Add(Starter())
	f.Add(small(3, "states:\n  - any two of [t0, t1, t2]\n"))
	for _, path := range demos(f) {
		f.Add(readFile(f, path))
	}
	for _, s := range []string{"", "a: [", "- - - -", "version: 1\nruns: {a: {from: a, to: a}}", "version: 1\r\nruns:\r\n\tx: 1", "a: 'b\n  c'",
		"version: 1\n? [a]\n: b", "a: &a [*a]", "\"\\x41\": 1", "version: 1\ntools: {t: {ports: [{}]}}", "version: {}", "a: |\n  b"} {
		f.Add([]byte(s))
	}
	c := builtin(f)
	f.Fuzz(func(t *testing.T, src []byte) {
		file, err := Decode("fuzz.yaml", src, c)
		if err != nil {
			if err.Error() == "" {
				t.Error("a fault without words")
			}
			return
		}
		out, err := file.Rewrite(Edits{})
		if err != nil || string(out) != string(src) {
			t.Errorf("rewriting nothing: %v", err)
		}
		if _, err := network.New(file.Spec); err != nil {
			t.Errorf("decoded, but makes no network: %v", err)
		}
		rewriteAll(t, file, true)
	})
}

// No text makes DecodeReadings panic.
func FuzzDecodeReadings(f *testing.F) {
	f.Add([]byte("state,place,quantity,value\nt0,main,velocity,>3 m/s\n"))
	f.Add([]byte("state,place,quantity,value\n\"t0\nx\",main,velocity,3\n"))
	shop, err := Decode("x", small(2, "states: [each alone]\n"), builtin(f))
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		if _, err := DecodeReadings("r.csv", src, shop); err != nil && err.Error() == "" {
			t.Error("a fault without words")
		}
	})
}

// scraps are bits of text that break a file in a new place each time.
var scraps = []string{"", " ", ":", ",", "{", "}", "[", "]", "-", "- ", "#", "'", "\"", "\n", "\n  ", "0", "-1", "1e400", ".nan", "inf m", "0 m",
	"null", "~", "yes", "no", "?", "|", ">", "&a", "*a", "!!int 3", "<<", "0x10", "é", "\u2028", "name", "at", "COL", "J1", "J2", "size: 100 mm", "k: 3",
	"by port", "each alone", "any two of [a, b]", "12 EUR", "5 %", "4 in", "9 m/s", "3 cm2", "1 Pa at 1 m3/h", "hose", "dust spiral", "{a: 1}", "[1, 2, 3]"}

var tokens = regexp.MustCompile(`[A-Za-z0-9.]+| +|\n|[^A-Za-z0-9. \n]`)

// Files with one to three random changes of a token never panic, never loop,
// and what still decodes makes a network and comes back byte for byte.
func TestMutations(t *testing.T) {
	rounds := 400
	if *long {
		rounds = 20000
	}
	c := builtin(t)
	rng := rand.New(rand.NewPCG(1, 1))
	sources := [][]byte{Starter(), []byte(blockShop), []byte(tangle), []byte(flowTangle), []byte(optionShop), small(3, "states:\n  - any two of [t0, t1, t2]\nbleeds: [J]\n"),
		readFile(t, filepath.Join(shops, "instrument.yaml"))}
	decoded := 0
	for i := range rounds {
		words := tokens.FindAllString(string(sources[i%len(sources)]), -1)
		for range 1 + rng.IntN(3) {
			at := rng.IntN(len(words))
			switch rng.IntN(4) {
			case 0:
				words[at] = ""
			case 1:
				words[at] += words[at]
			case 2:
				words[at] = words[rng.IntN(len(words))]
			default:
				words[at] = scraps[rng.IntN(len(scraps))]
			}
		}
		src := strings.Join(words, "")
		f, err := Decode("m.yaml", []byte(src), c)
		if err != nil {
			continue
		}
		decoded++
		if out, err := f.Rewrite(Edits{}); err != nil || string(out) != src {
			t.Fatalf("rewriting nothing: %v\n%s", err, src)
		}
		if _, err := network.New(f.Spec); err != nil {
			t.Fatalf("decoded, but makes no network: %v\n%s", err, src)
		}
		rewriteAll(t, f, false)
	}
	if decoded < rounds/20 {
		t.Errorf("only %d of %d changed files decode: the test has no bite", decoded, rounds)
	}
}
