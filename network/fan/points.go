package fan

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
)

// ErrPoints is wrapped by every error about the points of a curve.
var ErrPoints = errors.New("fan: bad curve points")

// samples are the checked points of a curve, by increasing flow.
type samples struct {
	points []Point
	q, p   []float64
}

// newSamples copies the points, sorts them by flow, and checks that they can
// make a curve: at least two, finite, no negative or repeated flow, no negative
// power, and falling from the last but one to the last.
func newSamples(pts []Point) (samples, error) {
	s := samples{points: slices.Clone(pts)}
	if len(pts) < 2 {
		return s, fmt.Errorf("%w: %d given, at least 2 needed", ErrPoints, len(pts))
	}
	for i, pt := range pts {
		for _, x := range [...]float64{float64(pt.Flow), float64(pt.Pressure), float64(pt.Power)} {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				return s, fmt.Errorf("%w: point %d is not finite", ErrPoints, i+1)
			}
		}
		if pt.Flow < 0 || pt.Power < 0 {
			return s, fmt.Errorf("%w: point %d has a negative flow or power", ErrPoints, i+1)
		}
	}
	slices.SortStableFunc(s.points, func(a, b Point) int { return cmp.Compare(a.Flow, b.Flow) })
	for i, pt := range s.points {
		if i > 0 && pt.Flow == s.points[i-1].Flow {
			return s, fmt.Errorf("%w: flow %s is given twice", ErrPoints, pt.Flow.Exact())
		}
		s.q = append(s.q, float64(pt.Flow))
		s.p = append(s.p, float64(pt.Pressure))
	}
	if n := len(s.p); s.p[n-1] >= s.p[n-2] {
		return s, fmt.Errorf("%w: the pressure does not fall at the last point, so that the curve has no end", ErrPoints)
	}
	return s, nil
}

// Points returns a copy of the points, by increasing flow.
func (s *samples) Points() []Point { return slices.Clone(s.points) }

// Range returns the flows of the first and the last point, in m³/s.
func (s *samples) Range() (lo, hi float64) { return s.q[0], s.q[len(s.q)-1] }

// Beyond reports whether the flow q in m³/s lies past the last point, where the
// curve is extrapolated.
func (s *samples) Beyond(q float64) bool { return q > s.q[len(s.q)-1] }

// Humps reports whether the pressure rises with the flow anywhere. Such a curve
// can meet a system curve up to three times; the stable meeting is the one at
// the highest flow.
func (s *samples) Humps() bool {
	for i := 1; i < len(s.p); i++ {
		if s.p[i] > s.p[i-1] {
			return true
		}
	}
	return false
}

// segment returns the index i of the segment from q[i] to q[i+1] that holds q;
// the outer segments hold what lies outside. A point belongs to the segment on
// its right, but the last.
func (s *samples) segment(q float64) int {
	lo, hi := 0, len(s.q)-1
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; q < s.q[mid] {
			hi = mid
		} else {
			lo = mid
		}
	}
	return lo
}

// secant returns the mean slope of segment i.
func (s *samples) secant(i int) float64 { return (s.p[i+1] - s.p[i]) / (s.q[i+1] - s.q[i]) }
