package optimize

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"wyewright/network"
	"wyewright/network/fan"
	"wyewright/network/units"
)

// judgement is how a plan does by every requirement, in every opening of every
// state, read from full verdicts: an independent check of what the searches with
// less asked say.
type judgement struct {
	p   *Problem
	all []Requirement
	// got holds, per plan, state and opening, the ratio of each requirement
	// there; nil where the opening is not to be had, or air runs backward.
	got [][][][]float64
}

// judgeAll judges every plan of a problem.
func judgeAll(t *testing.T, p *Problem) *judgement {
	t.Helper()
	m := &judgement{p: p, all: p.Requirements()}
	j, err := newJudge(p, &Stats{})
	if err != nil {
		t.Fatal(err)
	}
	eachPlan(p, func(pick []int) {
		if _, _, sold := p.Cost(pick); !sold {
			return
		}
		solver := network.NewSolver(p.Network(pick), nil)
		plan := make([][][]float64, len(p.States))
		for s := range j.openings {
			for o := range j.openings[s] {
				var ratios []float64
				if p.offered(&j.openings[s][o], pick) {
					if _, v, err := solver.Check(context.Background(), j.openings[s][o].c, &p.Limits); err == nil && len(v.Backward) == 0 {
						ratios = m.ratios(s, v)
					}
				}
				plan[s] = append(plan[s], ratios)
			}
		}
		m.got = append(m.got, plan)
	})
	return m
}

func (m *judgement) ratios(s int, v *network.Verdict) []float64 {
	out := make([]float64, len(m.all))
	for i, r := range m.all {
		out[i] = math.Inf(1)
		switch {
		case r.Rule == FlowRule && r.state == s:
			out[i] = v.Tools[slices.IndexFunc(v.Tools, func(t network.ToolVerdict) bool { return t.Tool == r.tool })].Ratio
		case r.Rule == TransportRule && r.state == s:
			out[i] = v.DustRatio()
		case r.Rule == CeilingRule:
			for _, f := range v.Fast {
				out[i] = min(out[i], f.Ratio)
			}
		case r.Rule == MotorRule && v.Motor.Checked:
			out[i] = float64(v.Motor.Rating / v.Motor.Load)
		}
	}
	return out
}

// met reports whether some plan reaches the shares asked; drop is a state left
// out, −1 for none.
func (m *judgement) met(share []float64, drop int) bool {
	return slices.ContainsFunc(m.got, func(plan [][][]float64) bool {
		for s := range plan {
			asked := false
			for i, r := range m.all {
				asked = asked || share[i] > 0 && (r.state == s || r.state < 0)
			}
			if s == drop || !asked {
				continue
			}
			if !slices.ContainsFunc(plan[s], func(ratios []float64) bool {
				for i := range ratios {
					if share[i] > 0 && !network.Meets(ratios[i]/share[i]) {
						return false
					}
				}
				return ratios != nil
			}) {
				return false
			}
		}
		return true
	})
}

// shares asks for the requirements of a list.
func (m *judgement) shares(list []Requirement) []float64 {
	out := make([]float64, len(m.all))
	for i, r := range m.all {
		if slices.Contains(list, r) {
			out[i] = 1
		}
	}
	return out
}

// greedy is a generated problem that asks too much in some way.
func greedy(t *testing.T, seed int) *Problem {
	rng := rand.New(rand.NewPCG(uint64(seed), 5))
	p := generate(t, rng)
	switch rng.IntN(5) {
	case 0:
		p.Limits.Margin = (1+p.Limits.Margin)*units.Ratio(1.1+0.4*rng.Float64()) - 1
	case 1:
		p.Limits.Transport *= units.Velocity(1.2 + 0.6*rng.Float64())
	case 2:
		p.Limits.Ceiling = p.Limits.Transport * units.Velocity(1.02+0.3*rng.Float64())
	case 3:
		p.Limits.Transport *= 1.15
		p.Limits.Margin = (1+p.Limits.Margin)*1.1 - 1
	case 4:
		motorise(t, p, 0.8+0.3*rng.Float64())
	}
	return p
}

// motorise gives the collector a motor rated at a share of the load that the
// shop as found has in its first state.
func motorise(t *testing.T, p *Problem, share float64) {
	t.Helper()
	c, err := p.Base.Case(p.States[0])
	if err != nil {
		t.Fatal(err)
	}
	sol, err := network.NewSolver(p.Base, nil).Solve(context.Background(), p.States[0])
	if err != nil {
		t.Fatal(err)
	}
	spec := *p.Base.Spec()
	spec.Collectors = slices.Clone(spec.Collectors)
	m := fan.Motor{Efficiency: 0.5}
	load, _ := m.Load(sol.Collectors[0].Flow, sol.Collectors[0].Curve)
	m.Rating = units.Power(share) * load
	spec.Collectors[c.Collector].Motor = &m
	if p.Base, err = network.New(spec); err != nil {
		t.Fatal(err)
	}
}

// TestConflictEqualsBruteForce: the requirements named cannot be met together,
// any one less of them can, as enumeration with full verdicts has it.
func TestConflictEqualsBruteForce(t *testing.T) {
	problems := 40
	if testing.Short() {
		problems = 12
	}
	met, none, rules := 0, 0, map[Rule]int{}
	for seed := range problems {
		p := greedy(t, seed)
		c, err := FindConflict(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		m := judgeAll(t, p)
		if m.met(m.shares(m.all), -1) {
			if met++; c.Status != Feasible {
				t.Fatalf("seed %d: %v, but some plan meets everything", seed, c.Status)
			}
			continue
		}
		none++
		if c.Status != Infeasible || !c.Irreducible || m.met(m.shares(c.Requirements), -1) {
			t.Fatalf("seed %d: %v, irreducible %v, %v do not conflict", seed, c.Status, c.Irreducible, c.Requirements)
		}
		for i, r := range c.Requirements {
			rules[r.Rule]++
			if !m.met(m.shares(slices.Delete(slices.Clone(c.Requirements), i, i+1)), -1) {
				t.Fatalf("seed %d: without %v the rest of %v still conflicts", seed, r, c.Requirements)
			}
		}
	}
	t.Logf("%d met, %d in conflict; rules %v", met, none, rules)
	if none < problems/3 || met < problems/20 || rules[FlowRule] == 0 || rules[TransportRule] == 0 || rules[CeilingRule] == 0 || rules[MotorRule] == 0 {
		t.Errorf("the generator is one-sided: %d met, %d not, %v", met, none, rules)
	}
}

// TestWaysOutEqualBruteForce: every single thing that enumeration finds to be a
// way out is found, with its largest share to within the step, and no other.
func TestWaysOutEqualBruteForce(t *testing.T) {
	problems := 20
	if testing.Short() {
		problems = 6
	}
	found, drops, wide := 0, 0, 0
	for seed := range problems {
		p := greedy(t, seed)
		c, err := FindConflict(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		if c.Status != Infeasible {
			continue
		}
		ways, done, err := WaysOut(context.Background(), p, nil, c)
		if err != nil || !done {
			t.Fatal(done, err)
		}
		m := judgeAll(t, p)
		for _, w := range ways {
			if w.Status != Optimal {
				t.Fatalf("seed %d: the plan of %v is %v", seed, w.Less, w.Status)
			}
			switch len(w.Less) {
			case 0:
				drops++
			case 1:
				found++
			default:
				wide++
				share := m.shares(m.all)
				for i, r := range m.all {
					if slices.Contains(w.Less, r) {
						share[i] = w.Share
					}
				}
				if !m.met(share, -1) {
					t.Fatalf("seed %d: %v at %g is no way out", seed, w.Less, w.Share)
				}
			}
		}
		for i, r := range m.all {
			share := m.shares(m.all)
			most := -1.0 // largest share, by bisection over what enumeration says
			for lo, hi := 0.0, 1.0; ; {
				if share[i] = lo; m.met(share, -1) {
					most = lo
				} else if hi = lo; lo == 0 {
					break
				}
				if hi-most < 1e-6 {
					break
				}
				lo = (most + hi) / 2
			}
			k := slices.IndexFunc(ways, func(w WayOut) bool { return len(w.Less) == 1 && w.Less[0] == r })
			switch {
			case (k >= 0) != (most >= 0):
				t.Fatalf("seed %d: %v: found %v, enumeration has a share of %g", seed, r, k >= 0, most)
			case k >= 0 && (ways[k].Share > most+1e-5 || ways[k].Most < most-1e-5 || ways[k].Most-ways[k].Share > WayOutStep):
				t.Fatalf("seed %d: %v: share %g to %g, enumeration %g", seed, r, ways[k].Share, ways[k].Most, most)
			}
		}
		for s := range p.States {
			got := slices.ContainsFunc(ways, func(w WayOut) bool { return w.Drop == p.States[s].Name })
			if want := m.met(m.shares(m.all), s); got != want {
				t.Fatalf("seed %d: leaving out state %q: %v, enumeration %v", seed, p.States[s].Name, got, want)
			}
		}
	}
	t.Logf("%d single ways out, %d states to leave out, %d tools to be asked less of everywhere", found, drops, wide)
	if found < problems/3 || drops == 0 {
		t.Error("the generator is one-sided")
	}
}

// TestConflictStops: stopped at once nothing is claimed; stopped on the way the
// set is still a conflict, and irreducible only if it is.
func TestConflictStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	stopped := 0
	for seed := range 20 {
		p := greedy(t, seed)
		c, err := FindConflict(ctx, p, nil)
		if err != nil || c.Status != Undecided || len(c.Requirements) > 0 {
			t.Fatalf("seed %d, interrupted: %v %v, %v", seed, c.Status, c.Requirements, err)
		}
		if c, err = FindConflict(context.Background(), p, &Settings{MaxNodes: 1}); err != nil {
			t.Fatal(err)
		}
		if c.Status != Infeasible {
			continue
		}
		m := judgeAll(t, p)
		if m.met(m.shares(c.Requirements), -1) {
			t.Fatalf("seed %d: %v do not conflict", seed, c.Requirements)
		}
		if !c.Irreducible {
			stopped++
			continue
		}
		for i := range c.Requirements {
			if !m.met(m.shares(slices.Delete(slices.Clone(c.Requirements), i, i+1)), -1) {
				t.Fatalf("seed %d: %v is not irreducible", seed, c.Requirements)
			}
		}
	}
	t.Logf("%d sets were left in doubt", stopped)
}
