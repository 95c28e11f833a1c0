package parts

import (
	"cmp"
	"fmt"
	"slices"

	"wyewright/network/catalog"
	"wyewright/network/units"
	"wyewright/optimize/price"
)

// CutGroup is how the pipe of one family and size is cut.
type CutGroup struct {
	Family, Size string
	// Stick is the length that the pipe is sold in, Kerf what each cut takes.
	Stick, Kerf units.Length
	Sticks      []Stick
	// Least is a number of sticks that no cut list can go below; 0 where it is
	// not known.
	Least int
	// NoKerf is how many sticks would do with a saw of no width; 0 where that is
	// not known.
	NoKerf int
	// Instead are pieces that duct which comes out would do for. They are on the
	// sticks all the same, and are not credited.
	Instead []Instead

	pieces []CutPiece // before they are laid out
}

// Instead is a piece that could be cut from duct that comes out.
type Instead struct {
	Piece CutPiece
	// From is the run that comes out, with that much pipe in one piece.
	From   string
	Length units.Length
}

// Proved reports whether no cut list needs fewer sticks.
func (g *CutGroup) Proved() bool { return len(g.Sticks) <= g.Least }

// Status says how good the number of sticks is.
func (g *CutGroup) Status() string {
	switch over := len(g.Sticks) - g.Least; {
	case over <= 0:
		return "optimal"
	case g.Least <= 0:
		return "not proved"
	case over == 1:
		return "not proved, at most 1 stick more than the least possible"
	default:
		return fmt.Sprintf("not proved, at most %d sticks more than the least possible", over)
	}
}

// Offcuts are the rests of the sticks, the longest first.
func (g *CutGroup) Offcuts() []units.Length {
	var out []units.Length
	for _, s := range g.Sticks {
		if s.Rest > lengthGrain {
			out = append(out, s.Rest)
		}
	}
	slices.SortFunc(out, func(a, b units.Length) int { return cmp.Compare(b, a) })
	return out
}

// Waste is the share of the sticks that becomes offcuts and sawdust.
func (g *CutGroup) Waste() float64 {
	used := units.Length(0)
	for _, s := range g.Sticks {
		for _, p := range s.Pieces {
			used += p.Length
		}
	}
	if len(g.Sticks) == 0 {
		return 0
	}
	return max(1-float64(used/(g.Stick*units.Length(len(g.Sticks)))), 0)
}

// instead finds pieces for which duct of the same family and size that comes out
// would do: it comes apart into sticks and a remainder, and the pieces, the
// longest first, are cut from the first of these that is long enough.
func (g *CutGroup) instead(lines []Line) {
	spare := CutGroup{Stick: g.Stick}
	for i := range lines {
		l := &lines[i]
		if l.Action == Remove && l.Item.Kind == price.Pipe && l.Item.Family == g.Family && catalog.Same(l.Item.Sizes[0], g.Size) {
			spare.cut(l.Where, units.Length(l.Qty))
		}
	}
	if len(spare.pieces) == 0 {
		return
	}
	wanted := slices.Clone(g.pieces)
	slices.SortStableFunc(wanted, func(a, b CutPiece) int { return cmp.Compare(b.Length, a.Length) })
	left := slices.Clone(spare.pieces)
	for _, p := range wanted {
		at := slices.IndexFunc(left, func(s CutPiece) bool { return s.Length >= p.Length-lengthGrain/2 })
		if at < 0 {
			continue
		}
		g.Instead = append(g.Instead, Instead{p, spare.pieces[at].Where, spare.pieces[at].Length})
		left[at].Length -= p.Length + g.Kerf
	}
}
