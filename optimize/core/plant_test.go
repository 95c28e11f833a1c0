package core

import (
	"math"
	"math/rand/v2"
	"slices"
)

// plant makes a tree of about so many runs: a tool for five of them and a
// state for fifteen, of which a fifth have one tool and the others two to six.
// Every tool runs somewhere. Its data are invented. Variants are "plant"
// (transport of 12 m/s in every state), "plant-flows" (18 m/s, in states of one
// tool alone) and "plant-leaks" (as plant, gates that leak 1 %).
func plant(seed uint64, variant string, runs int) *Problem {
	rng := rand.New(rand.NewPCG(seed, uint64(runs)))
	p := &Problem{Exponent: 2}
	tools := max(3, runs/5)
	spare := runs - (2*tools - 1) // runs to be divided in series
	edges := 2*tools - 1
	var grow func(parent, tools int)
	grow = func(parent, tools int) {
		pieces := 1
		for ; spare > 0 && rng.IntN(edges) < spare; spare-- {
			pieces++
		}
		edges--
		for range pieces {
			length, k := 0.5+2.5*rng.Float64(), 0.02+0.1*rng.Float64()
			if tools == 1 {
				k += 0.5 * rng.Float64()
			}
			p.Runs = append(p.Runs, Run{Parent: parent, Options: ducts(rng, 14, length, k)})
			parent = len(p.Runs) - 1
		}
		if tools == 1 {
			p.Tools = append(p.Tools, Tool{Run: parent, Flow: 1})
			return
		}
		left := 1
		if rng.IntN(2) == 0 {
			left = 1 + rng.IntN(tools-1)
		}
		grow(parent, tools-left)
		grow(parent, left)
	}
	grow(-1, tools)
	plantStates(rng, p, variant, max(4, runs/15))
	plantFan(rng, p)
	if variant == "plant-leaks" {
		setLeaks(p, 0.01)
		plantFan(rng, p)
		setLeaks(p, 0.01)
	}
	return p
}

// plantStates deals the tools to the states, each tool once before any again,
// and gives them flows with which a state has 0.5 to 1.4 m³/s.
func plantStates(rng *rand.Rand, p *Problem, variant string, states int) {
	size, sum := make([]int, states), 0
	for s := range size {
		if size[s] = min(2+rng.IntN(5), len(p.Tools)); s%5 == 0 {
			size[s] = 1
		}
		sum += size[s]
	}
	for s := 0; sum < len(p.Tools); s++ {
		if s%5 != 0 {
			size[s%states]++
			sum++
		}
	}
	deck := rng.Perm(len(p.Tools))
	for _, n := range size {
		st, share := State{}, (0.7+0.4*rng.Float64())/float64(n)
		for len(st.Running) < n {
			k := rng.IntN(len(p.Tools))
			if len(deck) > 0 {
				k, deck = deck[0], deck[1:]
				p.Tools[k].Flow = share * (0.7 + 0.6*rng.Float64())
			}
			if !slices.Contains(st.Running, k) {
				st.Running = append(st.Running, k)
			}
		}
		switch {
		case variant != "plant-flows":
			st.Transport = 12
		case n == 1:
			st.Transport = 18
		}
		p.States = append(p.States, st)
	}
}

// plantFan gives the fan 10 % more head than the least that was found to do:
// runs as wide as transport (or 14 m/s) allows with the required flows, then exchanges.
func plantFan(rng *rand.Rand, p *Problem) {
	e := NewEvaluator(p)
	most := 0.0
	least := make([]float64, len(p.Runs))
	for i := range least {
		least[i] = math.Inf(1)
	}
	for s, st := range p.States {
		flow := make([]float64, len(p.Runs))
		sum := 0.0
		for _, k := range st.Running {
			sum += p.Tools[k].Flow
			for i := p.Tools[k].Run; i >= 0; i = p.Runs[i].Parent {
				flow[i] += p.Tools[k].Flow
			}
		}
		most = max(most, sum)
		for i, q := range flow {
			if e.running[s][i] {
				least[i] = min(least[i], q/max(st.Transport, 14))
			}
		}
	}
	free := (2 + rng.Float64()) * most
	pick := make([]int, len(p.Runs))
	for i, r := range p.Runs {
		best := -1
		for o, opt := range r.Options {
			if opt.Area <= least[i] && (best < 0 || opt.Resistance < r.Options[best].Resistance) {
				best = o
			}
		}
		pick[i] = max(best, 0)
	}
	p.Fan.Head = descend(p, pick, free) * 1.1
	p.Fan.Curve = p.Fan.Head / (free * free)
}

// asks is the least head of a fan of curve P(q) = H·(1 − (q/free)²) that meets
// state s with a plan.
func (e *Evaluator) asks(pick []int, s int, free float64) float64 {
	loss, q := e.require(pick, s)
	if q >= free {
		return 1e6 * q / free
	}
	return loss / (1 - q*q/(free*free))
}

// descend exchanges single options, three rounds at most, so that the fourth powers
// of the heads that the states ask for fall, and returns the largest.
func descend(p *Problem, pick []int, free float64) float64 {
	e := NewEvaluator(p)
	l := newLocal(e)
	for s := range l.miss {
		l.miss[s] = e.asks(pick, s, free)
	}
	power := func(x float64) float64 { return x * x * x * x }
	for range 3 {
		for i := range pick {
			old, now := pick[i], 0.0
			for _, s := range l.affects[i] {
				now += power(l.miss[s])
			}
			for o := range p.Runs[i].Options {
				pick[i] = o
				x := 0.0
				for _, s := range l.affects[i] {
					if x += power(e.asks(pick, s, free)); x >= now {
						break
					}
				}
				if x < now*(1-1e-9) {
					now, old = x, o
				}
			}
			pick[i] = old
			for _, s := range l.affects[i] {
				l.miss[s] = e.asks(pick, s, free)
			}
		}
	}
	return slices.Max(l.miss)
}
