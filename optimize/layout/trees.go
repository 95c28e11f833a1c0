package layout

import (
	"context"
	"math"
	"slices"
)

// Graph is what Trees looks for trees in.
type Graph struct {
	Points, Root int
	Links        []Link
	Terminals    []int // points that must be joined to the root
}

// Link joins two points at a cost of at least 0; with OneWay it leads from A to
// B, toward the root, only.
type Link struct {
	A, B   int
	OneWay bool
	Cost   int64
}

// Way is a link in use, and whether it leads from B to A.
type Way struct {
	Link    int
	Reverse bool
}

// Tree joins every terminal to the root; its leaves are terminals. Ways are in
// order of their links.
type Tree struct {
	Ways []Way
	Cost int64
}

// Validate reports what is wrong with a graph, nil if nothing is.
func (g *Graph) Validate() error {
	if err := checkRoot(g.Points, g.Root); err != nil {
		return err
	}
	sum := 0.0
	for i, l := range g.Links {
		if err := checkEnds(i, l.A, l.B, g.Points); err != nil {
			return err
		}
		if sum += float64(l.Cost); l.Cost < 0 || sum > maxCost {
			return bad("link %d costs %d", i, l.Cost)
		}
	}
	return checkTerminals(g.Terminals, g.Points, g.Root, MaxTerminals)
}

// Trees yields the trees of a graph that join every terminal to the root and
// have no other leaves, cheapest first, each once. It is the partition of
// Lawler (1972, Management Science 18:401–405) over best trees: a part of all
// trees is known by the arcs that are allowed, and the trees of a part other
// than its best differ from it first at some point, in the order of the ways
// from the terminals. Trees of equal cost come in a fixed order.
type Trees struct {
	g      graph
	cost   []int64 // by arc
	start  []int
	open   queue[part]
	last   *part // yielded, and not all of its rest taken apart
	next   int   // from where in last.order
	number int
}

// part is a set of trees, with the best of it.
type part struct {
	cost    int64
	number  int
	allowed []bool // by arc
	order   []int  // arcs of the best tree
}

func (p *part) before(o *part) bool {
	if p.cost != o.cost {
		return p.cost < o.cost
	}
	return p.number < o.number
}

// NewTrees prepares the trees of a graph and finds the first. The error wraps
// ErrProblem: for a wrong graph, or for one with so many choices that a single
// tree would take minutes.
func NewTrees(g *Graph) (*Trees, error) {
	if err := g.Validate(); err != nil {
		return nil, err
	}
	t := &Trees{g: graph{n: g.Points, root: g.Root}}
	t.open.before = (*part).before
	for i, l := range g.Links {
		t.g.arcs, t.cost = append(t.g.arcs, arc{from: l.A, to: l.B, edge: i}), append(t.cost, l.Cost)
		if !l.OneWay {
			t.g.arcs, t.cost = append(t.g.arcs, arc{from: l.B, to: l.A, edge: i, reverse: true}), append(t.cost, l.Cost)
		}
	}
	t.g.link()
	for _, v := range g.Terminals {
		if v != g.Root && !slices.Contains(t.start, v) {
			t.start = append(t.start, v)
		}
	}
	all := make([]bool, len(t.g.arcs))
	for a := range all {
		all[a] = true
	}
	if c, ok := t.contract(all); ok && c.work() > maxWork {
		return nil, bad("%d terminals in a graph with so many choices are too much", len(t.start))
	}
	t.add(all)
	return t, nil
}

// Bound is the least cost that any tree still to come can have, math.MaxInt64
// where none will.
func (t *Trees) Bound() int64 {
	bound := int64(math.MaxInt64)
	if len(t.open.heap) > 0 {
		bound = t.open.heap[0].cost
	}
	if t.last != nil {
		bound = min(bound, t.last.cost)
	}
	return bound
}

// Next yields the next tree. It is false where there is none, or where ctx
// ended first; then Bound is not math.MaxInt64, and Next can be called again.
func (t *Trees) Next(ctx context.Context) (Tree, bool) {
	for ; t.last != nil; t.next++ {
		if ctx.Err() != nil {
			return Tree{}, false
		}
		if t.next == len(t.last.order) {
			t.last, t.next = nil, 0
			break
		}
		t.split(t.last, t.next)
	}
	if len(t.open.heap) == 0 || ctx.Err() != nil {
		return Tree{}, false
	}
	p := t.open.pop()
	t.last = &p
	tree := Tree{Cost: p.cost, Ways: []Way{}}
	for _, a := range p.order {
		tree.Ways = append(tree.Ways, Way{Link: t.g.arcs[a].edge, Reverse: t.g.arcs[a].reverse})
	}
	slices.SortFunc(tree.Ways, func(a, b Way) int { return a.Link - b.Link })
	return tree, true
}

// split adds the part of p whose trees agree with its best before arc i of the
// order and leave the point there another way.
func (t *Trees) split(p *part, i int) {
	allowed := slices.Clone(p.allowed)
	allowed[p.order[i]] = false
	if !slices.ContainsFunc(t.g.out[t.g.arcs[p.order[i]].from], func(a int) bool { return allowed[a] }) {
		return
	}
	for _, a := range p.order[:i] {
		for _, b := range t.g.out[t.g.arcs[a].from] {
			allowed[b] = b == a
		}
	}
	t.add(allowed)
}

// add puts in a part unless it is empty.
func (t *Trees) add(allowed []bool) {
	used := t.best(allowed)
	if used == nil {
		return
	}
	p := part{number: t.number, allowed: allowed, order: t.order(used)}
	for _, a := range p.order {
		p.cost += t.cost[a]
	}
	t.number++
	t.open.push(p)
}

// order lists the arcs on the ways from the terminals, each once.
func (t *Trees) order(used []bool) []int {
	next := make([]int, t.g.n)
	for v := range next {
		next[v] = -1
	}
	for a, x := range t.g.arcs {
		if used[a] {
			next[x.from] = a
		}
	}
	list := []int{}
	for _, v := range t.start {
		for v != t.g.root && next[v] >= 0 {
			a := next[v]
			list = append(list, a)
			next[v] = -1
			v = t.g.arcs[a].to
		}
	}
	return list
}
