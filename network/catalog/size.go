package catalog

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"wyewright/network/units"
)

// ErrSize is what an error about a size that a family does not have unwraps
// to.
var ErrSize = errors.New("catalog: no such size")

// Size is one size of a family.
type Size struct {
	// Name is what the trade calls it: "120 mm", "4 in".
	Name string
	// Nominal is the length that the name says.
	Nominal units.Length
	// Diameter is the true inner diameter, which the air sees.
	Diameter units.Length
	// Wall is the least thickness of the wall, 0 where no table states it, and
	// WallSource the table.
	Wall       units.Length
	WallSource string
	// Source says where the diameter comes from.
	Source string
}

// SizeError says that a family has no such size, and which one is nearest.
type SizeError struct{ Family, Size, Nearest string }

// Error names the family, the size and the nearest size.
func (e *SizeError) Error() string {
	return fmt.Sprintf("%v: %s has no %q (nearest: %s)", ErrSize, e.Family, e.Size, e.Nearest)
}

// Unwrap returns ErrSize.
func (e *SizeError) Unwrap() error { return ErrSize }

// sameSize is the difference below which two nominal sizes are one, metres:
// far above rounding, far below the 1.6 mm between 100 mm and 4 in.
const sameSize = 5e-5

// ParseSize reads the name of a size as a length: "4 in", `4"`, "4inch",
// "100 mm", "DN 100" (millimetres). A bare number is an error, for it could be
// either.
func ParseSize(name string) (units.Length, error) {
	text := strings.TrimSpace(name)
	if dn, ok := strings.CutPrefix(text, "DN"); ok {
		text = strings.TrimSpace(strings.TrimSuffix(dn, "mm")) + " mm"
	}
	d, err := units.ParseLength(text)
	if err != nil {
		return 0, fmt.Errorf("catalog: size %q: %w", name, err)
	}
	if d <= 0 {
		return 0, fmt.Errorf("catalog: size %q is not positive", name)
	}
	return d, nil
}

// Same reports whether two size names mean the same nominal size.
func Same(a, b string) bool {
	if a == b {
		return true
	}
	da, errA := ParseSize(a)
	db, errB := ParseSize(b)
	return errA == nil && errB == nil && math.Abs(float64(da-db)) < sameSize
}
