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

// length is that of the way between its points, 0 where nothing tells it.
func (c *Corridor) length(from, to *network.Point) units.Length {
	if c.Length > 0 || !from.Placed || !to.Placed {
		return c.Length
	}
	return network.RouteOf(from.At, to.At, c.Via).Length
}

// takes reports whether duct of a family and size may run there.
func (c *Corridor) takes(family string, s catalog.Size) bool {
	return !slices.Contains(c.Not, family) && (c.Largest == 0 || s.Nominal <= c.Largest+1e-9)
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
	links     *layout.Graph      // runs, then corridors
	trees     *layout.Trees
	waiting   []*pending // by floor
	done      bool       // no more trees
	// first are guessed and come before all others, whatever their floor.
	first []*pending
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
	if err := w.link(); err != nil {
		return nil, err
	}
	if len(corridors) == 0 { // the ducts stay where they are
		w.done = true
		var all []layout.Way
		for i := range w.links.Links {
			all = append(all, layout.Way{Link: i})
		}
		w.wait(all, 0)
		return w, nil
	}
	var err error
	if n := len(w.links.Terminals); n > layout.MaxTerminals {
		return nil, fmt.Errorf("optimize: %w: %d points with tools or dead ends are more than %d", ErrTooMany, n, layout.MaxTerminals)
	}
	if w.trees, err = layout.NewTrees(w.links); err != nil {
		return nil, fmt.Errorf("optimize: ways of the ducts: %w", err)
	}
	p, err := w.guess(ctx)
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

// link fills links: a run costs nothing to keep, a corridor at least its
// cheapest duct.
func (w *Ways) link() error {
	spec := w.n.Spec()
	at := map[string]int{}
	for i := range spec.Points {
		at[spec.Points[i].ID] = i
	}
	g := &layout.Graph{Points: len(spec.Points), Root: at[spec.Collectors[0].At]}
	for i := range spec.Tools {
		for _, port := range spec.Tools[i].Ports {
			g.Terminals = append(g.Terminals, at[port.At])
		}
	}
	for _, end := range w.deadEnds() {
		g.Terminals = append(g.Terminals, at[end])
	}
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
			return fmt.Errorf("optimize: corridor %q: no such point", c.ID)
		}
		g.Links = append(g.Links, layout.Link{A: from, B: to, Cost: int64(w.cheapest(c, &spec.Points[from], &spec.Points[to]))})
	}
	w.links = g
	return nil
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
func (w *Ways) cheapest(c *Corridor, from, to *network.Point) price.Money {
	length := max(c.length(from, to)-w.tail(), 0)
	least := price.Money(-1)
	w.ducts(c, func(fam *catalog.Family, s catalog.Size) {
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
	p := &pending{}
	var use []int
	runs := w.n.Spec().Runs
	for i := range runs {
		if !slices.Contains(left, runs[i].ID) {
			use = append(use, i)
		}
	}
	for i := range w.corridors {
		if slices.Contains(built, w.corridors[i].ID) {
			use = append(use, len(runs)+i)
			p.floor += price.Money(w.links.Links[len(runs)+i].Cost)
		}
	}
	for _, o := range w.options {
		if o != nil && o.Label == collector {
			p.option = o
			p.floor += o.Cost
		}
	}
	var ok bool
	if p.tree, ok = orient(w.links, use); !ok || len(use) != len(runs)-len(left)+len(built) || (p.option == nil) != (collector == "") {
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
func (w *Ways) deadEnds() []string {
	fed := map[string]bool{}
	for _, r := range w.n.Spec().Runs {
		fed[r.To] = true
	}
	var out []string
	for _, r := range w.n.Spec().Runs {
		if !fed[r.From] {
			out = append(out, r.From)
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
