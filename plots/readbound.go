package plots

import "math"

// ReadBound is what a reading says about the value.
type ReadBound int

// The kinds of reading, in the order of the legend.
const (
	ReadExact   ReadBound = iota // the value is Read, give or take Doubt
	ReadAtLeast                  // the meter stood at its upper end, Read
	ReadAtMost                   // the meter stood at its lower end, Read

	readBounds
)

// String returns the words of the legend.
func (b ReadBound) String() string {
	if b < 0 || b >= readBounds {
		return "unknown"
	}
	return [readBounds]string{"read", "over the range", "under the range"}[b]
}

// oddFrom is the miss, in standard deviations, beyond which a reading is odd.
// [common practice: three standard deviations]
const oddFrom = 3

// miss returns how far the model lies from what the reading says. A reading at
// an end of the range says nothing about how far beyond it the value lies.
func (r ReadRow) miss() float64 {
	switch r.Bound {
	case ReadAtLeast:
		return math.Max(0, r.Read-r.Model)
	case ReadAtMost:
		return math.Max(0, r.Model-r.Read)
	}
	return math.Abs(r.Read - r.Model)
}

// odd reports whether the reading misses by more than its doubt explains. One
// that was left out is judged already.
func (r ReadRow) odd() bool {
	return !r.LeftOut && r.Doubt > 0 && r.miss() > oddFrom*r.Doubt*(1+1e-9)
}

// verdict is the word at the end of the row.
func (r ReadRow) verdict() string {
	switch {
	case r.LeftOut:
		return "left out"
	case r.odd():
		return "odd"
	}
	return ""
}
