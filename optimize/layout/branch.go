package layout

import (
	"context"
	"fmt"
	"math"
	"slices"

	"wyewright/optimize/core"
)

// ban forbids something at a point: that terminal a passes it, or with b ≥ 0
// that a leaves it without b or b without a.
type ban struct{ point, a, b int }

// node is a part of all trees: those that keep to its bans.
type node struct {
	bound  int64
	number int
	tries  int // runs that found nothing below a trial cost
	bans   []ban
}

func (n *node) before(o *node) bool {
	if n.bound != o.bound {
		return n.bound < o.bound
	}
	return n.number > o.number // deeper first
}

// search is branch and bound over bans.
type search struct {
	ctx        context.Context
	m          *model
	maxNodes   int
	labelsLeft int
	labels     int
	nodes      int
	clashes    int
	number     int
	prices     []*prices
	open       queue[node]
	best       []Pick
	cost       int64 // of best, or more than any tree costs
	stopped    bool
	bound      int64           // least bound of what a stop left open
	tried      map[string]bool // trees that have been sized
	scouting   bool
}

func (s *search) run() {
	s.cost = s.m.allCosts()
	s.tried = map[string]bool{}
	if len(s.m.start) == 0 {
		s.best, s.cost = []Pick{}, 0
		return
	}
	s.open.before = (*node).before
	s.open.push(node{bound: s.price()})
	for len(s.open.heap) > 0 && s.open.heap[0].bound < s.cost {
		at := s.open.pop()
		if s.stopped = s.stopped || s.ctx.Err() != nil || s.maxNodes > 0 && s.nodes >= s.maxNodes; !s.stopped {
			s.visit(at)
		}
		if s.stopped {
			s.bound = at.bound
			return
		}
	}
}

// visit solves a node and branches where its answer is no tree.
func (s *search) visit(at node) {
	if s.best == nil && !s.scouting && at.tries >= scoutTries && s.scout(at.tries) {
		s.open.heap = nil
		return
	}
	s.nodes++
	p := s.program()
	p.prices = s.prices
	p.leave = s.m.leaving(at.bans)
	p.cutoff = min(s.cost, at.bound+1+at.bound>>max(0, 6-at.tries))
	answer, stopped := p.run()
	s.labels += len(p.labels)
	if s.stopped = stopped; stopped {
		return
	}
	if answer < 0 {
		if p.cutoff < s.cost {
			s.open.push(node{bound: p.cutoff, number: at.number, tries: at.tries + 1, bans: at.bans})
		}
		return
	}
	steps := p.steps(answer)
	one, two := s.m.clash(steps)
	if one == nil {
		s.take(steps)
		return
	}
	s.clashes++
	s.repair(steps)
	a := bit(int(one.set))
	b := bit(int(two.set &^ one.set))
	v := int(s.m.arcs[one.arc].from)
	for _, x := range []ban{{v, a, b}, {v, a, -1}, {v, b, -1}} {
		if x.b < 0 && s.m.start[x.a] == v {
			continue
		}
		s.number++
		s.open.push(node{bound: p.labels[answer].cost, number: s.number, bans: append(slices.Clip(at.bans), x)})
	}
}

func (s *search) program() *program {
	return &program{ctx: s.ctx, m: s.m, cutoff: s.cost, left: &s.labelsLeft}
}

// leaving says which sets may leave a point.
func (m *model) leaving(bans []ban) func(v, set int) bool {
	at := make([][]ban, m.n)
	for _, x := range bans {
		at[x.point] = append(at[x.point], x)
	}
	return func(v, set int) bool {
		for _, x := range at[v] {
			if x.b < 0 && set>>x.a&1 == 1 || x.b >= 0 && set>>x.a&1 != set>>x.b&1 {
				return false
			}
		}
		return true
	}
}

// steps are the labels of an answer that came over an arc.
func (p *program) steps(answer int32) []label {
	var list []label
	todo := []int32{answer}
	for len(todo) > 0 {
		l := p.labels[todo[len(todo)-1]]
		todo = todo[:len(todo)-1]
		if l.from < 0 {
			continue
		}
		todo = append(todo, l.from)
		if l.other >= 0 {
			todo = append(todo, l.other)
		} else {
			list = append(list, l)
		}
	}
	slices.SortFunc(list, func(a, b label) int {
		if a.arc != b.arc {
			return int(a.arc - b.arc)
		}
		return int(a.set - b.set)
	})
	return list
}

// clash returns two steps that leave one point, nil if there are none. Equal
// steps of terminals that run alone are one duct.
func (m *model) clash(steps []label) (one, two *label) {
	first := make([]*label, m.n)
	for i := range steps {
		l := &steps[i]
		f := &first[m.arcs[l.arc].from]
		switch {
		case *f == nil:
			*f = l
		case m.alone && l.arc == (*f).arc && l.choice == (*f).choice:
		case l.set&^(*f).set == 0:
			return l, *f
		default:
			return *f, l
		}
	}
	return nil, nil
}

// take keeps a tree.
func (s *search) take(steps []label) {
	s.best = []Pick{}
	s.cost = 0
	for i, l := range steps {
		if i > 0 && l.arc == steps[i-1].arc {
			continue
		}
		x, c := s.m.arcs[l.arc], s.m.opts[l.arc][l.choice]
		s.best = append(s.best, Pick{Edge: x.edge, Reverse: x.reverse, Option: c.pick})
		s.cost += c.cost
	}
	slices.SortFunc(s.best, func(a, b Pick) int { return a.Edge - b.Edge })
}

// repair makes a tree of an answer that is none: one arc out of every point.
func (s *search) repair(steps []label) {
	used := make([]bool, len(s.m.arcs))
	for _, l := range steps {
		used[l.arc] = true
	}
	s.size(used)
}

// size finds the best options for some arcs, thinned to a tree.
func (s *search) size(used []bool) {
	on := s.m.thin(used)
	behind := s.m.behind(on)
	key := fmt.Sprint(on)
	if s.tried[key] || s.labelsLeft <= 0 {
		return
	}
	s.tried[key] = true
	p := s.program()
	p.on, p.prices = on, s.prices
	p.leave = func(v, set int) bool { return set == behind[v] }
	answer, _ := p.run()
	s.labels += len(p.labels)
	if answer >= 0 {
		s.take(p.steps(answer))
	}
}

// behind tells which terminals are behind each point of a tree of arcs.
func (m *model) behind(on []bool) []int {
	behind := make([]int, m.n)
	for t, v := range m.start {
		for ; v >= 0; v = m.next(v, on) {
			behind[v] |= 1 << t
		}
	}
	return behind
}

// next is the point that a tree of arcs leads to from a point, −1 for none.
func (m *model) next(v int, on []bool) int {
	for _, a := range m.out[v] {
		if on[a] {
			return m.arcs[a].to
		}
	}
	return -1
}

func (s *search) result() *Result {
	r := &Result{Tree: s.best, Cost: s.cost, Bound: s.cost, Nodes: s.nodes, Clashes: s.clashes, Labels: s.labels}
	switch {
	case s.stopped:
		r.Status, r.Bound = core.Feasible, min(s.bound, s.cost)
		if s.best == nil {
			r.Status, r.Cost, r.Bound = core.Undecided, 0, s.bound
		}
	case s.best == nil:
		r.Status, r.Cost, r.Bound = core.Infeasible, 0, 0
	default:
		r.Status = core.Optimal
	}
	return r
}

// rounded is the least whole cost that a bound allows.
func rounded(bound float64) int64 {
	return max(0, int64(math.Ceil(bound-1e-6-1e-12*math.Abs(bound))))
}
