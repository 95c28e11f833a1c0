package catalog

import (
	"math"

	"wyewright/network"
	"wyewright/network/loss"
)

// mateLimit is the largest relative difference of nominal size that an
// adapter between two families bridges: 160 mm and 6 in differ by 5 %
// (common practice).
const mateLimit = 0.06

// Wye reports whether a wye with this upstream main, branch and downstream
// common is sold: its body has the size of the common duct, the branch must be
// one that the trade combines with it, and a main of another size is joined by
// a reducer that must be sold too. An empty main means the common size.
func (f *Family) Wye(main, branch, common string) bool {
	c, b := f.index(common), f.index(branch)
	if c < 0 || b < 0 || !f.wyes[c][b] {
		return false
	}
	return main == "" || main == common || f.Reducer(main, common)
}

// Reducer reports whether the two sizes can be joined: a reducer between them
// is sold, or they are equal and none is needed. A reducer serves both ways.
func (f *Family) Reducer(from, to string) bool {
	a, b := f.index(from), f.index(to)
	return a >= 0 && b >= 0 && (a == b || f.reducers[a][b])
}

// Branches returns the branch sizes that are sold on a common duct of that
// size, in ascending order.
func (f *Family) Branches(common string) []Size {
	c := f.index(common)
	if c < 0 {
		return nil
	}
	var out []Size
	for b, sold := range f.wyes[c] {
		if sold {
			out = append(out, f.Sizes[b])
		}
	}
	return out
}

// Mate returns the size of this family that is joined to a duct of another
// family with the named size, by an adapter where the two differ: the nearest
// one, if it is within 6 % (common practice: 100 mm and 4 in, 160 mm and 6 in).
func (f *Family) Mate(size string) (Size, bool) {
	if i, ok := f.byName[size]; ok {
		return f.Sizes[i], true
	}
	d, err := ParseSize(size)
	if err != nil {
		return Size{}, false
	}
	s := f.Nearest(d)
	return s, math.Abs(float64(s.Nominal-d)) <= mateLimit*float64(d)
}

// longRadius is the radius over diameter from which an elbow counts as one of
// long radius (common practice).
const longRadius = 1.5

// bend is how an elbow is made.
type bend struct {
	style loss.ElbowStyle
	rd    float64
}

// LongElbow returns how the elbow of long radius of a size is made, style and
// radius over diameter (1.5 or more): the family's usual one where that is long
// already, else the one sold beside it. The last result is false where neither
// is, and for hose, which bends by itself.
func (f *Family) LongElbow(size string) (loss.ElbowStyle, float64, bool) {
	if f.Hose {
		return 0, 0, false
	}
	if f.Make.ElbowRD >= longRadius {
		return f.Make.Elbow, f.Make.ElbowRD, true
	}
	b, ok := f.long[f.index(size)]
	return b.style, b.rd, ok
}

// Long reports whether duct is bent with other elbows than the family's usual
// ones, those of longer radius.
func (f *Family) Long(m *network.Make) bool { return m.ElbowRD > f.Make.ElbowRD }
