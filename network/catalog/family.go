package catalog

import (
	"math"

	"wyewright/network"
	"wyewright/network/units"
)

// JointKind says how two pieces of a family are put together, which decides
// the couplings that a joint needs.
type JointKind string

// Kinds of joint (common practice).
const (
	// Sleeve duct needs a coupling between two pipes and between two
	// fittings; a fitting slips into a pipe without one.
	Sleeve JointKind = "sleeve"
	// Crimp duct slips together, the crimped end pointing toward the
	// collector.
	Crimp JointKind = "crimp"
	// Bell pipe has sockets on its fittings; two cut pipes need a coupling.
	Bell JointKind = "bell"
	// Clamp duct has a ring clamp at every joint.
	Clamp JointKind = "clamp"
	// HoseEnd is hose slipped over a spigot and held by a hose clamp.
	HoseEnd JointKind = "hose"
)

// PlasticCaution is the note that every plastic family carries.
const PlasticCaution = "home/hobby only; ask the authority"

// Family is a kind of duct with the sizes and fittings that it is sold in.
type Family struct {
	Name string
	// Region is where the sizes are common: "EU", "US" or "any".
	Region        string
	Plastic, Hose bool
	// Make is what the air sees of it; WyeDegrees is the first of Angles.
	Make network.Make
	// Angles are the branch angles of its wyes, degrees, the usual one first.
	Angles []float64
	// Stick is the length that pipe is sold in; 0 for hose, sold by length.
	Stick units.Length
	Joint JointKind
	// Collapse is the suction that the duct is stated to stand; 0 means that
	// there is no stated figure; see Stands.
	Collapse units.Pressure
	// Sizes are in ascending order of the nominal size.
	Sizes []Size
	// Note is what to tell the user about the family.
	Note   string
	Source string

	byName   map[string]int
	wyes     [][]bool // by common and branch
	reducers [][]bool // symmetric
	long     map[int]bend
}

// Size returns the size of that name, in any spelling of the same quantity.
func (f *Family) Size(name string) (Size, bool) {
	i := f.index(name)
	if i < 0 {
		return Size{}, false
	}
	return f.Sizes[i], true
}

// index returns the place of a size in Sizes, or −1.
func (f *Family) index(name string) int {
	if i, ok := f.byName[name]; ok {
		return i
	}
	d, err := ParseSize(name)
	if err != nil {
		return -1
	}
	if i := f.nearest(d); math.Abs(float64(f.Sizes[i].Nominal-d)) < sameSize {
		return i
	}
	return -1
}

// nearest returns the size whose nominal is closest to d, the smaller of two
// equally close ones.
func (f *Family) nearest(d units.Length) int {
	best := 0
	for i := range f.Sizes {
		if math.Abs(float64(f.Sizes[i].Nominal-d)) < math.Abs(float64(f.Sizes[best].Nominal-d)) {
			best = i
		}
	}
	return best
}

// Nearest returns the size of the family whose nominal is closest to d.
func (f *Family) Nearest(d units.Length) Size { return f.Sizes[f.nearest(d)] }

// Lookup is Size with an error: a *SizeError that hints at the nearest size,
// or the fault of the name itself.
func (f *Family) Lookup(name string) (Size, error) {
	if s, ok := f.Size(name); ok {
		return s, nil
	}
	d, err := ParseSize(name)
	if err != nil {
		return Size{}, err
	}
	return Size{}, &SizeError{f.Name, name, f.Nearest(d).Name}
}

// Piece returns a piece of the family with the true inner diameter. A length
// of 0 means the length of the route (network.Piece).
func (f *Family) Piece(size string, length units.Length) (network.Piece, error) {
	s, err := f.Lookup(size)
	if err != nil {
		return network.Piece{}, err
	}
	return network.Piece{Size: s.Name, Diameter: s.Diameter, Length: length, Make: f.Make}, nil
}
