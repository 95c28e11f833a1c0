package optimize

import (
	"context"
	"math"
	"slices"

	"wyewright/network"
	"wyewright/network/catalog"
	"wyewright/network/units"
	"wyewright/optimize/core"
	"wyewright/optimize/layout"
	"wyewright/optimize/parts"
	"wyewright/optimize/price"
)

// The rough picture of a shop that a first tree is guessed from (our choice: it
// decides what is looked at first, no result).
const (
	guessFriction = 0.02 // Darcy's f of duct
	guessK        = 0.4  // bends and joints of a run
	guessLabels   = 30_000
	guessTools    = 10
)

// guess finds a tree that is likely a good one, for a search that knows no plan
// yet: the cheapest tree and sizes by a rough picture in which every tool runs
// alone, friction and fittings are the same everywhere, joints cost nothing and
// the fan is a parabola. What it yields is searched like any other variant and
// proves nothing.
func (w *Ways) guess(ctx context.Context) (*pending, error) {
	g := w.links
	p := &layout.Problem{Points: g.Points, Root: g.Root, Exponent: 2}
	spec := w.n.Spec()
	most := 0.0
	entry := make([]float64, g.Points)
	points := map[string]int{}
	for i := range spec.Points {
		points[spec.Points[i].ID] = i
	}
	for i := range spec.Tools {
		t := &spec.Tools[i]
		for _, port := range t.Ports {
			at := points[port.At]
			q := float64(w.n.Required(i, &w.o.Limits)) / float64(len(t.Ports))
			most = max(most, q)
			entry[at] += (1 + port.Entry) * w.head(port.Diameter)
			if at != g.Root && !slices.ContainsFunc(p.Terminals, func(t layout.Terminal) bool { return t.Point == at }) {
				p.Terminals = append(p.Terminals, layout.Terminal{Point: at, Flow: q})
			}
		}
		if v := w.o.Limits.Transport; v > 0 {
			p.Transport = float64(v)
		} else if p.Transport == 0 || float64(t.Transport) < p.Transport {
			p.Transport = float64(t.Transport)
		}
	}
	if len(p.Terminals) > guessTools {
		return nil, nil // it would take longer than it is worth
	}
	for i := range g.Links {
		e := layout.Edge{A: g.Links[i].A, B: g.Links[i].B}
		if i < len(spec.Runs) {
			e.Options = w.guessRun(i)
		} else {
			e.Options = w.guessCorridor(&w.corridors[i-len(spec.Runs)], &spec.Points[e.A], &spec.Points[e.B])
		}
		if len(e.Options) == 0 {
			return nil, nil
		}
		for k := range e.Options {
			e.Options[k].Resistance += entry[e.A] + entry[e.B]
		}
		p.Edges = append(p.Edges, e)
	}
	p.Fan = guessFan(w.n, most)
	// What the rough picture cannot do a stronger fan may.
	for range 4 {
		if ctx.Err() != nil {
			return nil, nil
		}
		r, err := layout.Solve(ctx, p, &layout.Settings{MaxLabels: guessLabels})
		if err != nil {
			return nil, err
		}
		if r.Tree != nil {
			out := &pending{}
			for _, pick := range r.Tree {
				out.tree = append(out.tree, layout.Way{Link: pick.Edge, Reverse: pick.Reverse})
				out.floor += price.Money(g.Links[pick.Edge].Cost)
			}
			return out, nil
		}
		p.Fan.Head *= 1.25
		p.Transport *= 0.9
	}
	return nil, nil
}

// guessFan fits a parabola to the collector's curve between the flows of
// interest.
func guessFan(n *network.Network, most float64) core.Fan {
	c := n.Spec().Collectors[0].Curve
	p1, _ := c.Pressure(most / 2)
	p2, _ := c.Pressure(most * 1.5)
	curve := math.Max(0, (p1-p2)/(2*most*most))
	return core.Fan{Head: math.Max(1, p1+curve*most*most/4), Curve: curve}
}

// guessRun are the options of a run that is there: as it is, or other duct.
func (w *Ways) guessRun(i int) []core.Option {
	r := &w.n.Spec().Runs[i]
	length, now := units.Length(0), 0.0
	area := 0.0
	for _, p := range r.Pieces {
		length += p.Length
		now += w.guessLoss(p.Diameter, p.Length, p.Make.Multiple)
		area = math.Max(area, circle(p.Diameter))
	}
	out := []core.Option{{Resistance: now + guessK*w.head(r.Pieces[len(r.Pieces)-1].Diameter), Area: area}}
	if !w.o.Resize || slices.Contains(w.o.Keep, r.ID) {
		return out
	}
	return append(out, w.guessDucts(length, &Corridor{}, func(piece network.Piece) []parts.Line {
		after := *r
		after.Pieces = []network.Piece{piece}
		return w.b.Run(r, after, parts.Route{Length: length})
	})...)
}

// guessCorridor are the options of a corridor.
func (w *Ways) guessCorridor(c *Corridor, from, to *network.Point) []core.Option {
	length := c.length(from, to)
	return w.guessDucts(length, c, func(piece network.Piece) []parts.Line {
		return w.b.Run(nil, network.Run{ID: c.ID, Pieces: []network.Piece{piece}}, parts.Route{Length: length})
	})
}

// guessDucts are options of new rigid duct.
func (w *Ways) guessDucts(length units.Length, c *Corridor, lines func(network.Piece) []parts.Line) []core.Option {
	var out []core.Option
	w.ducts(c, func(fam *catalog.Family, s catalog.Size) {
		piece, err := fam.Piece(s.Name, length)
		if err != nil {
			return
		}
		if cost, unpriced := w.b.Cost(lines(piece)); len(unpriced) == 0 {
			out = append(out, core.Option{Cost: int64(cost.Times(c.factor())), Area: circle(s.Diameter),
				Resistance: w.guessLoss(s.Diameter, length, 1) + guessK*w.head(s.Diameter)})
		}
	})
	return out
}

// guessLoss is the resistance of a length of duct.
func (w *Ways) guessLoss(d, length units.Length, multiple float64) float64 {
	return guessFriction * math.Max(1, multiple) * float64(length/d) * w.head(d)
}

// head is ½ρ/A² of a diameter.
func (w *Ways) head(d units.Length) float64 {
	a := circle(d)
	return float64(w.n.Spec().Air.Density) / 2 / (a * a)
}

func circle(d units.Length) float64 { return math.Pi / 4 * float64(d) * float64(d) }

// ducts calls f for every rigid duct that may be bought and runs there.
func (w *Ways) ducts(c *Corridor, f func(fam *catalog.Family, s catalog.Size)) {
	for _, name := range w.o.Families {
		fam, ok := w.b.Catalog.Family(name)
		if !ok || fam.Hose {
			continue
		}
		for _, s := range fam.Sizes {
			if c.takes(name, s) {
				f(fam, s)
			}
		}
	}
}
