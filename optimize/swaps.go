package optimize

import (
	"fmt"
	"slices"

	"wyewright/network"
	"wyewright/network/catalog"
	"wyewright/optimize/parts"
)

// swapWorth is the least gain in K worth cutting an elbow out for (our choice).
const swapWorth = 0.02

// swaps adds what may be done to the fittings of a run whose duct stays: new
// elbows, a new wye where it enters, both.
func (f *formulator) swaps(out []Alternative, run int) []Alternative {
	bends, gain := f.newElbows(run)
	wye, lapses := f.newWye(run)
	if gain {
		out = f.add(out, run, bends)
	}
	if lapses {
		out = f.add(out, run, wye)
	}
	if gain && lapses {
		out = f.add(out, run, Alternative{Label: bends.Label + " and " + wye.Label, From: bends.From + ", " + wye.From,
			Pieces: bends.Pieces, bent: true, rejoined: true, Lines: slices.Concat(bends.Lines, wye.Lines),
			Changes: slices.Concat(bends.Changes, wye.Changes)})
	}
	return out
}

// newElbows are the elbows of long radius that the family sells in the run's
// size; where it sells none, its usual ones, which two of 45° would not beat:
// they lose 1.2 times as much as one of 90° and the same radius. The result is
// false where they are no gain over what is there, or where nobody knows what
// bends the run has.
func (f *formulator) newElbows(run int) (Alternative, bool) {
	r := &f.n.Spec().Runs[run]
	last := &r.Pieces[len(r.Pieces)-1]
	fam, ok := f.b.Catalog.Family(last.Make.Family)
	way := f.n.Route(run)
	if !ok || fam.Hose || r.K.Bends != nil && !way.Placed {
		return Alternative{}, false
	}
	change := network.SwapElbows{Run: run, Elbow: fam.Make.Elbow, ElbowRD: fam.Make.ElbowRD}
	label := "new elbows"
	if style, rd, sold := fam.LongElbow(last.Size); sold {
		change.Elbow, change.ElbowRD, label = style, rd, "long-radius elbows"
	}
	v := f.n.With(change)
	corners, end, after := v.Bends(run)
	_, _, before := f.n.Bends(run)
	if len(corners) == 0 && end == 0 || before-after < swapWorth {
		return Alternative{}, false
	}
	from := fmt.Sprintf("elbows of R/D %.3g, K %.2f", last.Make.ElbowRD, before)
	if r.K.Bends != nil {
		from = fmt.Sprintf("elbows as built, K %.2f", before)
	}
	pieces := v.Spec().Runs[run].Pieces
	return Alternative{Label: fmt.Sprintf("%s, K %.2f", label, after), From: from, Pieces: pieces, bent: true,
		Lines:   f.b.Elbows(r.ID, f.height(way), &pieces[len(pieces)-1], corners),
		Changes: []network.Change{change}}, true
}

// newWye is the family's wye in place of the joint that a branch enters. It is
// offered only where a coefficient known as built then lapses: without one the
// model takes such a wye already. The wye itself is a term of the point.
func (f *formulator) newWye(run int) (Alternative, bool) {
	if !f.n.Rejoinable(run) {
		return Alternative{}, false
	}
	joints := f.n.Joints()
	j := joints[slices.IndexFunc(joints, func(j network.Joint) bool { return j.Branch == run })]
	spec := f.n.Spec()
	r := &spec.Runs[run]
	a := Alternative{Label: fmt.Sprintf("a new wye of %.0f degrees", j.WyeDegrees), Pieces: r.Pieces, rejoined: true,
		Changes: []network.Change{network.Rejoin{Run: run}}}
	if j.Opposite {
		a.Label += ": the opposed entries become two wyes one behind the other, for which no gain is reckoned"
		last := &r.Pieces[len(r.Pieces)-1]
		a.Lines = f.b.Blank(last.Size, last.Make.Family, []string{j.Point})
	}
	if r.K.Junction != nil {
		a.From = fmt.Sprintf("joint as built, K %.2f", *r.K.Junction)
	} else {
		a.From = fmt.Sprintf("joint as built, K %.2f of the main", *spec.Runs[j.Main].K.Junction)
	}
	lines, sold := f.p.jointOf(j, run)
	if _, unpriced := f.b.Cost(lines); !sold || len(unpriced) > 0 {
		f.drop(r.ID, a.Label, "no such wye is sold, or it has no price")
		return a, false
	}
	return a, true
}

// jointOf are the parts of the joint that a branch enters made anew between
// ducts that stay.
func (p *Problem) jointOf(j network.Joint, branch int) ([]parts.Line, bool) {
	spec := p.Base.Spec()
	at := func(run int) *network.Run {
		if run < 0 {
			return nil
		}
		return &spec.Runs[run]
	}
	return p.builder.Joint(j, at(j.Main), at(branch), at(j.Common), p.inlet(&j), [3]bool{false, true, false})
}

// inlet is the name of the collector's size for a joint at its inlet.
func (p *Problem) inlet(j *network.Joint) string {
	if j.Common >= 0 {
		return ""
	}
	return p.Base.Spec().Collectors[0].InletSize
}

// bentEnds are the elbows at a joint that stays, of runs that get new ones.
func (p *Problem) bentEnds(j *joint, main, branch runEnd) []parts.Line {
	var out []parts.Line
	for _, e := range []runEnd{main, branch} {
		if e.a == nil || !e.a.bent {
			continue
		}
		if _, degrees, _ := p.Base.Bends(e.index); degrees > 0 {
			pieces := e.run.Pieces
			out = append(out, p.builder.Elbows(j.Point, p.builder.Options.Height[j.Point], &pieces[len(pieces)-1], []float64{degrees})...)
		}
	}
	return out
}

// longElbows are new duct for a run with elbows of long radius, where those are
// not the family's usual ones and the run has bends.
func (f *formulator) longElbows(run int, fam *catalog.Family, s catalog.Size, hadHose bool) []Alternative {
	style, rd, sold := fam.LongElbow(s.Name)
	if !f.o.SwapFittings || !sold || rd <= fam.Make.ElbowRD {
		return nil
	}
	corners, end, _ := f.n.With(network.ReplaceRun{Run: run, Pieces: f.n.Spec().Runs[run].Pieces}).Bends(run)
	if len(corners) == 0 && end == 0 {
		return nil
	}
	return f.replace(nil, run, fam, s, hadHose, func(p *network.Piece) {
		p.Make.Elbow, p.Make.ElbowRD = style, rd
	})
}
