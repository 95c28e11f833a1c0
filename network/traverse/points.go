package traverse

import (
	"errors"
	"fmt"
	"math"

	"wyewright/network/units"
)

// ErrPoints marks a number of points that the rule does not have.
var ErrPoints = errors.New("traverse: number of points")

// Rule says where the points of a diameter lie.
type Rule uint8

// Rules.
const (
	// EqualArea puts a point into the middle of each of n/2 rings of equal
	// area, on both sides: r = R·√((2i−1)/n), i from 1 at the centre (the rule
	// of US EPA Method 1, table 1-2).
	EqualArea Rule = iota
	// Printed is the table for 6, 8 and 10 points that instrument manuals print
	// as log-Tchebycheff. For round ducts it agrees with the log-linear rule of
	// ISO 3966 as far as we know it (from memory), whatever its name. The
	// points' weights are equal.
	Printed
)

// printed is the upper half of the table, fractions of the diameter from the
// wall.
var printed = map[int][]float64{
	6:  {0.032, 0.135, 0.321},
	8:  {0.021, 0.117, 0.184, 0.345},
	10: {0.019, 0.077, 0.153, 0.217, 0.361},
}

// maxPoints is the largest number of points on a diameter; below, rings get
// thinner than a probe.
const maxPoints = 24

// Positions are the places of n points on a diameter as fractions of it from
// the wall, in order. The equal-area rule takes even n from 2 to 24, the printed
// one 6, 8 and 10; the error wraps ErrPoints.
func Positions(rule Rule, n int) ([]float64, error) {
	out := make([]float64, max(0, n))
	switch half, ok := printed[n]; {
	case rule == Printed && !ok:
		return nil, fmt.Errorf("%w: %d, the table has 6, 8 and 10", ErrPoints, n)
	case rule == Printed:
		for i, x := range half {
			out[i], out[n-1-i] = x, 1-x
		}
	case n < 2 || n%2 != 0 || n > maxPoints:
		return nil, fmt.Errorf("%w: %d, not an even number from 2 to %d", ErrPoints, n, maxPoints)
	default:
		for i := range n / 2 {
			// The ring counts from the centre, the point from the wall.
			ring := float64(n/2 - i)
			x := (1 - math.Sqrt((2*ring-1)/float64(n))) / 2
			out[i], out[n-1-i] = x, 1-x
		}
	}
	return out, nil
}

// Depths are the places of n points as distances from the wall of a duct.
func Depths(rule Rule, n int, diameter units.Length) ([]units.Length, error) {
	at, err := Positions(rule, n)
	if err != nil {
		return nil, err
	}
	out := make([]units.Length, n)
	for i, x := range at {
		out[i] = units.Length(x) * diameter
	}
	return out, nil
}

// MeanOverCentre is the mean speed over that on the axis of a profile that goes
// with the 1/n-th power of the distance from the wall, 2n²/((n+1)(2n+1)):
// 0.817 for n = 7. Short ducts and smooth entries are flatter, about 0.9 (common
// practice); slow air in small pipes is more pointed, down to 0.5 where it is
// laminar.
func MeanOverCentre(n float64) float64 { return 2 * n * n / ((n + 1) * (2*n + 1)) }
