package optimize

import (
	"context"
	"math"
	"strings"

	"wyewright/network"
)

// stateItems are what the rules ask for in a state, in the order of the marks
// that say what is met: the flows of its tools; ceiling, direction and motor;
// the transport velocity of each run that carries dust.
type stateItems struct {
	tools int
	dust  []int // runs
	// all are the marks of a state in which everything is met.
	all string
}

// Marks of what is met and what is not. Between tools and dust stand this many
// others.
const (
	hit, miss  = '1', '0'
	otherRules = 3
)

// opened is a state of a shop under one opening: what is met, and how much that
// counts.
type opened struct {
	open  int
	met   string
	worth int64
	// worst is the least ratio of all, as judge.worst.
	worst float64
}

// shopEval is how a shop does: per state one opening that meets everything, or
// all openings.
type shopEval struct{ states [][]opened }

// list fills the items of the states and what is met as found.
func (g *stager) list() {
	p := g.p
	var found []string
	for s := range p.States {
		base := g.judge.openings[s][0].c
		it := stateItems{tools: len(p.States[s].Running)}
		for r := range p.Base.Spec().Runs {
			if p.Base.TransportLimit(base, r, p.limits(s)) > 0 {
				it.dust = append(it.dust, r)
			}
		}
		it.all = strings.Repeat(string(hit), it.tools+otherRules+len(it.dust))
		g.states = append(g.states, it)
		found = append(found, g.asFound(s))
	}
	g.metID[strings.Join(found, "/")] = 0
	g.mets = [][]string{found}
}

// asFound are the marks of a state of the shop as found. A run that is still to
// be built met nothing.
func (g *stager) asFound(state int) string {
	n, v := g.found.Base, g.before[state].Verdict
	marks, _ := g.marks(state, v)
	held := map[string]bool{}
	for _, d := range v.Dust {
		held[n.Spec().Runs[d.Run].ID] = network.Meets(d.Ratio)
	}
	out := []byte(marks[:g.states[state].tools+otherRules])
	for _, r := range g.states[state].dust {
		out = append(out, mark(held[g.p.Base.Spec().Runs[r].ID]))
	}
	return string(out)
}

// worth is how much the shop as found counts.
func (g *stager) worth() int64 {
	sum := int64(0)
	for s := range g.before {
		_, w := g.marks(s, g.before[s].Verdict)
		sum += w
	}
	return sum
}

func mark(met bool) byte {
	if met {
		return hit
	}
	return miss
}

// worthGrid is the number of steps in which a share counts.
const worthGrid = 1e6

// point is what one thing that is met counts, more than all shares together.
func (g *stager) point() int64 {
	n := len(g.states)
	for i := range g.states {
		n += g.states[i].tools
	}
	return int64(n) * worthGrid
}

// full is what a state counts in which everything is met.
func (g *stager) full(state int) int64 {
	return int64(g.states[state].tools+1) * (g.point() + worthGrid)
}

// share is a ratio up to 1 in steps.
func share(ratio float64) int64 { return int64(math.Round(worthGrid * max(0, min(1, ratio)))) }

// marks say what a verdict meets, and how much it counts.
func (g *stager) marks(state int, v *network.Verdict) (string, int64) {
	out := make([]byte, 0, g.states[state].tools+otherRules+len(v.Dust))
	worth := share(v.DustRatio())
	for _, t := range v.Tools {
		out = append(out, mark(network.Meets(t.Ratio)))
		if worth += share(t.Ratio); network.Meets(t.Ratio) {
			worth += g.point()
		}
	}
	out = append(out, mark(len(v.Fast) == 0), mark(len(v.Backward)+len(v.Blown) == 0), mark(motorHolds(v)))
	if holdsOthers(v) {
		worth += g.point()
	}
	for _, d := range v.Dust {
		out = append(out, mark(network.Meets(d.Ratio)))
	}
	return string(out), worth
}

// holdsOthers reports whether a verdict meets all rules but those on flows.
func holdsOthers(v *network.Verdict) bool {
	return network.Meets(v.DustRatio()) && len(v.Fast)+len(v.Backward)+len(v.Blown) == 0 && motorHolds(v)
}

// motorHolds reports whether a motor is within its rating, or cannot be checked.
func motorHolds(v *network.Verdict) bool {
	m := v.Motor
	return !m.Checked || m.Load <= 0 || network.Meets(float64(m.Rating/m.Load))
}

// eval tries a shop; nil where no such shop is sold or does not settle, or
// where a limit came first.
func (g *stager) eval(shop *partial) *shopEval {
	if e, ok := g.evals[shop.set]; ok || g.halted() {
		return e
	}
	g.stats.Nodes++
	e := g.try(shop)
	g.evals[shop.set] = e
	return e
}

func (g *stager) try(shop *partial) *shopEval {
	pick := shop.pick
	if _, _, sold := g.p.Cost(pick); !sold || !shop.built {
		return nil
	}
	e := &shopEval{}
	loaded := false
	for s := range g.states {
		if o, _ := g.judge.best(s, pick); o >= 0 && g.judge.ok(g.judge.scores(s, o, pick)) {
			all := g.states[s].all
			e.states = append(e.states, []opened{{o, all, g.full(s), 1}})
			continue
		}
		if !loaded {
			g.solver.Reset(g.p.Network(pick))
			loaded = true
		}
		var list []opened
		for o := range g.judge.openings[s] {
			op := &g.judge.openings[s][o]
			if !g.p.offered(op, pick) {
				continue
			}
			g.stats.Solves++
			if _, v, err := g.solver.Check(context.WithoutCancel(g.ctx), op.c, g.p.limits(s)); err == nil {
				met, worth := g.marks(s, v)
				list = append(list, opened{o, met, worth, network.OnGrid(g.judge.worst(g.judge.scores(s, o, pick)))})
			}
		}
		if len(list) == 0 {
			return nil
		}
		e.states = append(e.states, list)
	}
	return e
}
