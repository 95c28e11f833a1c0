package project

import (
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"wyewright/network"
	"wyewright/network/shopfile"
	"wyewright/optimize"
)

// tangled is the annex with coefficients of its own at many places and new
// fittings on offer: what ways, turned runs and swaps meet at.
func tangled(t *testing.T) *Project {
	t.Helper()
	src, err := os.ReadFile("../../../testdata/shops/annex.yaml")
	if err != nil {
		t.Fatal(err)
	}
	text := strings.NewReplacer("may: [resize, replace hose, shorten hose, routes", "may: [resize, swap fittings, routes",
		"families: [dust spiral, hose]", "families: [dust spiral]",
		"{from: BS, to: J1, size: 100 mm}", "{from: BS, to: J1, size: 100 mm, k: {bends: 1.1, junction: 1.5}}",
		"{from: TS, to: J1, size: 120 mm}", "{from: TS, to: J1, size: 120 mm, k: {bends: 1.1, junction: 1.5}}",
		"size: 100 mm, main: true}", "size: 100 mm, main: true, k: {bends: 1.0}}",
		"{from: PL, to: J2, size: 120 mm}", "{from: PL, to: J2, size: 120 mm, k: {bends: 0.9, junction: 1.3, steps: 0.2}}",
		"{from: LA, to: J3, size: 120 mm}", "{from: LA, to: J3, size: 120 mm, k: {junction: 1.3}}",
		"{from: J2, to: J1, size: 120 mm, main: true}", "{from: J2, to: J1, pieces: [{size: 112 mm, length: 2 m}, {size: 120 mm}], main: true, k: {bends: 0.5}}").Replace(string(src))
	p := load(t, "annex.yaml")
	f, err := shopfile.Decode("annex.yaml", []byte(text), p.Catalog)
	if err != nil {
		t.Fatal(err)
	}
	if p, err = New(f, p.Catalog, os.DirFS(".")); err != nil {
		t.Fatal(err)
	}
	return p
}

// TestWaysReadBack: of plans drawn at random over the ways of the annex the bill
// adds up to the cost, and the file that is written has the flows of the plan at
// every tool in every state.
func TestWaysReadBack(t *testing.T) {
	variants, least := 60, 5
	if testing.Short() {
		variants, least = 12, 1
	}
	p := tangled(t)
	ways, err := p.Ways(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(1, 1))
	states, swapped, turned, mains := 0, 0, 0, 0
	for range variants {
		v, err := ways.Next(t.Context())
		if err != nil || v == nil {
			t.Fatal(v, err)
		}
		for range 30 {
			pick := draw(rng, v.Problem)
			cost, _, sold := v.Problem.Cost(pick)
			if !sold {
				continue
			}
			plan := &optimize.Plan{Pick: pick, Cost: cost}
			if bill := p.Builder.Bill(v.Problem.Lines(plan)); bill.Planning != cost {
				t.Fatalf("%s, %v: the bill says %d, the plan %d", v.Label, pick, bill.Planning, cost)
			}
			n := v.Problem.Network(pick)
			e := p.Edits(v.Problem, &optimize.Result{Best: plan, Network: n}, "")
			swapped, turned, mains = swapped+min(len(e.Swaps), 1), turned+min(len(e.TurnRuns), 1), mains+min(len(e.Mains), 1)
			states += readBack(t, p, v.Problem, n, e)
		}
	}
	t.Logf("%d states; %d plans with new fittings, %d with turned runs, %d with a main to be named", states, swapped, turned, mains)
	if swapped < least || turned < least || mains < least {
		t.Error("the plans have become one-sided")
	}
}

// draw picks an alternative of about a third of the choices.
func draw(rng *rand.Rand, p *optimize.Problem) []int {
	pick := make([]int, len(p.Choices))
	for i := range pick {
		if c := &p.Choices[i]; c.Build || rng.IntN(3) == 0 {
			pick[i] = rng.IntN(len(c.Alternatives))
			if !c.Build && rng.IntN(2) == 0 {
				pick[i] = min(pick[i], 1)
			}
		}
	}
	return pick
}

// readBack writes the edits, reads them back and compares the flows in all
// states that settle.
func readBack(t *testing.T, p *Project, pr *optimize.Problem, n *network.Network, e shopfile.Edits) (compared int) {
	t.Helper()
	text, err := p.File.Rewrite(e)
	if err != nil {
		t.Fatal(err)
	}
	f, err := shopfile.Decode("new.yaml", text, p.Catalog)
	if err != nil {
		t.Fatal(err)
	}
	q, err := New(f, p.Catalog, os.DirFS("."))
	if err != nil {
		t.Fatal(err)
	}
	for _, st := range pr.States {
		was, err1 := network.Solve(t.Context(), n, st)
		is, err2 := network.Solve(t.Context(), q.Network, st)
		if (err1 == nil) != (err2 == nil) {
			t.Fatalf("state %q: %v, read back %v", st.Name, err1, err2)
		}
		if err1 != nil {
			continue
		}
		for i := range was.Tools {
			if d := math.Abs(float64(was.Tools[i].Flow - is.Tools[i].Flow)); d > 1e-6 {
				t.Fatalf("state %q: tool %d gets %v, read back %v\n%s", st.Name, i, was.Tools[i].Flow, is.Tools[i].Flow, text)
			}
		}
		compared++
	}
	return compared
}
