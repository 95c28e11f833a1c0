package core

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestFlowsByHand: a trunk of resistance 3 with two branches of 4, each of
// conductance 1/2, so that together they are as 1; a fixed head of 16 drives
// 2 through 3 + 1. Hand-worked. With one gate shut that leaks through 5 the
// other has 1/2 and it 1/√9 = 1/3: 1/(5/6)² = 1.44, flow 4/√4.44.
func TestFlowsByHand(t *testing.T) {
	one := func(parent int, r float64) Run {
		return Run{Parent: parent, Options: []Option{{Resistance: r, Area: 0.5}}}
	}
	p := &Problem{Exponent: 2, Fan: Fan{Head: 16}, Runs: []Run{one(-1, 3), one(0, 4), one(0, 4)},
		Tools:  []Tool{{Run: 1, Flow: 1}, {Run: 2, Flow: 0.9, Leak: 5}},
		States: []State{{Running: []int{0, 1}, Transport: 2}, {Running: []int{0}}}}
	if err := p.Validate(); err != nil {
		t.Fatal(err)
	}
	e := NewEvaluator(p)
	pick := []int{0, 0, 0}
	total := 4 / math.Sqrt(4.44)
	for s, want := range [][]float64{{2, 1, 1}, {total, total * 0.6, total * 0.4}} {
		for i, q := range e.Flows(pick, s) {
			if math.Abs(q-want[i]) > 1e-12 {
				t.Errorf("state %d run %d: %v, want %v", s, i, q, want[i])
			}
		}
	}
	if !e.Meets(pick) {
		t.Error("exactly the required flow is not enough")
	}
	p.Tools[0].Flow = 1 + 1e-6
	if e.Meets(pick) {
		t.Error("a millionth less than required is enough")
	}
}

// TestJudges: that a plan meets its states follows from the flows, found from
// the fan, just as from the least loss, found from the tools.
func TestJudges(t *testing.T) {
	meets := 0
	for k := range 400 {
		p := small(k)
		p.Fan.Head *= 1 + 3*float64(k%10)/10 // else few plans pass
		e := NewEvaluator(p)
		rng := rand.New(rand.NewPCG(uint64(k), 3))
		pick := make([]int, len(p.Runs))
		for range 50 {
			for i := range pick {
				pick[i] = rng.IntN(len(p.Runs[i].Options))
			}
			flow, transport := e.Ratio(pick)
			worst := min(flow, transport)
			if math.Abs(worst-1) < 1e-8 {
				continue
			}
			if e.Meets(pick) != (worst > 1) {
				t.Fatalf("problem %d, plan %v: meets %v at a ratio of %v", k, pick, e.Meets(pick), worst)
			}
			if worst > 1 {
				meets++
			}
		}
	}
	if meets < 100 {
		t.Errorf("only %d plans met their problem", meets)
	}
}

// TestEnclosure: the flows of plans that meet their problem lie in the
// enclosure of domains that hold them.
func TestEnclosure(t *testing.T) {
	held := 0
	for k := range 300 {
		p := small(k)
		p.Fan.Head *= 1 + 3*float64(k%10)/10 // else few plans pass
		e := NewEvaluator(p)
		x := newEncloser(e)
		rng := rand.New(rand.NewPCG(uint64(k), 4))
		pick := make([]int, len(p.Runs))
		for range 40 {
			dom := full(p)
			for i := range pick {
				pick[i] = rng.IntN(len(p.Runs[i].Options))
				dom[i] &= uint64(rng.IntN(16))
				dom[i] |= 1 << pick[i]
			}
			if !e.Meets(pick) {
				continue
			}
			held++
			x.install(dom)
			if !x.shrink() {
				t.Fatalf("problem %d: a plan that meets it was excluded", k)
			}
			for s := range p.States {
				for i, q := range e.Flows(pick, s) {
					c := &x.state[s]
					if x.dom[i]>>pick[i]&1 == 0 || q < c.flow[i]*(1-1e-7) || e.moves[s][i] && q > c.most[i]*(1+1e-7)+1e-9 {
						t.Fatalf("problem %d state %d run %d: flow %v not in %v…%v", k, s, i, q, c.flow[i], c.most[i])
					}
				}
			}
		}
	}
	if held < 200 {
		t.Errorf("only %d plans", held)
	}
}
