package project

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"wyewright/network"
	"wyewright/network/catalog"
	"wyewright/optimize"
)

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
	last := &r.Pieces[len(r.Pieces)-1].Make
	own, rest := last.Family, m.o.Families
	switch {
	case m.s.Family != "" && !last.Hose():
		return []string{m.s.Family}
	case m.s.Family != "":
		rest = []string{m.s.Family}
	}
	return append([]string{own}, slices.DeleteFunc(slices.Clone(rest), func(name string) bool { return name == own })...)
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
	var other, kept []string
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
		if slices.Contains(m.o.Keep, r.ID) {
			kept = append(kept, r.ID)
		}
		size, sold := f.Size(r.Pieces[k].Size)
		if !sold {
			size = f.Nearest(r.Pieces[k].Diameter)
			other = append(other, r.ID+" "+size.Name)
		}
		m.o.Fix[r.ID] = optimize.Fixed{Size: size.Name, Families: []string{m.s.Family}}
	}
	m.say("all rigid duct of %s, each run in the size it has", m.s.Family)
	if len(kept) > 0 {
		m.beyond("the file keeps %s", strings.Join(kept, ", "))
	}
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
