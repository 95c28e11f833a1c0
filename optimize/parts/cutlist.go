package parts

import (
	"cmp"
	"slices"

	"wyewright/network/catalog"
	"wyewright/network/units"
	"wyewright/optimize/price"
)

// CutPiece is a length to cut from a stick.
type CutPiece struct {
	Where  string
	Length units.Length
}

// Stick is one stick with what is cut from it and what is left over.
type Stick struct {
	Family, Size string
	Length       units.Length
	Pieces       []CutPiece
	Rest         units.Length
}

// CutList lays the pipe to buy out on sticks: each length is cut into whole
// sticks and a remainder, and the remainders are packed, the longest first,
// each into the first stick with room for it (first-fit decreasing: for given
// lengths at most 11/9 of the least number of sticks and two thirds of one,
// Dósa 2007, LNCS 4614:1, from memory). It cuts net lengths; the width of the
// saw is neglected. Families that are not sold in sticks are left out. The
// order is by family and size, then that of the lines.
func (b *Builder) CutList(lines []Line) []Stick {
	var out []Stick
	for _, g := range b.pipes(lines) {
		out = append(out, pack(g)...)
	}
	return out
}

// pipeGroup is the pipe of one family and size.
type pipeGroup struct {
	stick   Stick
	nominal units.Length
	pieces  []CutPiece
}

func (b *Builder) pipes(lines []Line) []pipeGroup {
	var groups []pipeGroup
	for i := range lines {
		l := &lines[i]
		f, ok := b.Catalog.Family(l.Item.Family)
		if l.Action != Buy || l.Item.Kind != price.Pipe || !ok || f.Stick <= 0 || l.Qty <= 0 {
			continue
		}
		size := l.Item.Sizes[0]
		n := slices.IndexFunc(groups, func(g pipeGroup) bool { return g.stick.Family == f.Name && g.stick.Size == size })
		if n < 0 {
			d, _ := catalog.ParseSize(size) // an unreadable size sorts first
			n = len(groups)
			groups = append(groups, pipeGroup{stick: Stick{Family: f.Name, Size: size, Length: f.Stick}, nominal: d})
		}
		groups[n].pieces = append(groups[n].pieces, CutPiece{l.Where, units.Length(l.Qty)})
	}
	slices.SortStableFunc(groups, func(x, y pipeGroup) int {
		return cmp.Or(cmp.Compare(x.stick.Family, y.stick.Family), cmp.Compare(x.nominal, y.nominal))
	})
	return groups
}

// pack lays one group out.
func pack(g pipeGroup) []Stick {
	var sticks []Stick
	var rests []CutPiece
	open := func(p CutPiece) {
		s := g.stick
		s.Pieces, s.Rest = []CutPiece{p}, s.Length-p.Length
		sticks = append(sticks, s)
	}
	for _, p := range g.pieces {
		for p.Length >= g.stick.Length-lengthGrain {
			open(CutPiece{p.Where, g.stick.Length})
			p.Length -= g.stick.Length
		}
		if p.Length > lengthGrain {
			rests = append(rests, p)
		}
	}
	slices.SortStableFunc(rests, func(x, y CutPiece) int { return cmp.Compare(y.Length, x.Length) })
	for _, p := range rests {
		at := slices.IndexFunc(sticks, func(s Stick) bool { return s.Rest >= p.Length-lengthGrain })
		if at < 0 {
			open(p)
			continue
		}
		sticks[at].Pieces = append(sticks[at].Pieces, p)
		sticks[at].Rest = max(sticks[at].Rest-p.Length, 0)
	}
	return sticks
}
