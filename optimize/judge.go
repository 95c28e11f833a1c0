package optimize

import (
	"context"
	"math/bits"
	"slices"

	"wyewright/network"
)

// opening is one way to run a state: the running tools and a set of
// companions.
type opening struct {
	companions []int // indices into Problem.Companion
	c          *network.Case
	// matters lists the choices on which the answer depends.
	matters []int
}

// judge answers whether plans meet the limits. It asks the network solver and
// remembers, per state and opening, what it said for every combination of the
// choices that matter there.
type judge struct {
	p        *Problem
	box      *network.Box
	openings [][]opening // per state
	memo     [][]map[string]network.Scores
	solver   *network.Solver
	plan     []int // pick of the network in solver
	planned  bool
	key      []byte
	stats    *Stats
	// flow is the share of the required flow that must be reached.
	flow float64
	// doubt judges the shops that this one may be instead; usually nil.
	doubt *others
	// draw limits the fan power of plans; usually nil.
	draw *draw
}

// setFlow sets the share of the required flow that must be reached.
func (j *judge) setFlow(flow float64) {
	j.flow = flow
	if j.doubt != nil {
		for _, o := range j.doubt.judges {
			o.flow = flow
		}
	}
}

// holds reports whether scores meet the limits, and the state is met in enough
// of the shops in doubt.
func (j *judge) holds(state, open int, pick []int) bool {
	return j.ok(j.scores(state, open, pick)) && (j.doubt == nil || j.doubt.likely(state, open, pick))
}

func newJudge(p *Problem, stats *Stats) (*judge, error) {
	j := &judge{p: p, stats: stats, flow: 1, box: newBox(p), solver: network.NewSolver(p.Base, nil)}
	for s := range p.States {
		list, err := j.open(s)
		if err != nil {
			return nil, err
		}
		j.openings = append(j.openings, list)
		memo := make([]map[string]network.Scores, len(list))
		for i := range memo {
			memo[i] = map[string]network.Scores{}
		}
		j.memo = append(j.memo, memo)
	}
	return j, nil
}

// newBox is the box of all plans.
func newBox(p *Problem) *network.Box {
	spec := p.Base.Spec()
	runs := make([][]network.Run, len(spec.Runs))
	for i := range p.Choices {
		c := &p.Choices[i]
		if c.Run < 0 {
			continue
		}
		for a := range c.Alternatives {
			v := p.Base.With(c.Alternatives[a].Changes...)
			runs[c.Run] = append(runs[c.Run], v.Spec().Runs[c.Run])
		}
	}
	box := network.NewBox(p.Base, runs)
	for i := range p.Choices {
		p.setDomain(box, i, 1<<len(p.Choices[i].Alternatives)-1)
	}
	return box
}

// setDomain tells a box which alternatives of a choice are left.
func (p *Problem) setDomain(box *network.Box, choice int, domain uint64) {
	c := &p.Choices[choice]
	if c.Run >= 0 {
		box.Domain[c.Run] = domain
		return
	}
	first := true
	for d := domain; d != 0; d &= d - 1 {
		box.Widen(first, c.Alternatives[bits.TrailingZeros64(d)].settled...)
		first = false
	}
}

// settle fills, for a choice about openings, what every alternative makes of
// all the openings that the choice speaks of.
func (p *Problem) settle(c *Choice) {
	if c.Run >= 0 {
		return
	}
	spec := p.Base.Spec()
	var asFound []network.Change
	for _, a := range c.Alternatives {
		for _, ch := range a.Changes {
			switch ch := ch.(type) {
			case network.SetLeak:
				asFound = append(asFound, network.SetLeak{Leak: ch.Leak, Area: spec.Leaks[ch.Leak].Area})
			case network.SetGate:
				asFound = append(asFound, network.SetGate{Tool: ch.Tool, Port: ch.Port, Leak: spec.Tools[ch.Tool].Ports[ch.Port].Gate.Leak})
			case network.SetBleed:
				asFound = append(asFound, network.SetBleed{Bleed: ch.Bleed, Leak: spec.Bleeds[ch.Bleed].Leak})
			}
		}
	}
	for i := range c.Alternatives {
		a := &c.Alternatives[i]
		a.settled = slices.Clone(a.Changes)
		for _, ch := range asFound {
			if !slices.ContainsFunc(a.Changes, func(own network.Change) bool { return sameOpening(own, ch) }) {
				a.settled = append(a.settled, ch)
			}
		}
	}
}

// sameOpening reports whether two changes speak of one opening.
func sameOpening(a, b network.Change) bool {
	switch a := a.(type) {
	case network.SetLeak:
		b, ok := b.(network.SetLeak)
		return ok && a.Leak == b.Leak
	case network.SetGate:
		b, ok := b.(network.SetGate)
		return ok && a.Tool == b.Tool && a.Port == b.Port
	case network.SetBleed:
		b, ok := b.(network.SetBleed)
		return ok && a.Bleed == b.Bleed
	}
	return false
}

// open lists the openings of a state: the running tools alone, then with one
// companion, then with two, up to the allowed number.
func (j *judge) open(state int) ([]opening, error) {
	p := j.p
	st := p.States[state]
	base, err := p.Base.Case(st)
	if err != nil {
		return nil, err
	}
	var free []int
	for i, c := range p.Companion {
		if !slices.Contains(st.Running, c.Name) && !slices.Contains(st.Open, c.Name) {
			free = append(free, i)
		}
	}
	var out []opening
	var add func(from int, set []int, size int)
	add = func(from int, set []int, size int) {
		if len(set) == size {
			out = append(out, j.opening(base, set))
			return
		}
		for k := from; k < len(free); k++ {
			if !p.clash(set, free[k]) {
				add(k+1, append(set, free[k]), size)
			}
		}
	}
	for size := 0; size <= p.Companions; size++ {
		add(0, nil, size)
	}
	return out, nil
}

// affects lists, per choice, the states in which it matters to some opening, or
// builds what one opens.
func (j *judge) affects() [][]int {
	out := make([][]int, len(j.p.Choices))
	for s := range j.openings {
		seen := make([]bool, len(out))
		for o := range j.openings[s] {
			for _, i := range j.openings[s][o].matters {
				seen[i] = true
			}
			for _, k := range j.openings[s][o].companions {
				if c := j.p.Companion[k].Choice; c >= 0 {
					seen[c] = true
				}
			}
		}
		for i, yes := range seen {
			if yes || j.doubt != nil { // in other shops more may matter
				out[i] = append(out[i], s)
			}
		}
	}
	return out
}

// clash reports whether a companion needs another alternative of a choice
// that one of a set needs too.
func (p *Problem) clash(set []int, k int) bool {
	c := &p.Companion[k]
	for _, i := range set {
		if o := &p.Companion[i]; o.Choice >= 0 && o.Choice == c.Choice {
			return true
		}
	}
	return false
}

func (j *judge) opening(base *network.Case, set []int) opening {
	p := j.p
	o := opening{companions: slices.Clone(set), c: base.Clone()}
	for _, k := range set {
		if c := &p.Companion[k]; c.Tool >= 0 {
			p.Base.OpenTool(o.c, c.Tool)
		} else {
			p.Base.OpenBleed(o.c, c.Bleed)
		}
	}
	touched := j.box.Touched(o.c)
	for i := range p.Choices {
		c := &p.Choices[i]
		if c.Run >= 0 && !touched[c.Run] {
			continue
		}
		if c.Kind == BleedChoice && p.bleedsTight(c) {
			continue // which one is open is part of the opening itself
		}
		o.matters = append(o.matters, i)
	}
	return o
}

// bleedsTight reports whether no bleed of a choice leaks when shut.
func (p *Problem) bleedsTight(c *Choice) bool {
	for _, a := range c.Alternatives {
		for _, ch := range a.Changes {
			if b, ok := ch.(network.SetBleed); ok && b.Leak > 0 {
				return false
			}
		}
	}
	return true
}

// offered reports whether a plan has what an opening opens.
func (p *Problem) offered(o *opening, pick []int) bool {
	for _, k := range o.companions {
		if c := &p.Companion[k]; c.Choice >= 0 && pick[c.Choice] != c.Alternative {
			return false
		}
	}
	return true
}

// scores judges one state and opening of a plan. A solve takes microseconds
// and is never interrupted: half an answer would look like a miss.
func (j *judge) scores(state, open int, pick []int) network.Scores {
	o := &j.openings[state][open]
	j.key = j.key[:0]
	for _, i := range o.matters {
		j.key = append(j.key, byte(pick[i]))
	}
	if s, ok := j.memo[state][open][string(j.key)]; ok {
		return s
	}
	key := string(j.key)
	j.load(pick)
	s := j.solver.Score(context.Background(), o.c, j.p.limits(state))
	j.stats.Solves++
	j.memo[state][open][key] = s
	return s
}

// load puts a plan's network into the solver.
func (j *judge) load(pick []int) {
	if j.planned && slices.Equal(pick, j.plan) {
		return
	}
	j.solver.Reset(j.p.Network(pick))
	j.plan, j.planned = append(j.plan[:0], pick...), true
}

// Network builds the shop of a plan.
func (p *Problem) Network(pick []int) *network.Network {
	var changes []network.Change
	for i, a := range pick {
		changes = append(changes, p.Choices[i].Alternatives[a].Changes...)
	}
	return p.Base.With(changes...)
}

// ok reports whether scores meet the limits at the judge's share of the flow.
func (j *judge) ok(s network.Scores) bool {
	s.Flow /= j.flow
	return s.OK()
}

// worst is the least ratio of a state and opening, 0 where it cannot be used.
func (j *judge) worst(s network.Scores) float64 {
	if !s.Status.OK() {
		return 0
	}
	if s.Backward {
		return min(0.5, s.Flow/j.flow)
	}
	return min(s.Flow/j.flow, s.Dust, s.Ceiling, s.Motor)
}

// state reports whether a plan meets a state in some opening.
func (j *judge) state(state int, pick []int) bool {
	for o := range j.openings[state] {
		if j.p.offered(&j.openings[state][o], pick) && j.holds(state, o, pick) {
			return true
		}
	}
	return false
}

// best finds the opening of a state that serves a plan best: of those with
// the fewest companions that meet the limits the one with the most to spare,
// else the one that comes closest.
func (j *judge) best(state int, pick []int) (open int, worst float64) {
	open, worst = -1, -1
	met, size := false, 0
	for o := range j.openings[state] {
		op := &j.openings[state][o]
		if met && len(op.companions) > size {
			break
		}
		if !j.p.offered(op, pick) {
			continue
		}
		s := j.scores(state, o, pick)
		w, ok := j.worst(s), j.holds(state, o, pick)
		if !ok && j.ok(s) {
			w = min(w, j.doubt.edge(state, o, pick))
		}
		w = network.OnGrid(w)
		if ok && !met {
			met, size, open, worst = true, len(op.companions), o, w
		} else if ok == met && w > worst {
			open, worst = o, w
		}
	}
	return open, worst
}

// meets reports whether a plan meets every state.
func (j *judge) meets(pick []int) bool {
	j.stats.Judged++
	for s := range j.openings {
		if !j.state(s, pick) {
			return false
		}
	}
	return j.draw.beyond(pick) == 0
}

// miss sums over the states what a plan lacks at its best opening.
func (j *judge) miss(pick []int) float64 {
	j.stats.Judged++
	sum := 0.0
	for s := range j.openings {
		if !j.state(s, pick) {
			_, w := j.best(s, pick)
			sum += max(1e-6, 1-w)
		}
	}
	return sum + j.draw.beyond(pick)
}
