package optimize

import (
	"context"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"wyewright/network"
	"wyewright/network/air"
	"wyewright/network/fan"
	"wyewright/network/units"
)

var (
	plantRuns  = flag.Int("plant", 0, "measure a generated plant of about so many runs")
	plantAlone = flag.Bool("plant-alone", false, "one tool at a time")
	plantTime  = flag.Duration("plant-time", 5*time.Minute, "time for it")
)

// plantSizes are the sizes on offer in a plant.
var plantSizes = []string{"125 mm", "140 mm", "160 mm", "180 mm", "200 mm", "224 mm", "250 mm", "280 mm", "315 mm"}

// generatePlant makes a plant of about so many runs, a fifth of them with a
// tool: a trunk with branches in pairs, on each branch six drops, long runs in
// several parts. In every state one tool runs on one branch of each pair, so
// that the trunk carries about the same air in all. Sizes are right for 19 m/s
// but for a fifth of the runs, which are too narrow. Everything is invented.
func generatePlant(t testing.TB, rng *rand.Rand, runs, states int, alone bool) *Problem {
	t.Helper()
	b, fam := spiral(t)
	fit := func(flow float64) int {
		d := math.Sqrt(flow / 19 * 4 / math.Pi)
		k := 0
		for k+1 < len(plantSizes) {
			if s, _ := fam.Size(plantSizes[k+1]); float64(s.Diameter) > d*1.02 {
				break
			}
			k++
		}
		return k
	}
	spec := network.Spec{Air: air.Standard(), Points: []network.Point{{ID: "COL"}}}
	point := func() string {
		id := fmt.Sprintf("P%d", len(spec.Points))
		spec.Points = append(spec.Points, network.Point{ID: id})
		return id
	}
	line := func(to string, parts int, length, flow float64, main bool) string {
		for range parts {
			from := point()
			k := fit(flow)
			if rng.IntN(5) == 0 {
				k = max(0, k-1)
			}
			p, err := fam.Piece(plantSizes[k], units.Length(length/float64(parts)))
			if err != nil {
				t.Fatal(err)
			}
			spec.Runs = append(spec.Runs, network.Run{ID: fmt.Sprintf("run %d", len(spec.Runs)+1), From: from, To: to, Main: main, Pieces: []network.Piece{p}})
			to = from
		}
		return to
	}
	const perBranch, flow = 6, 0.26
	trunk := func(k int) float64 {
		if alone {
			k = 1
		}
		return flow * float64(k)
	}
	branches := max(2, 2*(runs/60))
	rows := make([][]string, branches) // tools by branch
	at := "COL"
	for k := branches / 2; k > 0; k-- {
		at = line(at, 1+rng.IntN(3), 5+5*rng.Float64(), trunk(k), true)
		for side := range 2 {
			on := at
			for n := range perBranch {
				on = line(on, 1+rng.IntN(3), 3+3*rng.Float64(), flow, true)
				port := line(on, 1+rng.IntN(3), 3+3*rng.Float64(), flow, n == perBranch-1)
				id := fmt.Sprintf("tool %d", len(spec.Tools)+1)
				rows[2*(k-1)+side] = append(rows[2*(k-1)+side], id)
				spec.Tools = append(spec.Tools, network.Tool{ID: id, Flow: units.Flow(flow * (0.85 + 0.1*rng.Float64())), Transport: 15.2,
					Ports: []network.Port{{At: port, Size: "125 mm", Diameter: 0.125, Entry: 1 + rng.Float64(), Gate: &network.Gate{Open: 0.2}}}})
			}
		}
	}
	total := trunk(branches / 2)
	var list []network.State
	for s := range states {
		st := network.State{Name: fmt.Sprintf("state %d", s+1)}
		for k := 0; k < branches; k += 2 {
			row := rows[k+rng.IntN(2)]
			st.Running = append(st.Running, row[rng.IntN(perBranch)])
		}
		if alone {
			st.Running = st.Running[:0]
			st.Running = append(st.Running, spec.Tools[rng.IntN(len(spec.Tools))].ID)
		}
		list = append(list, st)
	}
	// The fan gives the worst tool 94 % of its flow with the ducts as they are.
	var n *network.Network
	for head, k := 5000.0, 0; k < 4; k++ {
		spec.Collectors = []network.Collector{{ID: "unit", At: "COL", Inlet: 0.315, InletSize: "315 mm",
			Curve: fan.Quadratic{Shutoff: units.Pressure(head), FreeAir: units.Flow(1.7 * total)}, Meaning: network.FanStatic,
			Filter: fan.Filter{Clean: 200 / total, Loaded: 400 / total}}}
		var err error
		if n, err = network.New(spec); err != nil {
			t.Fatal(err)
		}
		least, solver := math.Inf(1), network.NewSolver(n, nil)
		for _, st := range list {
			c, err := n.Case(st)
			if err != nil {
				t.Fatal(err)
			}
			least = min(least, solver.Score(context.Background(), c, &network.Limits{}).Flow)
		}
		head *= math.Pow(0.94/least, 2)
	}
	o := Options{Families: []string{"dust spiral"}, Resize: true, Only: map[string][]string{}}
	for _, r := range spec.Runs {
		o.Only[r.ID] = plantSizes
	}
	p, err := Formulate(n, list, o, b)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// TestPlant measures one plant.
func TestPlant(t *testing.T) {
	if *plantRuns == 0 {
		t.Skip("-plant not given")
	}
	start := time.Now()
	p := generatePlant(t, rand.New(rand.NewPCG(1, uint64(*plantRuns))), *plantRuns, 20, *plantAlone)
	t.Logf("%d runs, %d tools, %d states, %d choices: formulated in %v", len(p.Base.Spec().Runs), len(p.Base.Spec().Tools), len(p.States), len(p.Choices), time.Since(start))
	found, err := p.AsFound(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range found[:3] {
		t.Logf("%s: flow %.3f dust %.3f total %v", s.State.Name, s.Scores.Flow, s.Scores.Dust, s.Solution.Collector.Flow)
	}
	t.Logf("as found judged after %v", time.Since(start))
	r, err := Solve(context.Background(), p, &Settings{TimeLimit: *plantTime, Clock: time.Now, Progress: func(w Progress) {
		t.Logf("%v: %+v", time.Since(start), w)
	}})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%v cost %d bound %d gap %.2f %%, %+v after %v", r.Status, r.Best.Cost, r.Bound, 100*r.Gap, r.Stats, time.Since(start))
	if r.Short != nil {
		t.Logf("%+v", *r.Short)
	}
}
