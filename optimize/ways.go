package optimize

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"wyewright/network"
	"wyewright/network/catalog"
	"wyewright/network/units"
	"wyewright/optimize/layout"
	"wyewright/optimize/parts"
	"wyewright/optimize/price"
)

// Corridor is a way along which new duct may run, in either direction.
type Corridor struct {
	ID, From, To string
	Via          []network.Vec
	// Length is that of the way; 0 takes it from the points.
	Length units.Length
	// Factor multiplies material and labour of duct there; 0 means 1.
	Factor float64
	// Largest is the largest nominal size that fits, 0 for any.
	Largest units.Length
	// Not lists families that may not run there.
	Not []string
}

func (c *Corridor) factor() float64 {
	if c.Factor == 0 {
		return 1
	}
	return c.Factor
}

// CollectorOption is what may be done about the collector: another one in its
// place, another speed, a renewed filter.
type CollectorOption struct {
	Label string
	// Collector is what then stands there.
	Collector network.Collector
	// Cost is that of all of it in place.
	Cost price.Money
}

// Ways are the variants of a shop: every tree of runs and corridors that joins
// all ports to the collector, with every option for the collector. They come in
// order of their floors: what the option, the blanking of what is left out and
// the cheapest duct along every corridor of the tree cost together.
type Ways struct {
	n         *network.Network
	states    []network.State
	o         Options
	b         *parts.Builder
	corridors []Corridor
	options   []*CollectorOption // the first is nil: as it is
	least     []price.Money      // per corridor
	trees     *layout.Trees
	waiting   []*pending // by floor
	done      bool       // no more trees
	// first are guessed and come before all others, whatever their floor.
	first []*pending
	at    map[string]int // points by name
	// Dropped names ways that cannot be built, and why.
	Dropped []string
}

// pending is a variant that is not made yet.
type pending struct {
	tree   []layout.Way
	option *CollectorOption
	floor  price.Money
}

// NewWays prepares the variants of a shop. A guess comes first, then all in order
// of their floors, the shop as found before others of its own. An ended ctx
// leaves the guess out.
func NewWays(ctx context.Context, n *network.Network, states []network.State, o Options, corridors []Corridor, options []CollectorOption, b *parts.Builder) (*Ways, error) {
	w := &Ways{n: n, states: states, o: o, b: b, corridors: corridors, options: []*CollectorOption{nil}}
	for i := range options {
		w.options = append(w.options, &options[i])
	}
	g, err := w.graph()
	if err != nil {
		return nil, err
	}
	if len(corridors) == 0 { // the ducts stay where they are
		w.done = true
		var all []layout.Way
		for i := range g.Links {
			all = append(all, layout.Way{Link: i})
		}
		w.wait(all, 0)
		return w, nil
	}
	if n := len(g.Terminals); n > layout.MaxTerminals {
		return nil, fmt.Errorf("optimize: %w: %d points with tools or dead ends are more than %d", ErrTooMany, n, layout.MaxTerminals)
	}
	if w.trees, err = layout.NewTrees(g); err != nil {
		return nil, fmt.Errorf("optimize: ways of the ducts: %w", err)
	}
	p, err := w.guess(ctx, g)
	if err != nil {
		return nil, fmt.Errorf("optimize: ways of the ducts: %w", err)
	}
	if p != nil {
		w.first = append(w.first, p)
	}
	return w, nil
}

// ErrTooMany says that a shop has too many tools for a search over the ways of
// its ducts.
var ErrTooMany = errors.New("too many for a search over corridors")

// graph is the runs and corridors as edges: a run costs nothing to keep, a
// corridor at least its cheapest duct.
func (w *Ways) graph() (*layout.Graph, error) {
	spec := w.n.Spec()
	at := map[string]int{}
	for i := range spec.Points {
		at[spec.Points[i].ID] = i
	}
	w.at = at
	g := &layout.Graph{Points: len(spec.Points), Root: at[spec.Collectors[0].At]}
	for i := range spec.Tools {
		for _, port := range spec.Tools[i].Ports {
			g.Terminals = append(g.Terminals, at[port.At])
		}
	}
	g.Terminals = append(g.Terminals, w.deadEnds()...)
	slices.Sort(g.Terminals)
	g.Terminals = slices.Compact(g.Terminals)
	for i := range spec.Runs {
		g.Links = append(g.Links, layout.Link{A: at[spec.Runs[i].From], B: at[spec.Runs[i].To]})
	}
	for i := range w.corridors {
		c := &w.corridors[i]
		from, ok := at[c.From]
		to, ok2 := at[c.To]
		if !ok || !ok2 {
			return nil, fmt.Errorf("optimize: corridor %q: no such point", c.ID)
		}
		cost := w.cheapest(c)
		w.least = append(w.least, cost)
		g.Links = append(g.Links, layout.Link{A: from, B: to, Cost: int64(cost)})
	}
	return g, nil
}

// tail is the hose that stands at a tool.
func (w *Ways) tail() units.Length {
	if w.o.Tail > 0 {
		return w.o.Tail
	}
	return defaultTail
}

// cheapest is the least that duct along a corridor can cost: straight, without
// joints at its ends, and shorter by the hose that may stand at a tool.
func (w *Ways) cheapest(c *Corridor) price.Money {
	length := c.Length
	if length == 0 {
		length = w.way(c)
	}
	length = max(length-w.tail(), 0)
	least := price.Money(-1)
	w.ducts(c.Not, c.Largest, func(fam *catalog.Family, s catalog.Size) {
		piece, err := fam.Piece(s.Name, length)
		if err != nil {
			return
		}
		cost, unpriced := w.b.Cost(w.b.Run(nil, network.Run{ID: c.ID, Pieces: []network.Piece{piece}}, parts.Route{Length: length}))
		if len(unpriced) == 0 && (least < 0 || cost < least) {
			least = cost
		}
	})
	return max(least, 0).Times(c.factor())
}

// way is the length of a corridor along its points, 0 where they have none.
func (w *Ways) way(c *Corridor) units.Length {
	var from, to *network.Point
	spec := w.n.Spec()
	for i := range spec.Points {
		switch p := &spec.Points[i]; p.ID {
		case c.From:
			from = p
		case c.To:
			to = p
		}
	}
	if !from.Placed || !to.Placed {
		return 0
	}
	return network.RouteOf(from.At, to.At, c.Via).Length
}

// Next makes the next variant, nil where there is none left.
func (w *Ways) Next(ctx context.Context) (*Variant, error) {
	for ctx.Err() == nil {
		var next *pending
		if len(w.first) > 0 {
			next, w.first = w.first[0], w.first[1:]
		} else {
			if w.fill(ctx); len(w.waiting) == 0 {
				return nil, nil
			}
			next, w.waiting = w.waiting[0], w.waiting[1:]
		}
		v, err := w.make(next)
		if err == nil {
			return v, nil
		}
		var no *notBuildable
		if !errors.As(err, &no) {
			return nil, err
		}
		w.Dropped = append(w.Dropped, no.Error())
	}
	return nil, ctx.Err()
}

// Named makes the variant with given corridors, without given runs and with the
// collector option of a label, "" for none.
func (w *Ways) Named(built, left []string, collector string) (*Variant, error) {
	g, err := w.graph()
	if err != nil {
		return nil, err
	}
	p := &pending{}
	var use []int
	for i := range w.n.Spec().Runs {
		if !slices.Contains(left, w.n.Spec().Runs[i].ID) {
			use = append(use, i)
		}
	}
	for i := range w.corridors {
		if slices.Contains(built, w.corridors[i].ID) {
			use = append(use, len(w.n.Spec().Runs)+i)
			p.floor += w.least[i]
		}
	}
	for _, o := range w.options {
		if o != nil && o.Label == collector {
			p.option = o
			p.floor += o.Cost
		}
	}
	var ok bool
	if p.tree, ok = orient(g, use); !ok || len(use) != len(w.n.Spec().Runs)-len(left)+len(built) || (p.option == nil) != (collector == "") {
		return nil, errors.New("optimize: these ways and this collector are not among those of the shop")
	}
	return w.make(p)
}

// Floor is the least that a plan of a variant still to come can cost.
func (w *Ways) Floor(ctx context.Context) price.Money {
	w.fill(ctx)
	floor := never.money()
	if len(w.waiting) > 0 {
		floor = w.waiting[0].floor
	}
	if !w.done { // fill may have been interrupted
		floor = min(floor, price.Money(w.trees.Bound()))
	}
	return floor
}

// fill asks for trees until no tree to come can have a lower floor than the
// first variant that waits.
func (w *Ways) fill(ctx context.Context) {
	for !w.done && ctx.Err() == nil && (len(w.waiting) == 0 || w.waiting[0].floor > price.Money(w.trees.Bound())) {
		t, ok := w.trees.Next(ctx)
		if !ok {
			w.done = ctx.Err() == nil
			return
		}
		w.wait(t.Ways, price.Money(t.Cost))
	}
}

// wait puts the variants of a tree among those that wait.
func (w *Ways) wait(tree []layout.Way, cost price.Money) {
	for _, o := range w.options {
		p := &pending{tree: tree, option: o, floor: cost}
		if o != nil {
			p.floor += o.Cost
		}
		at := len(w.waiting)
		for at > 0 && w.waiting[at-1].floor > p.floor {
			at--
		}
		w.waiting = slices.Insert(w.waiting, at, p)
	}
}

// deadEnds are the points of ducts that lead on to nothing, or to a bleed: they
// stay joined, so that the shop as found is among the variants.
func (w *Ways) deadEnds() []int {
	fed := map[string]bool{}
	for _, r := range w.n.Spec().Runs {
		fed[r.To] = true
	}
	var out []int
	for _, r := range w.n.Spec().Runs {
		if !fed[r.From] {
			out = append(out, w.at[r.From])
		}
	}
	return out
}

// orient directs edges toward the root, where they are a tree with it.
func orient(g *layout.Graph, use []int) ([]layout.Way, bool) {
	seen := make([]bool, g.Points)
	seen[g.Root] = true
	var out []layout.Way
	for left := slices.Clone(use); len(left) > 0; {
		n := len(left)
		left = slices.DeleteFunc(left, func(i int) bool {
			e := &g.Links[i]
			if seen[e.A] == seen[e.B] {
				return false
			}
			out = append(out, layout.Way{Link: i, Reverse: seen[e.A]})
			seen[e.A], seen[e.B] = true, true
			return true
		})
		if len(left) == n {
			return nil, false
		}
	}
	return out, true
}
