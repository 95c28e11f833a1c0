package project

import (
	"context"
	"math"
	"strings"
	"testing"

	"wyewright/network"
	"wyewright/network/shopfile"
	"wyewright/optimize"
	"wyewright/optimize/price"
)

// isTrunk reports whether a run of the studio belongs to the way that tools share.
func isTrunk(run string) bool { return strings.HasPrefix(run, "trunk") || run == "collector hose" }

// TestTrunkOfOneSize is the question of every owner of such a studio: 4, 5 or
// 6 in for the whole trunk? With the leaks sealed, rigid drops and one gate open
// at a time, 4 in leaves the drum sander short, 6 in has flow to spare in every
// state and lets dust settle in all of them, 5 in is slow for the small sander
// alone. Shares are of the tools' own needs, without the margin. The claims are
// those of the invented shop's design (the figures expected for it were 0.94 and
// 1.17); the bounds are wide about what this model gives, and pinned.
func TestTrunkOfOneSize(t *testing.T) {
	p := load(t, "instrument.yaml")
	problem, err := p.Problem()
	if err != nil {
		t.Fatal(err)
	}
	limits := problem.Limits
	limits.Margin = 0
	for _, c := range []struct {
		label              string
		leastLo, leastHi   float64 // least flow / need over the states
		slow               []string
		slowestLo, slowest float64 // least velocity / transport
	}{
		{"4 in PVC S&D", 0.90, 0.96, nil, 1, 1.1},
		{"5 in snap-lock", 1, 1.05, []string{"spindle sander"}, 0.70, 0.77},
		{"6 in PVC S&D", 1.05, 1.20, []string{"resaw bandsaw", "drum sander", "spindle sander", "pin router", "neck bench"}, 0.48, 0.54},
	} {
		pick := make([]int, len(problem.Choices))
		for i := range problem.Choices {
			pick[i] = fixed(&problem.Choices[i], c.label)
		}
		solver := network.NewSolver(problem.Network(pick), nil)
		least, slowest, short, slow := math.Inf(1), math.Inf(1), "", []string(nil)
		for _, st := range problem.States {
			k, err := problem.Base.Case(st)
			if err != nil {
				t.Fatal(err)
			}
			_, v, err := solver.Check(t.Context(), k, &limits)
			if err != nil {
				t.Fatal(err)
			}
			t.Logf("%s, %s: %.3f of the flow, %.3f of the transport velocity", c.label, st.Name, v.FlowRatio(), v.DustRatio())
			if v.FlowRatio() < least {
				least, short = v.FlowRatio(), st.Name
			}
			if slowest = min(slowest, v.DustRatio()); !network.Meets(v.DustRatio()) {
				slow = append(slow, st.Name)
			}
		}
		if short != "drum sander" || least < c.leastLo || least > c.leastHi {
			t.Errorf("%s: the least flow is %.3f of the need, in %q; want the drum sander's, %g to %g", c.label, least, short, c.leastLo, c.leastHi)
		}
		if strings.Join(slow, ", ") != strings.Join(c.slow, ", ") || slowest < c.slowestLo || slowest > c.slowest {
			t.Errorf("%s: slow in %q, least %.3f; want %q, %g to %g", c.label, slow, slowest, c.slow, c.slowestLo, c.slowest)
		}
	}
}

// fixed is the alternative of a choice with the trunk at a size, rigid drops and
// the leaks sealed.
func fixed(c *optimize.Choice, trunk string) int {
	want := "4 in PVC S&D and a short hose"
	switch {
	case isTrunk(c.ID):
		want = trunk
	case c.ID == "spindle hose":
		want = "3 in PVC S&D and a short hose"
	case c.Kind == optimize.SealChoice:
		want = "seal"
	}
	for a := range c.Alternatives {
		if c.Alternatives[a].Label == want {
			return a
		}
	}
	return 0 // as it is: for the trunk of plastic pipe that is 4 in
}

// TestTrunkOfAnySize: the search mixes sizes, and has to: with the margin of the
// file no trunk of one size holds every state, whatever the drops, seals, bleed
// and companions. Without the margin 5 in and 6 in do, each for more money than
// the plan that the search finds; 4 in still does not. All of it is proved by the
// search, so the expected values are what a proof can say, no more; the costs in
// the log hang on the prices.
func TestTrunkOfAnySize(t *testing.T) {
	if testing.Short() {
		t.Skip("long searches")
	}
	for _, c := range []struct {
		margin float64
		holds  map[string]bool
	}{
		{0.05, map[string]bool{"5 in": false, "6 in": false}},
		{0, map[string]bool{"4 in": false, "5 in": true, "6 in": true}},
	} {
		free := trunkPlan(t, "", c.margin)
		t.Logf("margin %.0f %%: %v, %d with sizes as it likes", 100*c.margin, free.Status, free.Best.Cost)
		if free.Status != optimize.Optimal {
			t.Fatalf("status %v", free.Status)
		}
		for _, s := range free.States {
			if !s.Verdict.Meets() {
				t.Errorf("the plan misses what is asked in state %q", s.State.Name)
			}
		}
		for _, size := range []string{"4 in", "5 in", "6 in"} {
			want, asked := c.holds[size]
			if !asked {
				continue
			}
			r := trunkPlan(t, size, c.margin)
			// A plan that is dear kept a duct of another size: none does without.
			proved := r.Status == optimize.Infeasible || r.Status == optimize.Optimal
			holds := r.Status == optimize.Optimal && r.Best.Cost < dear
			t.Logf("margin %.0f %%: %s throughout holds every state: %v, proved %v (cost, if it does: %d)", 100*c.margin, size, holds, proved, r.Best.Cost)
			if holds != want || !proved {
				t.Errorf("margin %g: %s throughout holds every state: %v (%v), want %v", c.margin, size, holds, r.Status, want)
			}
			if holds && (r.Best.Cost < free.Best.Cost || mixed(r)) {
				t.Errorf("margin %g: %s throughout costs %d, mixed %v; the optimum is %d", c.margin, size, r.Best.Cost, mixed(r), free.Best.Cost)
			}
		}
	}
}

// dear is more than any plan costs.
const dear price.Money = 1e9

// trunkPlan searches the studio with a margin and a trunk of one size, "" for any.
func trunkPlan(t *testing.T, size string, margin float64) *optimize.Result {
	t.Helper()
	p := load(t, "instrument.yaml")
	p.File.Redesign.Limits.Margin = margin
	for _, r := range p.Network.Spec().Runs {
		if size != "" && isTrunk(r.ID) {
			p.File.Redesign.Only = append(p.File.Redesign.Only, shopfile.OnlySizes{Run: r.ID, Sizes: []string{size}})
		}
	}
	problem, err := p.Problem()
	if err != nil {
		t.Fatal(err)
	}
	for i := range problem.Choices {
		if c := &problem.Choices[i]; isTrunk(c.ID) && size != "" && size != "4 in" {
			c.Alternatives[0].Cost = dear // as found it is 4 in
		}
	}
	r, err := optimize.Solve(context.Background(), problem, &optimize.Settings{MaxNodes: 20000})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// mixed reports whether the trunk of a plan has several nominal sizes. Pipe of
// 6 in differs by 1 % between families.
func mixed(r *optimize.Result) bool {
	lo, hi := math.Inf(1), 0.0
	for _, run := range r.Network.Spec().Runs {
		if isTrunk(run.ID) {
			d := float64(run.Pieces[len(run.Pieces)-1].Diameter)
			lo, hi = min(lo, d), max(hi, d)
		}
	}
	return hi > 1.05*lo
}
