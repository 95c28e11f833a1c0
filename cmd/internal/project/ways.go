package project

import (
	"context"
	"fmt"
	"slices"

	"wyewright/network"
	"wyewright/network/shopfile"
	"wyewright/optimize"
	"wyewright/optimize/price"
)

// Open reports whether the file leaves ways or the collector to the redesign.
func (p *Project) Open() bool {
	may, f := &p.File.Redesign.May, p.File
	return may.Routes && len(f.Corridors) > 0 || may.Collector && len(p.collectorOptions()) > 0
}

// Ways are the variants of the shop: its ducts on every tree of runs and
// corridors, its collector in every way that the file offers.
func (p *Project) Ways(ctx context.Context) (*optimize.Ways, error) {
	if !p.Network.IsTree() {
		return nil, ErrNoTree
	}
	if p.File.Redesign.May.Routes && len(p.File.Corridors) > 0 && len(p.File.Later) > 0 {
		return nil, ErrLaterRoutes
	}
	n := p.Network
	var corridors []optimize.Corridor
	if p.File.Redesign.May.Routes {
		for _, c := range p.File.Corridors {
			corridors = append(corridors, optimize.Corridor{ID: c.ID, From: c.From, To: c.To, Via: c.Via, Length: c.Length,
				Factor: c.Cost, Largest: c.Largest, Not: c.Not})
		}
		if len(p.File.CorridorPoints) > 0 {
			spec := *n.Spec()
			spec.Points = append(slices.Clone(spec.Points), p.File.CorridorPoints...)
			var err error
			if n, err = network.New(spec); err != nil {
				return nil, err
			}
		}
	}
	var options []optimize.CollectorOption
	if p.File.Redesign.May.Collector {
		for _, o := range p.collectorOptions() {
			options = append(options, optimize.CollectorOption{Label: o.Label, Collector: o.Becomes, Cost: price.Money(o.Cost.Minor)})
		}
	}
	w, err := optimize.NewWays(ctx, n, p.bound(), p.options(), corridors, options, p.Builder)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", p.File.Name, err)
	}
	return w, nil
}

// collectorOptions are those for the collector that the redesign assumes, and
// others in its place.
func (p *Project) collectorOptions() []shopfile.CollectorOption {
	there := &p.Network.Spec().Collectors[0]
	return slices.DeleteFunc(slices.Clone(p.File.CollectorOptions), func(o shopfile.CollectorOption) bool {
		return o.Becomes.At != there.At || o.New == (o.Collector == there.ID)
	})
}

// reroute puts what a plan takes as decided into edits.
func (p *Project) reroute(e *shopfile.Edits, pr *optimize.Problem, n *network.Network) {
	t := &pr.Taken
	e.TurnRuns = t.Turned
	for _, l := range t.Left {
		e.RemoveRuns = append(e.RemoveRuns, l.ID)
	}
	for _, c := range t.Built {
		i, _ := n.RunIndex(c.ID)
		r := &n.Spec().Runs[i]
		e.AddRuns = append(e.AddRuns, shopfile.NewRun{ID: c.ID, From: r.From, To: r.To, Via: r.Via, Pieces: r.Pieces, Length: c.Length,
			Corridors: []string{c.ID}})
	}
	if t.Collector == nil {
		return
	}
	for _, o := range p.collectorOptions() {
		if o.Label == t.Collector.Label {
			e.Collector = &o
		}
	}
}
