package network

import (
	"slices"

	"wyewright/network/air"
	"wyewright/network/fan"
	"wyewright/network/loss"
	"wyewright/network/units"
)

// Spec is the full description of a shop as the solver sees it: plain values
// in SI, no prices, no file positions. New checks it and compiles it into a
// Network.
type Spec struct {
	Name string
	Air  air.State
	// Friction is the law for straight duct; the zero value is Colebrook.
	Friction Friction
	// Collectors lists every collector the shop has or may have. Of those at
	// the same point one is in place: the first, unless a State names another.
	// Collectors at different points run together.
	Collectors []Collector
	Points     []Point
	Runs       []Run
	Tools      []Tool
	Leaks      []Leak
	Bleeds     []Bleed
}

// Friction selects the law for straight duct.
type Friction uint8

// Friction laws.
const (
	// Colebrook is the Colebrook–White law, the default.
	Colebrook Friction = iota
	// SwameeJain is the explicit approximation of 1976, for cases that were
	// computed with it.
	SwameeJain
	// Frictionless switches friction off: published cases whose
	// coefficients already hold the duct's own loss.
	Frictionless
)

// Vec is a place in the shop in metres: x and y in plan, z up.
type Vec struct{ X, Y, Z float64 }

// Point joins runs. A point that is not Placed has no coordinates, so runs at
// it need a length and take default angles.
type Point struct {
	ID     string
	At     Vec
	Placed bool
}

// Make says how a piece of duct is made, as far as the air can tell.
type Make struct {
	// Family is the catalogue name, for example "dust spiral".
	Family string
	// Roughness is the absolute roughness of the wall. For hose it is that
	// of the smooth pipe the multiple refers to.
	Roughness units.Length
	// Multiple is f/f_smooth of hose; 0 and 1 mean rigid pipe.
	Multiple float64
	// Elbow and ElbowRD are the bends this family is bent with.
	Elbow   loss.ElbowStyle
	ElbowRD float64
	// WyeDegrees is the branch angle of the family's wye (default 45).
	WyeDegrees float64
	// TaperDegrees is the included angle of its reducers (default 30).
	TaperDegrees float64
}

// Hose reports whether the piece is flexible hose.
func (m Make) Hose() bool { return m.Multiple > 1 }

// Piece is a length of one size and one family.
type Piece struct {
	// Size is the name the trade gives it: "120 mm", "4 in".
	Size string
	// Diameter is the true inner diameter.
	Diameter units.Length
	// Length is measured along the piece. When every piece of a run has
	// length 0 the run takes the length of its route.
	Length units.Length
	Make   Make
	// K is what the piece loses on top of friction and the bends of the
	// route, on its own velocity pressure (a kink, a crushed spot).
	K float64
}

// Overrides are coefficients measured or known for a run as it was built.
// They stand on the velocity pressure of the run's last piece (the one
// toward the collector) and belong to the as-built part: a replacement run
// has none. Nil means: from the model.
type Overrides struct {
	// Bends replaces every bend of the route, also the elbow that turns the
	// branch into its wye.
	Bends *float64
	// Junction replaces what the run loses at its downstream point: wye leg,
	// or bend and change of size where only two runs meet, or the change of
	// size at the collector's inlet. It holds while the runs of its wye are
	// as built; the main's covers every wye of its point.
	Junction *float64
	// Steps replaces the changes of size inside the run and from the port
	// into the run.
	Steps *float64
}

// Run goes from a point to the next one toward the collector.
type Run struct {
	ID, From, To string
	// Via are corners between the two ends. Without any, a run between two
	// placed points follows the axes: drop, then the shorter horizontal
	// leg, then the longer one.
	Via    []Vec
	Pieces []Piece
	K      Overrides
	// Gate is a gate in the run; nil means none. It is closed in a state in
	// which no opening upstream of it is open.
	Gate *Gate
	// Main says that this run is the main at its downstream point.
	Main bool
	// New marks a run that a redesign put in; its overrides are gone.
	New bool
	// Rejoined marks a run whose downstream joint a redesign made anew while the
	// duct stayed: the overrides of that joint are gone for all its legs. Where
	// the run is the branch there, the elbow that turns it into the new wye comes
	// on top of its override of the bends, which knows only what was there.
	Rejoined bool
	// LeakClass is the surface leakage, m³/s per m² at 1 Pa (Q = C·p^0.65);
	// 0 means tight.
	LeakClass float64
}

// Turn lets the air go through the run the other way: its ends are exchanged,
// corners and pieces in reverse order. What is known of its junction and its
// steps as built says nothing of that and lapses.
func (r *Run) Turn() {
	r.From, r.To = r.To, r.From
	r.Via, r.Pieces = slices.Clone(r.Via), slices.Clone(r.Pieces)
	slices.Reverse(r.Via)
	slices.Reverse(r.Pieces)
	r.K.Junction, r.K.Steps, r.Main, r.Rejoined = nil, nil, false, false
}

// Gate is a sliding shut-off.
type Gate struct {
	// Open is the loss coefficient when open, on the velocity pressure of
	// the port or of the run's last piece.
	Open float64
	// Leak is the free area when closed.
	Leak units.Area
}

// Tool is a machine with one or more ports.
type Tool struct {
	ID string
	// Flow is what the tool needs, over all its ports.
	Flow units.Flow
	// Basis says where the need comes from: "maker", "rule", "guess".
	Basis string
	// Dust is the name of its dust class, Transport the velocity that class
	// needs.
	Dust      string
	Transport units.Velocity
	Ports     []Port
}

// Port is one spigot of a tool.
type Port struct {
	At       string // point
	Size     string
	Diameter units.Length
	// Entry is the loss coefficient of the machine on the port's velocity
	// pressure: hood static pressure = (1+Entry)·VP.
	Entry float64
	// Gate is the port's shut-off; nil means the port is always open.
	Gate *Gate
	// Min is the least flow of this port; 0 means no such need.
	Min units.Flow
}

// Leak is an unwanted opening at a point.
type Leak struct {
	ID, At string
	Area   units.Area
	// Cd is the discharge coefficient; 0 means 0.62.
	Cd float64
}

// Bleed is a gated inlet of clean air at a point.
type Bleed struct {
	ID, At   string
	Size     string
	Diameter units.Length
	// K is the loss of screen and gate on its own velocity pressure.
	K float64
	// Leak is the free area when closed.
	Leak units.Area
}

// CurveMeaning says what the pressure of a fan curve is.
type CurveMeaning uint8

// Meanings of a fan curve's pressure.
const (
	// SuctionAtInlet is static suction read at the wall of the inlet: it
	// includes the inlet's velocity pressure, so total suction there is
	// the reading less ½ρV².
	SuctionAtInlet CurveMeaning = iota
	// FanStatic is fan static pressure of an inlet-ducted fan: it equals
	// the total suction at the inlet.
	FanStatic
	// FanTotal is the rise of total pressure across the fan (published
	// cases with discharge ducts).
	FanTotal
)

// Collector is the fan with its separator, filter and motor.
type Collector struct {
	ID    string
	At    string // point
	Inlet units.Length
	// InletSize is the name of the inlet's size.
	InletSize string
	Curve     fan.Curve
	Meaning   CurveMeaning
	// Separator is subtracted unless the curve includes it (then leave it
	// nil).
	Separator *fan.Separator
	Filter    fan.Filter
	// CleanIncluded says that the curve was taken with the clean filter: only
	// loaded − clean is subtracted.
	CleanIncluded bool
	Motor         *fan.Motor
	// Discharge lists ducts behind the fan in series, up to the open air.
	// Their coefficients hold the exit loss.
	Discharge []Piece
}

// Spin brings the collector's fan to by times its speed, by the fan laws: curve
// and power points; the spec that was copied from keeps its own.
func (c *Collector) Spin(by float64) {
	c.Curve = fan.AtSpeed(c.Curve, by)
	if c.Motor != nil {
		m := c.Motor.AtSpeed(by)
		c.Motor = &m
	}
}

// FilterState says which filter a solve assumes.
type FilterState uint8

// Filter states.
const (
	Loaded FilterState = iota
	Clean
)

// State is an operating state: what runs, and what is open with it.
type State struct {
	Name string
	// Running tools: flow and transport rules bind them.
	Running []string
	// Open lists tools (all their ports) and bleeds that stand open with
	// the running ones: companions, or a forgotten gate.
	Open []string
	// Collector in place at its point; empty means the first there.
	Collector string
	// Off lists collectors that stand still, their inlet shut.
	Off []string
	// OpenGates and ShutGates list runs whose gates stand open or shut
	// whatever is open upstream.
	OpenGates, ShutGates []string
	Filter               FilterState
}

// Override returns a pointer to k, for Overrides.
func Override(k float64) *float64 { return &k }
