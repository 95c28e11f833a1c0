package optimize

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"wyewright/network"
	"wyewright/network/air"
	"wyewright/network/catalog"
	"wyewright/network/fan"
	"wyewright/network/units"
	"wyewright/optimize/layout"
	"wyewright/optimize/parts"
	"wyewright/optimize/price"
)

// open is a generated shop whose ways and collector are open.
type open struct {
	n         *network.Network
	states    []network.State
	o         Options
	corridors []Corridor
	options   []CollectorOption
	b         *parts.Builder
}

// spiral is a builder with the built-in prices, and the family of dust spiral.
func spiral(t testing.TB) (*parts.Builder, *catalog.Family) {
	t.Helper()
	c, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	book, err := price.Builtin("EUR")
	if err != nil {
		t.Fatal(err)
	}
	b, err := parts.New(c, book, parts.Options{Rate: 3000})
	if err != nil {
		t.Fatal(err)
	}
	fam, err := c.Lookup("dust spiral")
	if err != nil {
		t.Fatal(err)
	}
	return b, fam
}

// generateOpen makes a shop of two or three tools on a trunk along a wall, with
// corridors between its points and to one that has no duct, and a faster fan.
// Gates leak about 4 % of a tool's flow when shut. Everything is invented.
func generateOpen(t testing.TB, rng *rand.Rand) *open {
	t.Helper()
	b, fam := spiral(t)
	pipe := func(size string, length float64) []network.Piece {
		p, err := fam.Piece(size, units.Length(length))
		if err != nil {
			t.Fatal(err)
		}
		return []network.Piece{p}
	}
	sizes := []string{"100 mm", "125 mm", "160 mm"}
	any := func() string { return sizes[rng.IntN(len(sizes))] }
	spec := network.Spec{Air: air.State{Density: 1.2, Viscosity: 1.8e-5}}
	place := func(id string, x, y, z float64) {
		spec.Points = append(spec.Points, network.Point{ID: id, At: network.Vec{X: x, Y: y, Z: z}, Placed: true})
	}
	run := func(id, from, to, size string, main bool) {
		r := network.Run{ID: id, From: from, To: to, Main: main, Pieces: pipe(size, 0)}
		if rng.IntN(4) == 0 {
			r.K.Junction = network.Override(rng.Float64())
		}
		spec.Runs = append(spec.Runs, r)
	}
	place("COL", 0, 0, 1)
	place("A", 1+3*rng.Float64(), 4*rng.Float64(), 3)
	place("B", 5+3*rng.Float64(), 4*rng.Float64(), 3)
	place("C", 3+3*rng.Float64(), 3+4*rng.Float64(), 3)
	run("main 1", "A", "COL", any(), true)
	run("main 2", "B", "A", any(), true)
	ends := []string{"A", "B", "B"}
	for k := range 2 + rng.IntN(2) {
		at := fmt.Sprintf("T%d", k)
		place(at, 2+7*rng.Float64(), 1+5*rng.Float64(), 0.8)
		run("drop "+at, at, ends[k], any(), false)
		spec.Tools = append(spec.Tools, network.Tool{ID: "tool " + at, Flow: units.Flow((400 + 250*rng.Float64()) / 3600), Transport: 12.7,
			Ports: []network.Port{{At: at, Size: "100 mm", Diameter: 0.1, Entry: 1 + rng.Float64(), Gate: &network.Gate{Open: 0.2, Leak: 2e-4}}}})
	}
	if rng.IntN(2) == 0 {
		spec.Leaks = append(spec.Leaks, network.Leak{ID: "seam", At: "B", Area: 4e-4})
	}
	head := 1500 + 2500*rng.Float64()
	curve, err := fan.NewTable([]fan.Point{{Flow: 0, Pressure: units.Pressure(head)}, {Flow: 0.25, Pressure: units.Pressure(0.8 * head)}, {Flow: 0.6, Pressure: 50}})
	if err != nil {
		t.Fatal(err)
	}
	spec.Collectors = []network.Collector{{ID: "fan", At: "COL", Inlet: 0.16, InletSize: "160 mm", Curve: curve}}
	n, err := network.New(spec)
	if err != nil {
		t.Fatal(err)
	}
	g := &open{n: n, b: b}
	g.o = Options{Families: []string{"dust spiral"}, Resize: true, Bleed: rng.IntN(3) == 0, Bleeds: []string{"B"}, BleedSizes: []string{"100 mm"},
		Companions: rng.IntN(2), Seal: true, Seals: map[string]Seal{"seam": {}}, Only: map[string][]string{}}
	ways := [][2]string{{"B", "COL"}, {"B", "C"}, {"C", "A"}, {"T1", "C"}, {"C", "COL"}, {"T0", "B"}}
	rng.Shuffle(len(ways), func(i, j int) { ways[i], ways[j] = ways[j], ways[i] })
	for k, w := range ways[:2+rng.IntN(2)] {
		id := fmt.Sprintf("way %d", k)
		g.corridors = append(g.corridors, Corridor{ID: id, From: w[0], To: w[1], Factor: 0.8 + 0.6*rng.Float64()})
		g.o.Only[id] = sizes[:2+rng.IntN(2)]
	}
	for _, r := range spec.Runs {
		g.o.Only[r.ID] = sizes[rng.IntN(2) : 2+rng.IntN(2)]
	}
	if rng.IntN(2) == 0 {
		fast := spec.Collectors[0]
		fast.Spin(1.1)
		g.options = append(g.options, CollectorOption{Label: "faster", Collector: fast, Cost: price.Money(2000 + rng.IntN(6000))})
	}
	for _, tool := range spec.Tools {
		g.states = append(g.states, network.State{Name: tool.ID, Running: []string{tool.ID}})
	}
	if rng.IntN(2) == 0 {
		g.states = append(g.states, network.State{Name: "pair", Running: []string{spec.Tools[0].ID, spec.Tools[1].ID}})
	}
	return g
}

// eachTree calls f with the edges of every tree that joins the terminals to the
// root and ends at terminals: all subsets are tried.
func eachTree(g *layout.Graph, f func(use []int)) {
	for mask := range 1 << len(g.Links) {
		var use []int
		degree := make([]int, g.Points)
		for i, e := range g.Links {
			if mask>>i&1 == 1 {
				use = append(use, i)
				degree[e.A]++
				degree[e.B]++
			}
		}
		steps, ok := orient(g, use)
		if !ok || len(steps) != len(use) {
			continue
		}
		fits := true
		for p, d := range degree {
			terminal := slices.Contains(g.Terminals, p)
			fits = fits && !(d == 1 && !terminal && p != g.Root) && !(d == 0 && terminal)
		}
		if fits {
			f(use)
		}
	}
}

// TestWaysEqualBruteForce: over all trees, all collectors and all plans of each
// the search finds the least weight that meets the rules, and says that there
// is none just when there is none.
func TestWaysEqualBruteForce(t *testing.T) {
	problems := 120
	if testing.Short() {
		problems = 12
	}
	met, none, rerouted, collectors, trees := 0, 0, 0, 0, 0
	for seed := range problems {
		g := generateOpen(t, rand.New(rand.NewPCG(uint64(seed), 17)))
		w, err := NewWays(context.Background(), g.n, g.states, g.o, g.corridors, g.options, g.b)
		if err != nil {
			t.Fatal(err)
		}
		want := never
		var energy *Energy
		if seed%4 == 3 {
			energy = &Energy{Price: 30, Years: 10, Hours: 500}
		}
		runs := g.n.Spec().Runs
		eachTree(w.links, func(use []int) {
			trees++
			var left, built []string
			for i := range runs {
				if !slices.Contains(use, i) {
					left = append(left, runs[i].ID)
				}
			}
			for i := range g.corridors {
				if slices.Contains(use, len(runs)+i) {
					built = append(built, g.corridors[i].ID)
				}
			}
			for _, label := range append([]string{""}, labels(g.options)...) {
				v, err := w.Named(built, left, label)
				if err != nil {
					t.Logf("seed %d: %v", seed, err)
					continue
				}
				j, err := newJudge(v.Problem, &Stats{})
				if err != nil {
					t.Fatal(err)
				}
				best, _ := brute(v.Problem, j)
				if energy != nil {
					best = bruteCharged(v.Problem, j, newDraw(j, energy))
				}
				if best < weigh(v.Floor, 0) {
					t.Fatalf("seed %d, %s: a plan for %d below the floor %d", seed, v.Label, best.money(), v.Floor)
				}
				want = min(want, best)
			}
		})
		r, err := SolveAmong(context.Background(), w, &Settings{Energy: energy})
		if err != nil {
			t.Fatal(err)
		}
		if want >= never {
			none++
			if r.Status != Infeasible {
				t.Fatalf("seed %d: %v, but no plan of any way meets the rules", seed, r.Status)
			}
			continue
		}
		met++
		if got := weigh(r.Best.Total(), r.Best.Changed); r.Status != Optimal || got != want {
			t.Fatalf("seed %d: %v %d with %d changes, brute force %d with %d", seed, r.Status, r.Best.Cost, r.Best.Changed, want.money(), want%perCent)
		}
		if bill := g.b.Bill(r.Variant.Problem.Lines(r.Best)); bill.Planning != r.Best.Cost {
			t.Fatalf("seed %d: the bill says %d, the search %d", seed, bill.Planning, r.Best.Cost)
		}
		if len(r.Variant.Problem.Taken.Built) > 0 {
			rerouted++
		}
		if r.Variant.Problem.Taken.Collector != nil {
			collectors++
		}
	}
	t.Logf("%d met (%d on other ways, %d with another collector), %d cannot be met; %d trees", met, rerouted, collectors, none, trees)
	if met < problems/3 || none < problems/30 || rerouted < problems/30 || collectors < problems/30 {
		t.Error("the generator has become one-sided")
	}
}

// bruteCharged is brute with the energy money of every plan.
func bruteCharged(p *Problem, j *judge, d *draw) weight {
	best := never
	eachPlan(p, func(pick []int) {
		if cost, changes, sold := p.Cost(pick); sold && weigh(cost, changes) < best && j.meets(pick) {
			_, money := d.of(pick)
			best = min(best, weigh(cost+money, changes))
		}
	})
	return best
}

func labels(options []CollectorOption) []string {
	var out []string
	for i := range options {
		out = append(out, options[i].Label)
	}
	return out
}
