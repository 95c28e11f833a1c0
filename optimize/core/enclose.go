package core

import (
	"math"
	"math/bits"
)

// slack is the relative distance by which bounds must cross before something
// is excluded: above grain and the rounding of sums.
const slack = 4e-9

// enclosure encloses flows and suctions of one state over all plans of the
// domains that meet it. Suctions are below the room's pressure.
type enclosure struct {
	low, high       []float64 // resistance of a run with all that flows into it
	topLow, topHigh []float64 // the same without the run itself
	flow, most      []float64 // least and largest flow
	floor, ceil     []float64 // least and largest suction at the upstream end
	fanFlow         float64   // least flow at the fan
	fanCeil         float64   // largest pressure there
	fanMost         float64   // largest flow there
}

// encloser shrinks domains to what the enclosures allow.
type encloser struct {
	e        *Evaluator
	dom      []uint64
	low      []float64 // per run: least and largest resistance, least area
	high     []float64
	area     []float64
	state    []enclosure
	dirty    []bool
	affects  [][]int // per run: the states in which it moves
	spent    [][]float64
	room     [][]float64
	fan      []int
	excluded int // options struck out so far
}

func newEncloser(e *Evaluator) *encloser {
	n := len(e.p.Runs)
	row := func() []float64 { return make([]float64, n) }
	x := &encloser{e: e, dom: make([]uint64, n), low: row(), high: row(), area: row(), affects: make([][]int, n)}
	for s := range e.p.States {
		x.state = append(x.state, enclosure{low: row(), high: row(), topLow: row(), topHigh: row(),
			flow: row(), most: row(), floor: row(), ceil: row()})
		for _, i := range e.live[s] {
			x.affects[i] = append(x.affects[i], s)
		}
	}
	for range e.p.Loadings {
		x.spent, x.room = append(x.spent, row()), append(x.room, row())
	}
	for i := range e.p.Runs {
		if e.p.Runs[i].Parent < 0 {
			x.fan = append(x.fan, i)
		}
	}
	x.dirty = make([]bool, len(e.p.States))
	return x
}

// install takes domains and marks every state as to be done.
func (x *encloser) install(dom []uint64) {
	for i, d := range dom {
		x.dom[i] = 0
		x.set(i, d)
	}
}

// set gives a run another domain.
func (x *encloser) set(i int, d uint64) {
	if x.dom[i] == d {
		return
	}
	x.dom[i] = d
	low, high, area := math.Inf(1), 0.0, math.Inf(1)
	for ; d != 0; d &= d - 1 {
		o := &x.e.p.Runs[i].Options[bits.TrailingZeros64(d)]
		low, high, area = min(low, o.Resistance), max(high, o.Resistance), min(area, o.Area)
	}
	if low == x.low[i] && high == x.high[i] && area == x.area[i] {
		return
	}
	x.low[i], x.high[i], x.area[i] = low, high, area
	for _, s := range x.affects[i] {
		x.dirty[s] = true
	}
}

// shrink repeats until nothing more goes. It reports false where no plan of
// the domains can meet everything.
func (x *encloser) shrink() bool {
	for again := true; again; {
		again = false
		for s := range x.state {
			if !x.dirty[s] {
				continue
			}
			x.dirty[s] = false
			if !x.upward(s) || !x.downward(s) {
				return false
			}
			again = true
		}
		for l := range x.spent {
			ok, changed := x.path(l)
			if !ok {
				return false
			}
			again = again || changed
		}
	}
	return true
}

// gather joins runs that meet: the least suction there, the least sum of
// flows, and the conductance with all resistances high and low. A run that
// leads to a running tool must get what that requires, whatever hogs beside
// it: flow grows with suction.
func (x *encloser) gather(s int, runs []int) (floor, flow, weak, strong float64) {
	c, l := &x.state[s], &x.e.law
	for _, i := range runs {
		if !x.e.moves[s][i] {
			continue
		}
		weak += l.conductance(c.high[i])
		strong += l.conductance(c.low[i])
		if x.e.running[s][i] {
			floor = max(floor, c.floor[i]+x.low[i]*l.pow(c.flow[i]))
		}
	}
	root := l.root(floor)
	for _, i := range runs {
		if x.e.moves[s][i] {
			c.flow[i] = max(c.flow[i], root*l.conductance(c.high[i]))
			flow += c.flow[i]
		}
	}
	return floor, flow, weak, strong
}

// upward finds from the tools to the fan the least flows and suctions.
func (x *encloser) upward(s int) bool {
	c, e, l := &x.state[s], x.e, &x.e.law
	live := e.live[s]
	for j := len(live) - 1; j >= 0; j-- {
		i := live[j]
		c.topLow[i], c.topHigh[i], c.flow[i], c.floor[i] = 0, 0, 0, 0
		if k := e.tool[i]; k >= 0 {
			if !e.open[s][i] {
				c.topLow[i], c.topHigh[i] = e.p.Tools[k].Leak, e.p.Tools[k].Leak
			} else if e.running[s][i] {
				c.flow[i] = e.p.Tools[k].Flow * e.scale
			}
		} else {
			floor, flow, weak, strong := x.gather(s, e.children[i])
			c.topLow[i], c.topHigh[i] = l.resistance(strong), l.resistance(weak)
			if e.running[s][i] {
				c.floor[i], c.flow[i] = floor, flow
			}
		}
		if e.running[s][i] {
			c.flow[i] = max(c.flow[i], e.p.States[s].Transport*x.area[i])
			c.floor[i] = max(c.floor[i], c.topLow[i]*l.pow(c.flow[i]))
		}
		c.low[i], c.high[i] = c.topLow[i]+x.low[i], c.topHigh[i]+x.high[i]
	}
	floor, flow, weak, strong := x.gather(s, x.fan)
	if weak == 0 {
		return true
	}
	f := e.p.Fan
	flow = max(flow, l.operate(f, l.resistance(weak)))
	most := l.operate(f, l.resistance(strong))
	if floor > f.Pressure(flow)+slack*f.Head || flow > most*(1+slack) {
		return false
	}
	c.fanFlow, c.fanCeil, c.fanMost = flow, f.Pressure(min(flow, most)), most
	return true
}

// downward goes back from the fan to the tools with the largest flows and
// suctions, and strikes out the options that do not fit between.
func (x *encloser) downward(s int) bool {
	c, e := &x.state[s], x.e
	if len(e.live[s]) == 0 {
		return true
	}
	if !x.divide(s, x.fan, e.p.Fan.Pressure(c.fanMost), c.fanCeil, c.fanMost) {
		return false
	}
	for _, i := range e.live[s] {
		if len(e.children[i]) > 0 && !x.divide(s, e.children[i], c.floor[i], c.ceil[i], c.most[i]) {
			return false
		}
	}
	return true
}

// divide bounds the runs that meet at a point with suction floor…ceil, where
// they together carry most at most.
func (x *encloser) divide(s int, runs []int, floor, ceil, most float64) bool {
	c, e, l := &x.state[s], x.e, &x.e.law
	// A suction is a difference of larger ones: through next to no resistance
	// its rounding would be a flow.
	sum, root := 0.0, l.root(max(floor-slack*e.p.Fan.Head, 0))
	for _, i := range runs {
		if e.moves[s][i] {
			c.flow[i] = max(c.flow[i], root*l.conductance(c.high[i]))
			sum += c.flow[i]
		}
	}
	for _, i := range runs {
		if !e.moves[s][i] {
			continue
		}
		c.most[i] = min(l.root(max(ceil, 0)/c.low[i]), most-sum+c.flow[i])
		if c.flow[i] > c.most[i]+slack*(c.most[i]+most) {
			return false
		}
		if e.open[s][i] && !x.strike(s, i, root, ceil, slack*most) {
			return false
		}
		c.ceil[i] = min(ceil-x.low[i]*l.pow(c.flow[i]), c.topHigh[i]*l.pow(c.most[i]))
		c.floor[i] = max(c.floor[i], floor-x.high[i]*l.pow(c.most[i]), c.topLow[i]*l.pow(c.flow[i]))
	}
	return true
}

// strike takes out of a run's domain the options that would need more suction
// or flow than there can be.
func (x *encloser) strike(s, i int, root, ceil, rounding float64) bool {
	c, e, l := &x.state[s], x.e, &x.e.law
	keep, running := x.dom[i], e.running[s][i]
	transport := 0.0
	if running {
		transport = e.p.States[s].Transport
	}
	limit, room := c.most[i]*(1+slack)+rounding, ceil+slack*e.p.Fan.Head
	for d := keep; d != 0; d &= d - 1 {
		o := bits.TrailingZeros64(d)
		opt := &e.p.Runs[i].Options[o]
		q := max(c.flow[i], transport*opt.Area, root*l.conductance(opt.Resistance+c.topHigh[i]))
		up := l.pow(q)
		if q > limit || max(c.floor[i], c.topLow[i]*up)+opt.Resistance*up > room {
			keep &^= 1 << o
		}
	}
	if keep != x.dom[i] {
		x.excluded += bits.OnesCount64(x.dom[i] &^ keep)
		if keep == 0 {
			return false
		}
		x.set(i, keep)
	}
	return true
}

// path does the same for a loading: what is spent at least, and the room left.
func (x *encloser) path(k int) (ok, changed bool) {
	e := x.e
	ld, spent, room := &e.p.Loadings[k], x.spent[k], x.room[k]
	for i := len(room) - 1; i >= 0; i-- {
		room[i] = ld.Limit[i] + slack*math.Abs(ld.Limit[i])
		for _, c := range e.children[i] {
			room[i] = min(room[i], room[c]-x.low[c]*e.law.pow(ld.Flow[c]))
		}
	}
	for i := range spent {
		from, power := 0.0, e.law.pow(ld.Flow[i])
		if q := e.p.Runs[i].Parent; q >= 0 {
			from = spent[q]
		}
		keep := x.dom[i]
		for d := keep; d != 0; d &= d - 1 {
			if o := bits.TrailingZeros64(d); from+e.p.Runs[i].Options[o].Resistance*power > room[i] {
				keep &^= 1 << o
			}
		}
		if keep == 0 {
			return false, false
		}
		if keep != x.dom[i] {
			x.excluded += bits.OnesCount64(x.dom[i] &^ keep)
			x.set(i, keep)
			changed = true
		}
		spent[i] = from + x.low[i]*power
	}
	return true, changed
}
