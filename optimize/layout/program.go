package layout

import (
	"context"
	"slices"
)

// label is one way to join a set of terminals to a point. No way of it may lose
// more than room from here on; its worst way has spent so much resistance, of
// which the caps of wide options are the limit (0 where there are none).
type label struct {
	cost        int64
	room, spent float64
	set         int32
	point       int32
	from, other int32 // labels it was made of: none, one by an arc, two merged
	arc, choice int32
}

// before puts labels in order of cost; among equals those come first that can
// lead to the others.
func (l *label) before(o *label) bool {
	switch {
	case l.cost != o.cost:
		return l.cost < o.cost
	case l.room != o.room:
		return l.room > o.room
	case l.spent != o.spent:
		return l.spent < o.spent
	}
	return l.from < o.from
}

// program finds the cheapest answer of the subset program below a cost. An
// answer may lay duct twice over a point.
type program struct {
	ctx    context.Context
	m      *model
	prices []*prices
	on     []bool              // arcs in use, nil for all
	leave  func(v, s int) bool // whether a set may leave a point, nil for always
	cutoff int64               // only answers cheaper than this
	left   *int                // labels that may still be made
	labels []label
	front  [][]int32 // kept labels by set · n + point, cheapest first
	stairs []stair   // of the set at hand, by point
	queue  queue[label]
}

// run returns the index of the answer's label, −1 if there is none, and whether
// it was stopped.
func (p *program) run() (answer int32, stopped bool) {
	k := len(p.m.start)
	p.front = make([][]int32, p.m.n<<k)
	p.stairs = make([]stair, p.m.n)
	p.queue.before = (*label).before
	for s := 1; s <= full(k); s++ {
		for v := range p.stairs {
			p.stairs[v] = p.stairs[v][:0]
		}
		p.queue.heap = p.queue.heap[:0]
		if s&(s-1) == 0 {
			t := bit(s)
			p.offer(label{room: p.m.limit[t], set: int32(s), point: int32(p.m.start[t]), from: -1, other: -1})
		} else {
			for v := range p.m.n {
				p.merge(s, v)
			}
		}
		if answer, stopped = p.grow(s); stopped || answer >= 0 {
			return answer, stopped
		}
	}
	return -1, false
}

// hopeless reports whether a label cannot lead to an answer below the cutoff.
func (p *program) hopeless(cost int64, s, v int, room, spent float64) bool {
	most := float64(p.cutoff-1-cost) + 1e-6 + 1e-12*float64(p.cutoff)
	for _, k := range p.prices {
		if !k.reaches(most, s, v, room, spent) {
			return true
		}
	}
	return room < p.m.toRoot[v]*p.m.factor[s]
}

// offer queues a label unless it is hopeless or beaten.
func (p *program) offer(l label) {
	s, v := int(l.set), int(l.point)
	if l.cost < p.cutoff && !p.stairs[v].covers(l.room, l.spent) && !p.hopeless(l.cost, s, v, l.room, l.spent) {
		p.queue.push(l)
	}
}

// merge joins the labels of every two parts of a set at a point.
func (p *program) merge(s, v int) {
	low := s & -s
	var found []label
	for part := (s - 1) & s; part > 0; part = (part - 1) & s {
		one, two := p.front[part*p.m.n+v], p.front[(s^part)*p.m.n+v]
		if part&low == 0 || len(one) == 0 || len(two) == 0 {
			continue
		}
		for _, i := range one {
			a := &p.labels[i]
			for _, j := range two {
				b := &p.labels[j]
				if p.hopeless(a.cost+b.cost, s, v, a.room, a.spent) {
					break // those that follow cost more
				}
				l := label{cost: a.cost + b.cost, room: min(a.room, b.room), spent: max(a.spent, b.spent),
					set: int32(s), point: int32(v), from: i, other: j}
				if !p.hopeless(l.cost, s, v, l.room, l.spent) {
					found = append(found, l)
				}
				if b.room >= a.room && b.spent <= a.spent {
					break // nothing dearer does better for a
				}
			}
		}
	}
	slices.SortFunc(found, func(a, b label) int {
		switch {
		case a.before(&b):
			return -1
		case b.before(&a):
			return 1
		}
		return int(a.other - b.other)
	})
	var best stair
	for _, l := range found {
		if !best.covers(l.room, l.spent) {
			best.add(l.room, l.spent)
			p.queue.push(l)
		}
	}
}

// grow settles labels of one set, cheapest first, and lets them grow along arcs.
func (p *program) grow(s int) (answer int32, stopped bool) {
	n := p.m.n
	for len(p.queue.heap) > 0 {
		l := p.queue.pop()
		v := int(l.point)
		if p.stairs[v].covers(l.room, l.spent) {
			continue
		}
		if *p.left <= 0 || len(p.labels)%1024 == 0 && p.ctx.Err() != nil {
			return -1, true
		}
		*p.left--
		p.stairs[v].add(l.room, l.spent)
		me := int32(len(p.labels))
		p.labels = append(p.labels, l)
		p.front[s*n+v] = append(p.front[s*n+v], me)
		if v == p.m.root {
			if s == full(len(p.m.start)) {
				return me, false
			}
			continue
		}
		if p.leave == nil || p.leave(v, s) {
			p.spread(me, &l)
		}
	}
	return -1, false
}

// spread offers what a label grows into.
func (p *program) spread(me int32, l *label) {
	factor := p.m.factor[l.set]
	for _, a := range p.m.out[l.point] {
		if p.on != nil && !p.on[a] {
			continue
		}
		for i, c := range p.m.opts[a] {
			next := label{cost: l.cost + c.cost, room: l.room - c.r*factor, set: l.set,
				point: int32(p.m.arcs[a].to), from: me, other: -1, arc: int32(a), choice: int32(i)}
			if p.m.caps {
				next.spent = l.spent + c.r
				next.room = min(next.room, c.cap-next.spent)
			}
			p.offer(next)
		}
	}
}
