package network_test

import (
	"context"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"wyewright/network"
	"wyewright/network/networktest"
	"wyewright/network/units"
)

// TestBoxTight: a shop is solved, every need is set to what it gets, and the
// same is asked for again. The shop just passes, so that a box that has it among
// others must let it, and no rule of paths or power may be broken by it.
func TestBoxTight(t *testing.T) {
	shops := 2400
	if testing.Short() {
		shops = 600
	}
	cases, rows := 0, 0
	for seed := range shops {
		rng := rand.New(rand.NewPCG(uint64(seed), 77))
		base, n, c, index, ok := tight(t, rng)
		if !ok {
			continue
		}
		cases++
		alts := make([][]network.Run, len(index))
		for i := range alts {
			alts[i] = []network.Run{base.Spec().Runs[i], n.Spec().Runs[i]}
		}
		box := network.NewBox(base, alts)
		if !box.Possible(c, &network.Limits{}, 1) {
			t.Fatalf("seed %d: the box says that nothing passes", seed)
		}
		rules := box.PathRows()
		if power, ok := box.PowerRow(); ok {
			rules = append(rules, power)
		}
		for k, row := range rules {
			rows++
			sum := 0.0
			for j, r := range row.Runs {
				sum += row.Loss[j][index[r]]
			}
			if sum > row.Limit {
				t.Fatalf("seed %d: rule %d of %d: %g above %g", seed, k+1, len(rules), sum, row.Limit)
			}
		}
	}
	t.Logf("%d shops, %d rules", cases, rows)
	if cases < shops*9/10 {
		t.Error("few shops are left")
	}
}

// tight makes a shop that just passes: base, the variant n of it, the case and
// which alternative of each run n is.
func tight(t *testing.T, rng *rand.Rand) (base, n *network.Network, c *network.Case, index []int, ok bool) {
	s := networktest.Random(rng, networktest.Options{Tools: 1 + rng.IntN(5), Extra: rng.IntN(3), GateLeak: float64(rng.IntN(2)) * 4e-4,
		Leaks: rng.IntN(3), Placed: rng.IntN(2) == 0, Overrides: rng.IntN(2) == 0, Bleeds: rng.IntN(2) == 0, Odd: rng.IntN(2) == 0})
	if rng.IntN(4) == 0 { // a second port at the same point
		tool := &s.Tools[rng.IntN(len(s.Tools))]
		p := tool.Ports[0]
		p.Diameter = units.Length(networktest.Sizes[rng.IntN(5)])
		tool.Ports = append(tool.Ports, p)
	}
	if rng.IntN(4) == 0 { // inlets at the wyes themselves
		s.Bleeds = nil
		for _, p := range s.Points {
			if strings.HasPrefix(p.ID, "J") {
				s.Bleeds = append(s.Bleeds, network.Bleed{ID: "b" + p.ID, At: p.ID, Size: "x", Diameter: units.Length(networktest.Sizes[rng.IntN(6)]), K: 1.5})
			}
		}
	}
	build := func() *network.Network {
		n, err := network.New(s)
		if err != nil {
			t.Fatal(err)
		}
		return n
	}
	base = build()
	st := network.State{Name: "s"}
	for i := range s.Tools {
		if i == 0 || rng.IntN(2) == 0 {
			st.Running = append(st.Running, s.Tools[i].ID)
		}
	}
	for i := range s.Bleeds {
		if rng.IntN(2) == 0 {
			st.Open = append(st.Open, s.Bleeds[i].ID)
		}
	}
	c, err := base.Case(st)
	if err != nil {
		t.Fatal(err)
	}
	index = make([]int, len(s.Runs))
	var changes []network.Change
	for i := range s.Runs {
		if rng.IntN(2) == 0 {
			index[i] = 1
			changes = append(changes, network.ReplaceRun{Run: i, Pieces: []network.Piece{networktest.Piece(networktest.Spiral(),
				networktest.Sizes[rng.IntN(9)], float64(s.Runs[i].Pieces[0].Length))}})
		}
	}
	n = base.With(changes...)
	solver := network.NewSolver(n, nil)
	if solver.Run(context.Background(), c) != network.Converged {
		return nil, nil, nil, nil, false
	}
	less := func() float64 { return 1 - 1e-6*rng.Float64() }
	for _, k := range c.Running {
		s.Tools[k].Flow = units.Flow(solver.ToolFlow(k) * less())
	}
	slowest := math.Inf(1)
	areas := network.NewBox(n, make([][]network.Run, len(s.Runs)))
	for r := range s.Runs {
		if n.CarriesDust(c, r) {
			_, wide := areas.Areas(r, 0)
			slowest = min(slowest, solver.RunFlow(r)/float64(wide))
		}
	}
	if slowest < 0 || math.IsInf(slowest, 1) || rng.IntN(2) == 0 {
		slowest = 0
	}
	for i := range s.Tools {
		s.Tools[i].Transport = units.Velocity(slowest * less())
	}
	base = build()
	n = base.With(changes...)
	return base, n, c, index, network.NewSolver(n, nil).Score(context.Background(), c, &network.Limits{}).OK()
}
