package project

import (
	"context"
	"slices"

	"wyewright/optimize"
)

// Settled is what an option of a comparison settles of a shop beforehand. The
// zero value settles nothing.
type Settled struct {
	// Size is the one that all of Runs get, "" for none.
	Size string
	Runs []string
	// Family is what all rigid duct is made of, each run in its own size, or,
	// with Free, what all new duct is made of; "" for none.
	Family string
	Bleed  Bleed
	// Collector is the one in place, or an option of the file for it by its
	// label; "" for the one that the redesign assumes.
	Collector string
	// Free says that a search settles the rest, so that Family binds new duct
	// only and a bleed inlet is allowed rather than built.
	Free bool
}

// Bleed is what is settled of bleed inlets to be built.
type Bleed int

// What may be settled of bleed inlets: nothing, that none is built, that one is.
const (
	AnyBleed Bleed = iota
	NoBleed
	WithBleed
)

// Option is a redesign problem around what was settled.
type Option struct {
	Problem *optimize.Problem
	// Pick is the plan that makes what was settled and changes nothing else.
	Pick []int
	// What says in words what was settled.
	What []string
	// Beyond names what of it the file does not let a redesign do.
	Beyond []string
	// Unpriced names what its cost leaves out, or why it has none; empty where the
	// cost is whole.
	Unpriced []string
	// Whole says, of a Difference, that the problem settles all of it.
	Whole bool
	// Sold is false where some joint of Pick is not sold or has no price.
	Sold bool
}

// Trunk are the runs that carry the air of more than one tool.
func (p *Project) Trunk() []string {
	var out []string
	spec := p.Network.Spec()
	for i := range spec.Runs {
		n := 0
		for k := range spec.Tools {
			if p.Network.ToolsUpstream(i, k) {
				n++
			}
		}
		if n > 1 {
			out = append(out, spec.Runs[i].ID)
		}
	}
	return out
}

// Keeping is the project with more runs that a redesign leaves as they are. Names
// that are no run are passed over.
func (p *Project) Keeping(names []string) *Project {
	q, f := *p, *p.File
	f.Redesign.Keep = slices.Clone(f.Redesign.Keep)
	for _, id := range names {
		if _, ok := p.Network.RunIndex(id); ok {
			f.Redesign.Keep = append(f.Redesign.Keep, id)
		}
	}
	q.File = &f
	return &q
}

// Option formulates the redesign around what is settled. The error wraps
// optimize.NotOffered where a run cannot be had so.
func (p *Project) Option(ctx context.Context, s Settled) (*Option, error) {
	if !p.Network.IsTree() {
		return nil, ErrNoTree
	}
	m := &settler{p: p, s: s, o: p.options(), out: &Option{Sold: true}}
	m.o.Fix = map[string]optimize.Fixed{}
	if s.Size != "" {
		m.size()
	}
	if s.Family != "" {
		m.family()
	}
	if err := m.bleeds(); err != nil {
		return nil, err
	}
	if err := m.formulate(ctx); err != nil {
		return nil, err
	}
	m.pick()
	if s.Bleed == WithBleed && !s.Free {
		return m.out, m.inlet(ctx)
	}
	return m.out, nil
}
