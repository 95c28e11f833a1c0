// Package calibrate fits a network to readings: it says how well the model
// reproduces them, which faults explain what it does not, how large they are and
// how sure that is, and which reading would tell rival explanations apart.
//
// A reading above or below a meter's range counts as a bound. Friction never
// removes air: where less flows toward the machine than toward the fan, air
// comes in between, or a reading is wrong; a fit cannot explain it by a rough
// duct.
package calibrate

import "wyewright/network"

// Place says what kind of place a reading was taken at.
type Place uint8

// Kinds of place.
const (
	AtRun   Place = iota // the narrowest piece of a run
	AtPort               // a port of a tool
	AtPoint              // wall pressure at a point
	AtFan                // the inlet of a collector
)

// Quantity says what was read.
type Quantity uint8

// Quantities.
const (
	Velocity Quantity = iota // m/s
	Flow                     // m³/s
	Suction                  // static pressure below the room, Pa
	Current                  // of a collector's motor, A: only its changes count
)

// Bound says how a reading binds the true value.
type Bound uint8

// Bounds.
const (
	Exact   Bound = iota
	AtLeast       // over the range of the meter
	AtMost        // under it
)

// Reading is one value read in one operating state.
type Reading struct {
	// Name is what messages call it, Source where it is written.
	Name, Source string
	State        network.State
	Place        Place
	// Index is the run, tool, or point; Port the port of a tool.
	Index, Port int
	// Fan names the collector of a reading at one; empty means the one in place.
	Fan      string
	Quantity Quantity
	Value    float64
	Bound    Bound
	// Centre says that the speed was read at one point on the axis: it is the
	// mean over the probe factor.
	Centre bool
	// OpenEnd says that the hose was pulled off the machine: a plain end
	// (Fh 0.93) stands in its place.
	OpenEnd bool
	// Doubt is one standard deviation as a share of the value; 0 means the
	// usual one of its kind.
	Doubt float64
	// Date tells sessions of measuring apart: a filter's resistance is fitted
	// for each. Empty is a date too.
	Date string
	// Along says that Distance from the upstream end of the run, m, is known:
	// the piece there is what was read, not the narrowest.
	Along    bool
	Distance float64
}

// Usual doubts, one standard deviation as a share of the value (common
// practice; of suction and current our choice).
const (
	doubtTraverse = 0.05
	doubtCentre   = 0.10
	doubtMouth    = 0.15
	doubtSuction  = 0.02
	doubtCurrent  = 0.05
	// Least doubts: what a meter cannot tell from nothing.
	leastVelocity = 0.1  // m/s
	leastFlow     = 2e-3 // m³/s
	leastSuction  = 5.0  // Pa
	leastCurrent  = 0.1  // A
)

// Sigma is a reading's standard deviation in its own unit.
func (r *Reading) Sigma() float64 {
	share, least := r.Doubt, leastVelocity
	switch {
	case share > 0:
	case r.Quantity == Suction:
		share = doubtSuction
	case r.Quantity == Current:
		share = doubtCurrent
	case r.OpenEnd:
		share = doubtMouth
	case r.Centre:
		share = doubtCentre
	default:
		share = doubtTraverse
	}
	switch r.Quantity {
	case Flow:
		least = leastFlow
	case Suction:
		least = leastSuction
	case Current:
		least = leastCurrent
	}
	return max(share*r.Value, least)
}
