package project

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"wyewright/network"
	"wyewright/network/catalog"
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
	// Unpriced says what its cost leaves out, or why it has none; "" where it is
	// whole.
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

// settler makes one Option.
type settler struct {
	p   *Project
	s   Settled
	o   optimize.Options
	out *Option
}

func (m *settler) say(format string, args ...any) {
	m.out.What = append(m.out.What, fmt.Sprintf(format, args...))
}

func (m *settler) beyond(format string, args ...any) {
	m.out.Beyond = append(m.out.Beyond, fmt.Sprintf(format, args...))
}

// run is a run of the shop as found by its name, nil where there is none.
func (m *settler) run(id string) *network.Run {
	i, ok := m.p.Network.RunIndex(id)
	if !ok {
		return nil
	}
	return &m.p.Network.Spec().Runs[i]
}

// size settles the runs that get one size.
func (m *settler) size() {
	may := m.p.File.Redesign.May
	var kept, hose, duct []string
	for _, id := range m.s.Runs {
		r := m.run(id)
		if r == nil { // Formulate names it
			m.o.Fix[id] = optimize.Fixed{Size: m.s.Size}
			continue
		}
		families := m.families(r)
		m.o.Fix[id] = optimize.Fixed{Size: m.s.Size, Families: families}
		if is(r, m.s.Size) {
			continue
		}
		switch {
		case slices.Contains(m.o.Keep, id):
			kept = append(kept, id)
		case r.Pieces[0].Make.Hose() && !may.ReplaceHose:
			hose = append(hose, id)
		case !r.Pieces[0].Make.Hose() && !may.Resize:
			duct = append(duct, id)
		}
	}
	for _, x := range []struct {
		runs []string
		why  string
	}{{kept, "the file keeps"}, {hose, "the file's may has no replace hose, for"}, {duct, "the file's may has no resize, for"}} {
		if len(x.runs) > 0 {
			m.beyond("%s %s", x.why, strings.Join(x.runs, ", "))
		}
	}
	if d, err := catalog.ParseSize(m.s.Size); err == nil && (m.o.Min > 0 && d < m.o.Min || m.o.Max > 0 && d > m.o.Max) {
		m.beyond("%s is outside the file's sizes", m.s.Size)
	}
}

// is reports whether a run has one size all along.
func is(r *network.Run, size string) bool {
	return !slices.ContainsFunc(r.Pieces, func(p network.Piece) bool { return !catalog.Same(p.Size, size) })
}

// families are those a run may be made of, its own first.
func (m *settler) families(r *network.Run) []string {
	if m.s.Family != "" && !r.Pieces[len(r.Pieces)-1].Make.Hose() {
		return []string{m.s.Family}
	}
	out := []string{r.Pieces[len(r.Pieces)-1].Make.Family}
	for _, name := range m.o.Families {
		if !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out
}

// family settles what duct is made of.
func (m *settler) family() {
	if !slices.Contains(m.o.Families, m.s.Family) {
		m.beyond("%s is not among the file's families", m.s.Family)
	}
	if m.s.Free {
		m.say("new duct of %s only; what is there may stay", m.s.Family)
		m.o.Families = append([]string{m.s.Family}, slices.DeleteFunc(slices.Clone(m.o.Families), func(name string) bool {
			f, ok := m.p.Catalog.Family(name)
			return !ok || !f.Hose
		})...)
		return
	}
	f, ok := m.p.Catalog.Family(m.s.Family)
	if !ok {
		return // Formulate names it
	}
	var other []string
	runs := m.p.Network.Spec().Runs
	for i := range runs {
		r := &runs[i]
		k := slices.IndexFunc(r.Pieces, func(p network.Piece) bool { return !p.Make.Hose() })
		if _, done := m.o.Fix[r.ID]; done || k < 0 {
			continue
		}
		if r.Pieces[k].Make.Family == m.s.Family {
			m.o.Fix[r.ID] = optimize.Fixed{Families: []string{m.s.Family}}
			continue
		}
		size, sold := f.Size(r.Pieces[k].Size)
		if !sold {
			size = f.Nearest(r.Pieces[k].Diameter)
			other = append(other, r.ID+" "+size.Name)
		}
		m.o.Fix[r.ID] = optimize.Fixed{Size: size.Name, Families: []string{m.s.Family}}
	}
	m.say("all rigid duct of %s, each run in the size it has", m.s.Family)
	if len(other) > 0 {
		m.say("where that is not sold in the nearest: %s", strings.Join(other, ", "))
	}
}

// ErrNoBleedPoint says that the file names no place for a bleed inlet.
var ErrNoBleedPoint = errors.New("the file names no point at which a bleed inlet may be built")

// bleeds allows bleed inlets, or does not.
func (m *settler) bleeds() error {
	switch m.s.Bleed {
	case NoBleed:
		m.say("no bleed inlet is built")
		m.o.Bleed = false
	case WithBleed:
		if len(m.o.Bleeds) == 0 {
			return ErrNoBleedPoint
		}
		if !m.o.Bleed {
			m.beyond("the file's may has no bleed")
		}
		if m.o.Bleed = true; m.o.Companions == 0 {
			m.beyond("the file allows no companion, and a bleed inlet is one: one is allowed")
			m.o.Companions = 1
		}
		if m.s.Free {
			m.say("a bleed inlet may be built at %s", strings.Join(m.o.Bleeds, ", "))
		}
	}
	return nil
}
