package optimize

import (
	"cmp"
	"context"
	"fmt"
	"math/bits"
	"slices"
	"time"

	"wyewright/network"
	"wyewright/optimize/price"
)

// search is one run of the branch and bound.
type search struct {
	ctx   context.Context
	p     *Problem
	set   Settings
	judge *judge
	costs *costs
	stats Stats
	start time.Time

	dom     []uint64
	order   []int // branching order of the choices
	witness []int // per state: the opening that passed last
	// concern lists the states in which a choice's run carries dust; support
	// is, per choice, alternative and state, the opening that passed last.
	concern [][]int
	// affects lists the states in which a choice matters to some opening.
	affects [][]int
	support [][][]int32
	best    *Plan
	limit   weight // plans must be lighter than this
	ceiling weight // a limit from outside, never where there is none
	// allow, if set, are the only alternatives that may be used; few, if above
	// 0, is the largest number of changes.
	allow []uint64
	few   int
	// any ends the search with the first plan that meets every rule.
	any     bool
	bare    bool   // no plan is guessed first: what is found is found by the proof alone
	open    weight // least bound of nodes left unexplored by a stop
	stopped bool
	depth   []nodeWork
	// closest is the plan that misses least.
	closest     []int
	closestMiss float64
	// warm lists plans to try first.
	warm [][]int
	// thrift is set where energy counts or fan power is limited.
	thrift *thrift
	// rootBound is the bound proved at the root.
	rootBound price.Money
	// dual is the cost bound with the rules of the states priced in, nil where
	// that gains nothing.
	dual *dual
	// quota is the number of nodes at which the search of a neighbourhood ends,
	// 0 for no limit; many the number of open choices above which there is one.
	quota, many int
}

// nodeWork is what one level of the tree keeps.
type nodeWork struct {
	dom  []uint64
	kids []kid
}

type kid struct {
	a     int
	bound weight
}

func newSearch(ctx context.Context, p *Problem, s *Settings) (*search, error) {
	x := &search{ctx: ctx, p: p, many: manyChoices, limit: never, ceiling: never, open: never, costs: newCosts(p)}
	if s != nil {
		x.set = *s
	}
	if x.set.Energy != nil {
		return nil, fmt.Errorf("%w: only Solve and FrontPower reckon with it", ErrEnergy)
	}
	if x.set.Flow == 0 {
		x.set.Flow = 1
	}
	if x.set.Clock != nil {
		x.start = x.set.Clock()
	}
	j, err := newJudge(p, &x.stats)
	if err != nil {
		return nil, err
	}
	x.judge = j
	if d := x.set.Doubt; d != nil {
		if err := d.check(p); err != nil {
			return nil, err
		}
		if j.doubt, err = newOthers(d, &x.stats); err != nil {
			return nil, err
		}
		from := make([]int, len(p.Choices))
		if len(x.set.Known) > 0 {
			copy(from, x.set.Known[0])
		}
		j.doubt.rank(from)
	}
	x.judge.setFlow(x.set.Flow)
	for _, pick := range x.set.Known {
		if len(pick) != len(p.Choices) {
			return nil, fmt.Errorf("optimize: a known plan of %d choices for %d", len(pick), len(p.Choices))
		}
		x.warm = append(x.warm, slices.Clone(pick))
	}
	x.reset()
	return x, nil
}

// reset prepares for a search with the judge's memory kept.
func (x *search) reset() {
	p := x.p
	x.dom = make([]uint64, len(p.Choices))
	for i := range p.Choices {
		x.dom[i] = 1<<len(p.Choices[i].Alternatives) - 1
		if len(p.Choices[i].Alternatives) == network.MaxAlternatives {
			x.dom[i] = ^uint64(0)
		}
		x.dom[i] &^= p.Choices[i].barred
		if x.allow != nil {
			x.dom[i] &= x.allow[i]
		}
	}
	x.witness = make([]int, len(p.States))
	x.order = branching(p)
	x.concern = make([][]int, len(p.Choices))
	x.support = make([][][]int32, len(p.Choices))
	x.affects = x.judge.affects()
	for i := range p.Choices {
		for s := range p.States {
			if c := &p.Choices[i]; c.Run >= 0 && p.Base.CarriesDust(x.judge.openings[s][0].c, c.Run) {
				x.concern[i] = append(x.concern[i], s)
			}
		}
		x.support[i] = make([][]int32, len(p.Choices[i].Alternatives))
		for a := range x.support[i] {
			x.support[i][a] = make([]int32, len(p.States))
		}
	}
	x.depth = make([]nodeWork, len(p.Choices)+1)
	for i := range x.depth {
		x.depth[i].dom = make([]uint64, len(p.Choices))
	}
	x.limit, x.open, x.stopped, x.best, x.dual = x.ceiling, never, false, nil, nil
	x.thrift.reset()
}

// branching orders the choices: ducts that many tools share before those of
// single tools, nearer the collector first; leaks, gates and bleeds between the two.
func branching(p *Problem) []int {
	order := make([]int, len(p.Choices))
	rank := make([]int, len(p.Choices))
	tools := len(p.Base.Spec().Tools)
	for i := range order {
		order[i] = i
		c := &p.Choices[i]
		if c.Run < 0 {
			rank[i] = 3
			continue
		}
		for k := range tools {
			if p.Base.ToolsUpstream(c.Run, k) {
				rank[i] += 2
			}
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return rank[b] - rank[a] })
	return order
}

// halted reports whether a limit or the caller ends the search.
func (x *search) halted() bool {
	if x.stopped || x.any && x.best != nil || x.quota > 0 && x.stats.Nodes >= x.quota {
		return true
	}
	if x.set.MaxNodes > 0 && x.stats.Nodes >= x.set.MaxNodes || x.ctx.Err() != nil ||
		x.set.Clock != nil && x.set.TimeLimit > 0 && x.set.Clock().Sub(x.start) > x.set.TimeLimit {
		x.stopped, x.stats.Stopped = true, true
	}
	return x.stopped
}

// install tells the box about the domains.
func (x *search) install() {
	for i := range x.dom {
		x.p.setDomain(x.judge.box, i, x.dom[i])
	}
}

// narrow sets one domain and tells the box.
func (x *search) narrow(choice int, d uint64) {
	x.dom[choice] = d
	x.p.setDomain(x.judge.box, choice, d)
}

// possible reports whether each state may still be met by some plan of the
// domains. Where every choice that matters to an opening is settled, the
// judge itself answers.
func (x *search) possible() bool {
	for s := range x.judge.openings {
		if !x.statePossible(s) {
			return false
		}
	}
	return true
}

// stillPossible is possible for some states.
func (x *search) stillPossible(states []int) bool {
	for _, s := range states {
		if !x.statePossible(s) {
			return false
		}
	}
	return true
}

func (x *search) statePossible(s int) bool {
	if x.openingPossible(s, x.witness[s]) {
		return true
	}
	for o := range x.judge.openings[s] {
		if o != x.witness[s] && x.openingPossible(s, o) {
			x.witness[s] = o
			return true
		}
	}
	return false
}

func (x *search) openingPossible(s, o int) bool {
	op := &x.judge.openings[s][o]
	if !x.buildable(op) {
		return false
	}
	if x.settled(op) {
		return x.judge.holds(s, o, picked(x.dom))
	}
	return x.judge.box.Possible(op.c, x.p.limits(s), x.set.Flow) && (x.judge.doubt == nil || x.judge.doubt.possible(x, s, o))
}

// settled reports whether all choices that matter to an opening are.
func (x *search) settled(op *opening) bool {
	for _, i := range op.matters {
		if x.dom[i]&(x.dom[i]-1) != 0 {
			return false
		}
	}
	return true
}

// picked takes the first alternative of each domain.
func picked(dom []uint64) []int {
	out := make([]int, len(dom))
	for i, d := range dom {
		out[i] = bits.TrailingZeros64(d)
	}
	return out
}

// dive explores the plans of the current domains. level counts the settled
// choices.
func (x *search) dive(level int) {
	x.stats.Nodes++
	x.thrift.keep(level)
	defer x.thrift.back(level)
	bound := plus(x.costs.bound(x.dom), x.due())
	if bound >= x.limit {
		return
	}
	if x.dual != nil {
		if bound = max(bound, plus(x.dual.bound(x.dom), x.due())); bound >= x.limit {
			return
		}
	}
	if x.halted() {
		x.open = min(x.open, bound)
		return
	}
	if x.crowded() || !x.trim() || !x.possible() || !x.shave() || !x.boundPower() {
		return
	}
	x.report()
	choice := x.next()
	if choice < 0 {
		x.found()
		return
	}
	// The bound's marginals are of this node: copy them before going down.
	w := &x.depth[level]
	copy(w.dom, x.dom)
	w.kids = w.kids[:0]
	for d := x.dom[choice]; d != 0; d &= d - 1 {
		a := bits.TrailingZeros64(d)
		w.kids = append(w.kids, kid{a, plus(x.costs.marginal[choice][a], x.due())})
	}
	slices.SortStableFunc(w.kids, func(a, b kid) int { return cmp.Compare(a.bound, b.bound) })
	for _, k := range w.kids {
		if k.bound >= x.limit {
			continue
		}
		x.narrow(choice, 1<<k.a)
		x.dive(level + 1)
		for i := range x.dom {
			if x.dom[i] != w.dom[i] {
				x.narrow(i, w.dom[i])
			}
		}
	}
}

// crowded reports whether more choices than may be changed cannot stay as they
// are.
func (x *search) crowded() bool {
	changes := 0
	for _, d := range x.dom {
		if d&1 == 0 {
			changes++
		}
	}
	return x.few > 0 && changes > x.few
}

// shave drops, for every run that is not settled, the alternatives with which
// a state that it carries dust in cannot be met. It reports false when a run
// has none left.
func (x *search) shave() bool {
	for _, i := range x.order {
		keep := x.dom[i]
		if keep&(keep-1) == 0 || len(x.concern[i]) == 0 {
			continue
		}
		for d := keep; d != 0; d &= d - 1 {
			a := bits.TrailingZeros64(d)
			x.narrow(i, 1<<a)
			for _, s := range x.concern[i] {
				if !x.supported(i, a, s) {
					keep &^= 1 << a
					break
				}
			}
		}
		if keep == 0 {
			return false
		}
		x.narrow(i, keep)
	}
	return true
}

// supported is statePossible for an alternative, trying first the opening
// that served it last.
func (x *search) supported(choice, a, s int) bool {
	last := &x.support[choice][a][s]
	if x.openingPossible(s, int(*last)) {
		return true
	}
	for o := range x.judge.openings[s] {
		if o != int(*last) && x.openingPossible(s, o) {
			*last = int32(o)
			return true
		}
	}
	return false
}

// trim drops the alternatives that cost too much with anything else.
func (x *search) trim() bool {
	for i := range x.dom {
		keep := x.dom[i]
		for d := keep; d != 0; d &= d - 1 {
			if a := bits.TrailingZeros64(d); plus(x.costs.marginal[i][a], x.due()) >= x.limit || x.dual != nil && plus(x.dual.marginal(i, a), x.due()) >= x.limit {
				keep &^= 1 << a
			}
		}
		if keep != x.dom[i] {
			if keep == 0 {
				return false
			}
			x.narrow(i, keep)
		}
	}
	return true
}

// next is the first choice that is not settled, −1 for none.
func (x *search) next() int {
	for _, i := range x.order {
		if x.dom[i]&(x.dom[i]-1) != 0 {
			return i
		}
	}
	return -1
}

// found takes a settled plan whose states the judge has passed.
func (x *search) found() {
	x.offer(picked(x.dom))
}

// offer makes a plan that meets every state the best one if it is lighter.
func (x *search) offer(pick []int) {
	cost, changes, sold := x.p.Cost(pick)
	if w := weigh(cost, changes); sold && x.p.may(pick) && w < x.limit && (x.few == 0 || changes <= x.few) && x.judge.meets(pick) {
		bill := x.bill(pick)
		if w += bill; w >= x.limit {
			return
		}
		x.limit = w
		x.best = &Plan{Pick: slices.Clone(pick), Cost: cost, Energy: bill.money(), Changed: changes}
		x.tell()
	}
}

// probeRounds is the largest number of passes of probing.
const probeRounds = 3

// probe drops, at the root, every alternative with which some state cannot be
// met or the cost is too high, until nothing more goes. It reports false when
// a choice has none left.
func (x *search) probe() bool {
	for range probeRounds {
		before := slices.Clone(x.dom)
		if plus(x.costs.bound(x.dom), x.due()) >= x.limit || !x.trim() || !x.probeOnce() || !x.boundPower() {
			return false
		}
		if slices.Equal(before, x.dom) {
			break
		}
	}
	return true
}

// probeOnce is one pass over all alternatives.
func (x *search) probeOnce() bool {
	if !x.possible() {
		return false
	}
	for _, i := range x.order {
		keep := x.dom[i]
		if keep&(keep-1) == 0 {
			continue
		}
		for d := keep; d != 0; d &= d - 1 {
			if x.halted() {
				break
			}
			a := bits.TrailingZeros64(d)
			x.narrow(i, 1<<a)
			if !x.stillPossible(x.affects[i]) || x.wasteful(i, a) {
				keep &^= 1 << a
			}
		}
		if keep == 0 {
			return false
		}
		x.narrow(i, keep)
	}
	return true
}

// tell reports progress at once, report only now and then.
func (x *search) tell() {
	if x.set.Progress == nil {
		return
	}
	pr := Progress{Nodes: x.stats.Nodes, Judged: x.stats.Judged}
	if x.best != nil {
		pr.HasBest, pr.Best = true, x.best.Total()
	}
	pr.Bound = x.rootBound
	x.set.Progress(pr)
}

// reportEvery is the number of nodes between two words of progress.
const reportEvery = 256

func (x *search) report() {
	if x.stats.Nodes%reportEvery == 0 {
		x.tell()
	}
}
