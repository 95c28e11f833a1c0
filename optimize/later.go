package optimize

import (
	"slices"

	"wyewright/network"
	"wyewright/optimize/parts"
	"wyewright/optimize/price"
)

// Later says what comes later: tools for which a joint is to be kept, and the
// runs that will serve them alone. A redesign reckons with them as if they were
// there: their states count, and whatever the whole costs, now and later, is
// what it makes least. What is bought now for such a run is its wye with a cap on
// it; duct, hose and gate come with the tool.
type Later struct {
	Tools, Runs []string
	// Ready are those of the runs whose wye is there already, with its cap.
	Ready []string
}

// later makes the runs that come later ones that are still to be built.
func (f *formulator) later() {
	if len(f.o.Later.Runs) == 0 {
		return
	}
	v := variant{stays: true}
	if f.o.variant != nil {
		v = *f.o.variant
	}
	build := map[string]*Corridor{}
	for id, c := range v.build {
		build[id] = c
	}
	spec := f.n.Spec()
	for i := range spec.Runs {
		if r := &spec.Runs[i]; slices.Contains(f.o.Later.Runs, r.ID) {
			build[r.ID] = &Corridor{ID: r.ID, From: r.From, To: r.To, Via: r.Via}
		}
	}
	v.build = build
	f.o.variant, f.p.Later = &v, f.o.Later
}

func (o *Options) comesLater(run string) bool { return slices.Contains(o.Later.Runs, run) }

// comingRun lists what a run that comes later may be made of: as the file has it,
// and, where it may be resized, every size that may be bought.
func (f *formulator) comingRun(run int) []Alternative {
	r := f.n.Spec().Runs[run]
	now := r
	now.New = true
	lines := f.b.Run(nil, now, f.route(run, f.length(run), f.n.PortAt(run)))
	out := f.add(nil, run, Alternative{Label: describe(r.Pieces), Pieces: r.Pieces, fresh: true, Lines: f.withGate(run, r.Pieces, lines),
		Changes: []network.Change{network.ReplaceRun{Run: run, Pieces: r.Pieces}}})
	if f.o.Resize && !slices.Contains(f.o.Keep, r.ID) {
		for _, a := range f.newDuct(run) {
			if describe(a.Pieces) != describe(r.Pieces) {
				out = append(out, a)
			}
		}
	}
	last := r.Pieces[len(r.Pieces)-1]
	for i := range out {
		p := out[i].Pieces[len(out[i].Pieces)-1]
		out[i].stands = slices.Contains(f.o.Later.Ready, r.ID) && p.Size == last.Size && p.Make.Family == last.Make.Family
	}
	out = f.few(r.ID, out, 0, network.MaxAlternatives)
	if len(out) > 0 { // the shop that all plans start from has the cheapest
		f.n = f.n.With(out[0].Changes...)
		f.p.Base = f.n
	}
	return out
}

// withGate adds the gate of a tool that comes later to the lines of its run.
func (f *formulator) withGate(run int, pieces []network.Piece, lines []parts.Line) []parts.Line {
	port := f.n.PortAt(run)
	if port == nil || port.Gate == nil || !f.o.comesLater(f.n.Spec().Runs[run].ID) {
		return lines
	}
	last := &pieces[len(pieces)-1]
	return append(lines, f.b.NewGate(f.n.Spec().Runs[run].ID, last.Size, last.Make.Family)...)
}

// stands reports whether the wye of a run that comes later is there and fits.
func (e runEnd) stands() bool { return e.a != nil && e.a.stands }

// legLater keeps of the lines of a joint that stands what its leg that comes later
// takes.
func (p *Problem) legLater(j *network.Joint, lines []parts.Line) []parts.Line {
	leg := parts.MainLeg
	if p.waits(j.Branch) {
		leg = parts.BranchLeg
	}
	lines = slices.DeleteFunc(lines, func(l parts.Line) bool { return l.Leg != leg })
	for i := range lines {
		lines[i].Later = true
	}
	return lines
}

// whyLater says of a run that comes later what is there of it now.
func (p *Problem) whyLater(c *Choice, a int) string {
	next := p.Base.Next(c.Run)
	switch {
	case next >= 0 && p.waits(next):
		return "comes later, with its tool"
	case c.Alternatives[a].stands:
		return "comes later, with its tool; its wye is there"
	}
	return "comes later, with its tool; now its wye and a cap"
}

// waits reports whether a run comes later.
func (p *Problem) waits(run int) bool {
	return run >= 0 && slices.Contains(p.Later.Runs, p.Base.Spec().Runs[run].ID)
}

// Waits reports whether a state runs a tool that comes later.
func (p *Problem) Waits(s *network.State) bool {
	return slices.ContainsFunc(s.Running, func(id string) bool { return slices.Contains(p.Later.Tools, id) })
}

// capped marks in the lines of a joint what comes later: the leg of a run that
// does, or all of it where the joint only serves such runs. Where the joint is
// made now the opening that waits gets a cap.
func (p *Problem) capped(j *network.Joint, lines []parts.Line) []parts.Line {
	main, branch := p.waits(j.Main), p.waits(j.Branch)
	if !main && !branch {
		return lines
	}
	leg := parts.MainLeg
	if branch {
		leg = parts.BranchLeg
	}
	whole := p.waits(j.Common) || main && (branch || j.Branch < 0) || branch && j.Main < 0 && p.endsNow(j)
	for i := range lines {
		lines[i].Later = whole || lines[i].Leg == leg
	}
	wye := slices.IndexFunc(lines, func(l parts.Line) bool { return l.Item.Kind == price.Wye })
	if whole || wye < 0 {
		return lines
	}
	size := lines[wye].Item.Sizes[0] // of the line itself
	if branch {
		size = lines[wye].Item.Sizes[1]
	}
	return append(lines, p.builder.Blank(size, lines[wye].Item.Family, []string{j.Point})...)
}

// endsNow reports whether nothing that is there now comes in at a joint's point.
func (p *Problem) endsNow(j *network.Joint) bool {
	spec := p.Base.Spec()
	for i := range spec.Runs {
		if spec.Runs[i].To == j.Point && !p.waits(i) {
			return false
		}
	}
	return true
}
