package core

import (
	"context"
	"math"
	"math/rand/v2"
)

// shape says what kind of problem generate makes. All data are invented.
type shape struct {
	tools, options int
	pairs          int     // states with two tools
	alone          bool    // a state for each tool
	transport      float64 // m/s in states with one tool
	pairTransport  float64 // m/s in states with two
	leak           float64 // closed gate: share of the tool's required flow at the fan's head
	joints         bool
	stretch        float64 // head / least head found
	exponent       float64
	fixed          int // loadings instead of states
	series         int // tools whose branch is two runs
}

// sizes are inner diameters in mm.
var sizes = []float64{60, 80, 100, 112, 125, 140, 160, 180, 200, 225, 250, 280, 315, 355}

// generate makes a tree of 2·tools − 1 + series runs in SI units (costs in cents).
func generate(seed uint64, sh shape) *Problem {
	rng := rand.New(rand.NewPCG(seed, 11))
	p := &Problem{Exponent: sh.exponent}
	if p.Exponent == 0 {
		p.Exponent = 2
	}
	series := sh.series
	var grow func(parent, tools int)
	grow = func(parent, tools int) {
		me := len(p.Runs)
		length := 1 + 4*rng.Float64()
		k := 0.1 + 0.4*rng.Float64()
		if tools == 1 {
			length, k = 1+5*rng.Float64(), 0.8+1.5*rng.Float64()
		}
		p.Runs = append(p.Runs, Run{Parent: parent, Options: ducts(rng, sh.options, length, k)})
		if sh.joints && parent >= 0 {
			p.Runs[me].Joint = joints(rng, &p.Runs[parent], &p.Runs[me])
		}
		if tools == 1 && series > 0 {
			series--
			grow(me, 1)
			return
		}
		if tools == 1 {
			p.Tools = append(p.Tools, Tool{Run: me, Flow: (400 + 1000*rng.Float64()) / 3600})
			return
		}
		left := 1
		if rng.Float64() > 0.6 {
			left = 1 + rng.IntN(tools-1)
		}
		grow(me, tools-left)
		grow(me, left)
	}
	grow(-1, sh.tools)
	if sh.fixed > 0 {
		load(rng, p, sh)
		return p
	}
	if sh.alone {
		for k := range p.Tools {
			p.States = append(p.States, State{Running: []int{k}, Transport: sh.transport})
		}
	}
	for range sh.pairs {
		a := rng.IntN(sh.tools)
		b := (a + 1 + rng.IntN(sh.tools-1)) % sh.tools
		p.States = append(p.States, State{Running: []int{a, b}, Transport: sh.pairTransport})
	}
	// The fan: its flow at no pressure is 1.5 to 3 times the largest need.
	free := (1.5 + 1.5*rng.Float64()) * 2800 / 3600
	p.Fan = Fan{Head: 3000}
	p.Fan.Curve = 3000 / (free * free)
	setLeaks(p, sh.leak)
	least := 20000.0
	if sh.tools < 50 { // else too slow
		least = leastHead(rng, p, free)
	}
	p.Fan.Head = least * sh.stretch
	p.Fan.Curve = p.Fan.Head / (free * free)
	setLeaks(p, sh.leak)
	return p
}

// tighten sets the fan's head to factor × stretch of what generate gave it.
func tighten(p *Problem, sh shape, factor float64) {
	p.Fan.Head *= factor * sh.stretch
	p.Fan.Curve *= factor * sh.stretch
	setLeaks(p, sh.leak)
}

// leastFactor is the least factor of the head with which Solve finds a plan
// in 1000 nodes, to 1/256.
func leastFactor(p *Problem, sh shape) float64 {
	head, curve := p.Fan.Head, p.Fan.Curve
	lo, hi := 0.0, 1.0
	for hi-lo > 1.0/256*hi {
		mid := (lo + hi) / 2
		p.Fan.Head, p.Fan.Curve = head*mid, curve*mid
		setLeaks(p, sh.leak)
		r, err := Solve(context.Background(), p, &Settings{Gap: 1, MaxNodes: 1000})
		if err != nil {
			panic(err)
		}
		if r.Pick != nil {
			hi = mid
		} else {
			lo = mid
		}
	}
	p.Fan.Head, p.Fan.Curve = head, curve
	setLeaks(p, sh.leak)
	return hi
}

func setLeaks(p *Problem, share float64) {
	for k := range p.Tools {
		if share > 0 {
			p.Tools[k].Leak = p.Fan.Head / math.Pow(share*p.Tools[k].Flow, p.Exponent)
		}
	}
}

// ducts makes options: sizes of pipe, some of them as hose too.
func ducts(rng *rand.Rand, n int, length, k float64) []Option {
	var out []Option
	hoses := n / 4
	first := 0
	if n-hoses < len(sizes) {
		first = rng.IntN(min(4, len(sizes)-n+hoses))
	}
	for i := range n {
		d, rough, price := 0.0, 0.02, 1.0
		if i < n-hoses {
			d = sizes[first+i*(min(len(sizes)-first, 10))/(n-hoses)] / 1000
		} else {
			d, rough, price = sizes[first+(i-n+hoses)*2]/1000, 0.05, 0.6
		}
		area := math.Pi / 4 * d * d
		cost := length*price*(300+14000*d+20000*d*d) + 400 + 9000*d
		out = append(out, Option{Cost: int64(cost * (0.95 + 0.1*rng.Float64())), Area: area,
			Resistance: 0.6 * (rough*length/d + k) / (area * area)})
	}
	return out
}

// joints charges for a change of size, with some noise.
func joints(rng *rand.Rand, below, above *Run) [][]int64 {
	out := make([][]int64, len(below.Options))
	for a, o := range below.Options {
		for _, u := range above.Options {
			c := 200 + 40000*math.Abs(math.Sqrt(o.Area)-math.Sqrt(u.Area)) + 800*rng.Float64()
			out[a] = append(out[a], int64(c))
		}
	}
	return out
}

// leastHead looks for the plan that needs the least head: single exchanges
// from some starts. It is what a fan must at least give, as far as is known.
func leastHead(rng *rand.Rand, p *Problem, free float64) float64 {
	need := func(e *Evaluator, pick []int) float64 {
		worst := 0.0
		for s := range p.States {
			worst = max(worst, e.asks(pick, s, free))
		}
		return worst
	}
	e := NewEvaluator(p)
	best := math.Inf(1)
	for range 3 {
		pick := make([]int, len(p.Runs))
		for i := range pick {
			pick[i] = rng.IntN(len(p.Runs[i].Options))
		}
		now := need(e, pick)
		for better := true; better; {
			better = false
			for i := range pick {
				for o, old := 0, pick[i]; o < len(p.Runs[i].Options); o++ {
					pick[i] = o
					if x := need(e, pick); x < now*(1-1e-12) {
						now, old, better = x, o, true
					}
					pick[i] = old
				}
			}
		}
		best = min(best, now)
	}
	return best
}

// load gives every tool its flow, in several loadings a part of them.
func load(rng *rand.Rand, p *Problem, sh shape) {
	for l := range sh.fixed {
		ld := Loading{Flow: make([]float64, len(p.Runs)), Limit: make([]float64, len(p.Runs))}
		for i := range ld.Limit {
			ld.Limit[i] = math.Inf(1)
		}
		for _, t := range p.Tools {
			q := t.Flow
			if l > 0 {
				q *= rng.Float64() * 1.6
			}
			for i := t.Run; i >= 0; i = p.Runs[i].Parent {
				ld.Flow[i] += q
			}
		}
		p.Loadings = append(p.Loadings, ld)
	}
	// The limit: stretch times the loss of the largest sizes.
	e := NewEvaluator(p)
	pick := make([]int, len(p.Runs))
	for i, r := range p.Runs {
		for o := range r.Options {
			if r.Options[o].Resistance < r.Options[pick[i]].Resistance {
				pick[i] = o
			}
		}
	}
	for l := range p.Loadings {
		worst := 0.0
		for _, t := range p.Tools {
			p.Loadings[l].Limit[t.Run] = 1
			worst = max(worst, e.overload(pick, l)+1)
			p.Loadings[l].Limit[t.Run] = math.Inf(1)
		}
		for _, t := range p.Tools {
			p.Loadings[l].Limit[t.Run] = worst * sh.stretch * (1 + 0.5*rng.Float64())
		}
	}
}
