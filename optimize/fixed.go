package optimize

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math/bits"
	"slices"
	"strings"

	"wyewright/network"
	"wyewright/network/catalog"
)

// Fixed settles a run beforehand, so that a redesign may be held against another
// in which it is settled otherwise: new duct for it has one size, or is of some
// families, or both. Of what there is the run may keep only what is so already.
type Fixed struct {
	// Size is the nominal size, "" for any that is offered anyway.
	Size string
	// Families the run may be made of; nil means those of the Options. Hose that
	// is there counts as duct of any family.
	Families []string
}

// NotOffered says that a run cannot be had as it was settled beforehand.
type NotOffered struct {
	Run string
	// Reason says why, in words.
	Reason string
}

// Error implements error.
func (e *NotOffered) Error() string { return "optimize: " + e.Run + ": " + e.Reason }

// keeps reports whether a run is as it was settled.
func (x *Fixed) keeps(r *network.Run) bool {
	for i := range r.Pieces {
		p := &r.Pieces[i]
		if x.Size != "" && !catalog.Same(x.Size, p.Size) || x.Families != nil && !p.Make.Hose() && !slices.Contains(x.Families, p.Make.Family) {
			return false
		}
	}
	return true
}

// fixed is what was settled of a run, nil where nothing was.
func (f *formulator) fixed(run string) *Fixed {
	x, ok := f.o.Fix[run]
	if !ok {
		return nil
	}
	return &x
}

// families are those that a run may be made of.
func (f *formulator) families(run string) []string {
	if x := f.fixed(run); x != nil && x.Families != nil {
		return x.Families
	}
	return f.o.Families
}

// stays reports whether a run is to stay as it is.
func (f *formulator) stays(r *network.Run) bool {
	return slices.Contains(f.o.Keep, r.ID) && !f.mustChange(r)
}

// mustChange reports whether a run may not stay as it is.
func (f *formulator) mustChange(r *network.Run) bool {
	x := f.fixed(r.ID)
	return x != nil && !x.keeps(r)
}

// bar marks the alternatives of a settled run that leave it as it is where that
// is otherwise, and refuses one of which nothing is left.
func (f *formulator) bar(r *network.Run, alts []Alternative) (barred uint64, err error) {
	if !f.mustChange(r) {
		return 0, nil
	}
	for a := range alts {
		if !alts[a].fresh {
			barred |= 1 << a
		}
	}
	if bits.OnesCount64(barred) < len(alts) {
		return barred, nil
	}
	return 0, &NotOffered{r.ID, f.notOffered(r)}
}

// notOffered says why nothing is offered for a settled run, and where its size is
// sold. A run of rigid duct is never made of hose.
func (f *formulator) notOffered(r *network.Run) string {
	var priced []string
	for _, d := range f.p.Dropped {
		if rest, ok := strings.CutPrefix(d, r.ID+": "); ok {
			priced = append(priced, rest)
		}
	}
	hose := slices.ContainsFunc(r.Pieces, func(p network.Piece) bool { return p.Make.Hose() })
	families := slices.DeleteFunc(slices.Sorted(slices.Values(f.families(r.ID))), func(name string) bool {
		fam, ok := f.b.Catalog.Family(name)
		return ok && fam.Hose && !hose
	})
	x := f.fixed(r.ID)
	switch {
	case len(priced) > 0:
		return strings.Join(priced, "; ")
	case len(families) == 0:
		return "the file names no family of duct that may be bought"
	case x.Size == "":
		return "not made of " + strings.Join(families, " or ") + " in a size on offer"
	default:
		return fmt.Sprintf("no %s duct is sold in %s; the nearest: %s%s", x.Size, strings.Join(families, " or "),
			strings.Join(f.nearest(x.Size, families), ", "), f.soldIn(x.Size))
	}
}

// soldIn names the families of rigid duct that sell a size, "" where none does.
func (f *formulator) soldIn(size string) string {
	var names []string
	for _, fam := range f.b.Catalog.Families() {
		if _, ok := fam.Size(size); ok && !fam.Hose {
			names = append(names, fam.Name)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return "; " + size + " is sold in " + strings.Join(names, ", ")
}

// nearest are the sizes that families of rigid duct sell nearest to one that they
// do not, the smallest first.
func (f *formulator) nearest(size string, families []string) []string {
	d, _ := catalog.ParseSize(size)
	var sizes []catalog.Size
	for _, name := range families {
		fam, ok := f.b.Catalog.Family(name)
		if !ok || fam.Hose {
			continue
		}
		s := fam.Nearest(d)
		if !slices.ContainsFunc(sizes, func(o catalog.Size) bool { return catalog.Same(o.Name, s.Name) }) {
			sizes = append(sizes, s)
		}
	}
	slices.SortFunc(sizes, func(a, b catalog.Size) int { return cmp.Compare(a.Nominal, b.Nominal) })
	var out []string
	for _, s := range sizes {
		out = append(out, s.Name)
	}
	return out
}

// may reports whether no alternative of a plan is barred.
func (p *Problem) may(pick []int) bool {
	for i, a := range pick {
		if p.Choices[i].barred>>a&1 == 1 {
			return false
		}
	}
	return true
}

// first is the plan that changes nothing but what is settled beforehand.
func (p *Problem) first() []int {
	pick := make([]int, len(p.Choices))
	for i := range pick {
		pick[i] = bits.TrailingZeros64(^p.Choices[i].barred)
	}
	return pick
}

// Barred reports whether no plan may take an alternative, because something else
// was settled beforehand.
func (c *Choice) Barred(alternative int) bool { return c.barred>>alternative&1 == 1 }

// Try judges a plan, one alternative per choice, in every state, each with the
// allowed companions that serve it best.
func (p *Problem) Try(ctx context.Context, pick []int) ([]StateResult, error) {
	if len(pick) != len(p.Choices) {
		return nil, errors.New("optimize: a plan needs one alternative per choice")
	}
	x, err := newSearch(ctx, p, nil)
	if err != nil {
		return nil, err
	}
	return x.states(pick, p.Network(pick))
}

// Unsold names the points at which a plan needs a joint that is not sold or has
// no price.
func (p *Problem) Unsold(pick []int) []string {
	var out []string
	for i := range p.joints {
		j := &p.joints[i]
		if j.at(at(pick, j.main), at(pick, j.branch), at(pick, j.common)) == unsold && !slices.Contains(out, j.Point) {
			out = append(out, j.Point)
		}
	}
	return out
}
