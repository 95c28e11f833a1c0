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

// formulate makes the problem, with the collector that was settled.
func (m *settler) formulate(ctx context.Context) error {
	states := m.p.bound()
	for i := range states {
		if m.s.Collector != "" { // what was settled goes before what a state names
			states[i].Collector = ""
		}
	}
	o, err := m.collector()
	if err == nil && o == nil {
		m.out.Problem, err = optimize.Formulate(m.p.Network, states, m.o, m.p.Builder)
	}
	if err != nil || o == nil {
		return err
	}
	w, err := optimize.NewWays(ctx, m.p.Network, states, m.o, nil, []optimize.CollectorOption{*o}, m.p.Builder)
	if err != nil {
		return err
	}
	v, err := w.Named(nil, nil, o.Label)
	if err == nil {
		m.out.Problem = v.Problem
	}
	return err
}

// CollectorNames are what Settled.Collector may name: the collectors at the place of
// the one that the redesign assumes, and what the file offers for them.
func (p *Project) CollectorNames() []string {
	there := p.Network.Spec().Collectors[0].At
	var out []string
	for _, c := range p.File.Spec.Collectors {
		if c.At == there {
			out = append(out, c.ID)
		}
	}
	for _, o := range p.collectorOptions() {
		if o.Speed != 1 || o.Renewed {
			out = append(out, o.Label)
		}
	}
	return out
}

// collector is what was settled of the collector, nil for the one in place.
func (m *settler) collector() (*optimize.CollectorOption, error) {
	name, there := m.s.Collector, &m.p.Network.Spec().Collectors[0]
	switch {
	case name == "":
		return nil, nil
	case name == there.ID:
		m.say("%s, which is in place", name)
		return nil, nil
	case !slices.Contains(m.p.CollectorNames(), name):
		return nil, fmt.Errorf("project: no collector %q", name)
	}
	if !m.p.File.Redesign.May.Collector {
		m.beyond("the file's may has no collector")
	}
	options := m.p.collectorOptions()
	i := slices.IndexFunc(options, func(o shopfile.CollectorOption) bool {
		return o.Label == name || o.Collector == name && o.New && o.Speed == 1 && !o.Renewed
	})
	if i >= 0 {
		o := &options[i]
		m.say("%s, at the file's price", o.Label)
		return &optimize.CollectorOption{Label: o.Label, Collector: o.Becomes, Cost: price.Money(o.Cost.Minor)}, nil
	}
	m.say("%s in the place of %s", name, there.ID)
	m.out.Unpriced = append(m.out.Unpriced, name+" itself, which has no price in the file")
	all := m.p.File.Spec.Collectors
	c := all[slices.IndexFunc(all, func(c network.Collector) bool { return c.ID == name })]
	return &optimize.CollectorOption{Label: name, Collector: c}, nil
}
