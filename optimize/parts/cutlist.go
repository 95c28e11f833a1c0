package parts

import (
	"cmp"
	"math"
	"slices"

	"wyewright/network/catalog"
	"wyewright/network/units"
	"wyewright/optimize/pack"
	"wyewright/optimize/price"
)

// CutPiece is a length to cut from a stick: a part of a run.
type CutPiece struct {
	// Where is the run.
	Where  string
	Length units.Length
	// Part of Of: which piece of the run's pipe of this family and size it is,
	// counted from 1; 0 where that is not known.
	Part, Of int
}

// Stick is one stick with what is cut from it and what is left over when every
// piece and the rest are sawn off.
type Stick struct {
	Family, Size string
	Length       units.Length
	Pieces       []CutPiece
	Rest         units.Length
}

// CutList lays the pipe to buy out on sticks. It is Cuts without what is said
// of each family and size.
func (b *Builder) CutList(lines []Line) []Stick {
	return (&Bill{Cuts: b.Cuts(lines)}).Sticks()
}

// Sticks are those of the cut list, one after the other.
func (b *Bill) Sticks() []Stick {
	var out []Stick
	for i := range b.Cuts {
		out = append(out, b.Cuts[i].Sticks...)
	}
	return out
}

// Cuts lays the pipe to buy out on the fewest sticks, by family and size: each
// length is whole sticks, coupled, and a remainder, and the remainders share
// sticks as pack.Fewest has it, with the width of the saw off between two
// pieces and before the rest. Where the fewest are not proved the group says
// how many more than needed there may be. Lengths are whole tenths of a
// millimetre. Families that are not sold in sticks are left out.
func (b *Builder) Cuts(lines []Line) []CutGroup {
	groups := b.pipes(lines)
	for i := range groups {
		groups[i].pack()
		groups[i].instead(lines)
	}
	return groups
}

// pipes gathers the pieces of each family and size, in order of family and
// size; within that the order is that of the lines.
func (b *Builder) pipes(lines []Line) []CutGroup {
	var groups []CutGroup
	for i := range lines {
		l := &lines[i]
		f, ok := b.Catalog.Family(l.Item.Family)
		if l.Action != Buy || l.Item.Kind != price.Pipe || !ok || f.Stick <= 0 || l.Qty <= 0 {
			continue
		}
		size := l.Item.Sizes[0]
		n := slices.IndexFunc(groups, func(g CutGroup) bool { return g.Family == f.Name && g.Size == size })
		if n < 0 {
			n = len(groups)
			groups = append(groups, CutGroup{Family: f.Name, Size: size, Stick: f.Stick, Kerf: b.o.Kerf})
		}
		groups[n].cut(l.Where, units.Length(l.Qty))
	}
	slices.SortStableFunc(groups, func(x, y CutGroup) int {
		return cmp.Or(cmp.Compare(x.Family, y.Family), cmp.Compare(nominal(x.Size), nominal(y.Size)))
	})
	return groups
}

// nominal is a size by its name; an unreadable one is 0 and sorts first.
func nominal(size string) units.Length {
	d, _ := catalog.ParseSize(size)
	return d
}

// pieces is how many pieces of pipe a length is made of: whole sticks and a
// remainder, which is none up to lengthGrain.
func pieces(length, stick units.Length) int {
	return int(math.Ceil(float64((length - lengthGrain) / stick)))
}

// cut adds the pieces of a length in a run.
func (g *CutGroup) cut(where string, length units.Length) {
	for n := pieces(length, g.Stick); n > 0; n-- {
		p := min(length, g.Stick)
		if n == 1 && g.Stick-p <= lengthGrain {
			p = g.Stick
		}
		g.pieces = append(g.pieces, CutPiece{Where: where, Length: p})
		length -= p
	}
}

// tenths is a length in tenths of a millimetre.
func tenths(l units.Length) int { return int(math.Round(float64(l) * 1e4)) }

// pack lays the pieces out on sticks. A kerf goes with every piece and one with
// the stick, so that the kerfs lie between the pieces.
func (g *CutGroup) pack() {
	g.number()
	kerf := tenths(g.Kerf)
	room := tenths(g.Stick) + kerf
	var rests []CutPiece
	var sizes []int
	for _, p := range g.pieces {
		if p.Length == g.Stick {
			g.Sticks = append(g.Sticks, Stick{g.Family, g.Size, g.Stick, []CutPiece{p}, 0})
			g.Least++
			continue
		}
		rests = append(rests, p)
		sizes = append(sizes, tenths(p.Length)+kerf)
	}
	packing := pack.Fewest(sizes, room, nil)
	g.Least += packing.Least
	for i := range sizes {
		sizes[i] -= kerf
	}
	g.NoKerf = len(g.Sticks) + len(pack.Fewest(sizes, room-kerf, nil).Bins)
	for _, bin := range packing.Bins {
		s := Stick{Family: g.Family, Size: g.Size, Length: g.Stick}
		left := room - kerf // and the saw before the rest
		for _, at := range bin {
			s.Pieces = append(s.Pieces, rests[at])
			left -= sizes[at] + kerf
		}
		s.Rest = units.Length(float64(max(left, 0)) / 1e4)
		g.Sticks = append(g.Sticks, s)
	}
}

// number counts the pieces of each run.
func (g *CutGroup) number() {
	of := map[string]int{}
	for i := range g.pieces {
		of[g.pieces[i].Where]++
		g.pieces[i].Part = of[g.pieces[i].Where]
	}
	for i := range g.pieces {
		g.pieces[i].Of = of[g.pieces[i].Where]
	}
}
