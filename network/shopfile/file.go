// Package shopfile reads and writes the file in which a workshop is described:
// YAML, version 1, in which every quantity is text with its unit.
//
// Decode is strict. An unknown or repeated key, a bare number, an unknown unit
// or a name that leads nowhere is a fault; all faults of a file are reported
// at once, each with line, column, the source line and a hint. What is odd but
// usable is a warning in File.Warnings.
//
// Rewrite puts a redesign back into the text: the runs, leaks, gates, bleeds,
// states and the collector that changed are replaced, runs that go become
// comments, and every comment and every other line stays as it was typed.
//
// Corridors are ways along which new duct may run, and collector options what
// may be done to a collector at a price; both are offers to a redesign, and no
// part of the shop as built.
//
// Runs and coordinates may stand in tables beside the file, as spreadsheets
// export them (DecodeBeside); Rewrite writes them into the text and leaves the
// tables alone. A tool may be marked as one that comes later: Today is the shop
// without it.
//
// The keys of each section are listed at the function that reads it. A run of
// pieces, a port, a leak and so on have the meaning that package
// network gives them. Money is kept as integer minor units with the currency
// and place it was written at; what it buys is none of this package's business.
package shopfile

import (
	"slices"

	"wyewright/network"
	"wyewright/network/catalog"
	"wyewright/network/units"
)

// Version is the file version this package reads.
const Version = 1

// File is a decoded shop file.
type File struct {
	Name     string
	Units    units.System
	Currency string
	// Spec is the shop as built, with the file's defaults applied.
	Spec network.Spec
	// States are the operating states in file order, makers expanded,
	// repetitions merged.
	States []network.State
	// Readings are the inline ones; ReadingsPath names a file of readings,
	// for the caller to open and hand to DecodeReadings.
	Readings     []Reading
	ReadingsPath string
	Redesign     Redesign
	Prices       Prices
	// Energy is what the redesign and the prices say of energy.
	Energy Energy
	// Seals says which leaks may be closed, and at what price.
	Seals []Seal
	// Repairs says what it costs to make a leaking gate tight.
	Repairs []Repair
	// CollectorPrices lists the collectors that carry a price.
	CollectorPrices []CollectorPrice
	// CollectorOptions are what may be done to the collectors, in file order:
	// another one that is priced, speeds, a renewed filter, and both.
	CollectorOptions []CollectorOption
	// Corridors are the ways along which new duct may run.
	Corridors []Corridor
	// CorridorPoints are the points at which only corridors meet; Spec does not
	// have them.
	CorridorPoints []network.Point
	// BleedPoints are the points at which a bleed inlet may be built.
	BleedPoints []string
	// Fitted is what readings said of the shop; Spec has it in force.
	Fitted   network.Factors
	Warnings []*Diagnostic

	// Later are the tools that come later, in file order. Spec and States have
	// them; Today has not.
	Later []Later
	// RunsPath names the table that the runs come from; empty where they stand in
	// the file.
	RunsPath string
	// PointsPath names the table that the coordinates come from.
	PointsPath string

	name string
	// whole is the file that this one is Today of.
	whole *File
	// tables are those that the file names.
	tables []inlined
	// unit is that of the coordinates.
	unit units.Length
	// places are all points with coordinates, corners of routes included.
	places   []network.Point
	src      []byte
	root     *node
	lines    []string
	catalog  *catalog.Catalog
	defaults defaults
}

// Path is the name that messages call the file by.
func (f *File) Path() string { return f.name }

// Source returns the text the file was decoded from.
func (f *File) Source() []byte { return slices.Clone(f.src) }

// Seal says that a leak may be sealed.
type Seal struct {
	// Leak is the ID of the leak.
	Leak string
	// Allowed is false where the file says "seal: no" or nothing.
	Allowed bool
	// Cost is what sealing it costs; unpriced where the file says "seal: yes".
	Cost Amount
	// Leaves is the area that stays open after sealing.
	Leaves       units.Area
	Line, Column int
}

// Repair says that a leaking gate may be made tight.
type Repair struct {
	// Tool and Port (an index) name the port's gate; Run names a run's gate.
	Tool string
	Port int
	Run  string
	Cost Amount
	// Leaves is the area that leaks after the repair.
	Leaves       units.Area
	Line, Column int
}

// CollectorPrice is what a described collector would cost put in place, labour
// included.
type CollectorPrice struct {
	Collector string
	Cost      Amount
}

// Redesign says what may change and what has to hold.
type Redesign struct {
	// Families may be bought, in order of preference.
	Families []string
	// Keep lists runs that stay as they are.
	Keep []string
	May  May
	// Tail is the length of hose left at the machine where a hose becomes
	// rigid pipe or is shortened; 0 where the file does not say.
	Tail units.Length
	// SizeMin and SizeMax bound the sizes that are offered; 0 means no bound.
	SizeMin, SizeMax units.Length
	// Only limits single runs to the sizes it names.
	Only   []OnlySizes
	Limits Limits
	// Collector is the one the redesign assumes; empty means the first.
	Collector string
	Bleed     BleedRule
	// TakeDown takes down duct that is left out; otherwise it stays, cut off.
	TakeDown bool
}

// May lists the kinds of change that are allowed.
type May struct {
	Resize, ReplaceHose, ShortenHose, Seal, RepairGates, Bleed, SwapFittings bool
	// Routes lets new duct run along the corridors, Collector lets one of the
	// collector options be taken.
	Routes, Collector bool
	// Companions is the largest number of gates or bleeds opened with the
	// running tools of a state (default 1).
	Companions int
}

// OnlySizes names the sizes offered for one run.
type OnlySizes struct {
	Run   string
	Sizes []string
}

// Limits are the conditions a redesign has to meet.
type Limits struct {
	// Margin is how far above the required flow a tool must be: 0.05 is 5 %.
	Margin float64
	// TransportByDust takes the transport velocity of each tool's dust class;
	// otherwise Transport holds for all.
	TransportByDust bool
	Transport       units.Velocity
	// Ceiling is the highest velocity in a duct; 0 means none.
	Ceiling units.Velocity
	// Risers is the share by which the transport velocity rises in a run that
	// is mostly vertical: 0.10 is 10 %.
	Risers float64
}

// BleedRule describes the bleed inlets that a redesign may build.
type BleedRule struct {
	// Sizes are the sizes on offer; none means that the caller chooses.
	Sizes []string
	// K is the loss of screen and gate on the inlet's velocity pressure.
	K float64
}

// Amount is money as it was written, in minor units: 12.50 EUR is 1250.
type Amount struct {
	// Given is false where the file names no price.
	Given bool
	Minor int64
	// Digits is the number of minor digits of the currency (EUR 2, JPY 0).
	Digits   int
	Currency string
	// Per is what the amount is for: "h", "m", "ft" or "" for one piece.
	Per          string
	Line, Column int
}

// Crew says who does the work.
type Crew string

// Crews.
const (
	Amateur      Crew = "amateur"
	Professional Crew = "professional"
)

// Prices are the user's own figures.
type Prices struct {
	Currency string
	// Path names a price file, for the caller to open.
	Path   string
	Labour Amount
	Crew   Crew
	// Waste is the share of duct bought too much; negative where not given.
	Waste float64
	// Freight is what delivery costs, once.
	Freight Amount
	// Kerf is the width that the saw takes at each cut; negative where not given.
	Kerf units.Length
	// Own lists prices by item, in file order.
	Own []OwnPrice
}

// OwnPrice is the user's own price of an item.
type OwnPrice struct {
	Item string
	Cost Amount
}
