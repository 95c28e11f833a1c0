package catalog

import (
	"wyewright/network/collapse"
	"wyewright/network/units"
)

// addWall notes the thickness of a size's wall.
func (f *Family) addWall(r row) {
	i := f.index(r.text("size"))
	if i < 0 {
		r.fail("size", ErrSize)
		return
	}
	f.Sizes[i].Wall, f.Sizes[i].WallSource = get(r, "wall", units.ParseLength), r.text("source")
}

// Material is what the wall of the family is taken for: PVC for plastic, else
// sheet steel.
func (f *Family) Material() collapse.Material {
	if f.Plastic {
		return collapse.PVC
	}
	return collapse.Steel
}

// Stands is the suction that a piece of the family is said to stand: Collapse
// where that is stated, else the estimate for the given wall, and for that of
// the size where none is given. Hose is held open by its wire, so that a wall
// says nothing of it. The inner diameter is the true one.
func (f *Family) Stands(size string, inner, wall units.Length) collapse.Limit {
	if f.Collapse > 0 {
		return collapse.Limit{Suction: f.Collapse, Basis: collapse.Stated}
	}
	if f.Hose {
		return collapse.Limit{}
	}
	if s, ok := f.Size(size); ok && wall == 0 {
		wall = s.Wall
	}
	return collapse.Estimate(f.Material(), wall, inner)
}
