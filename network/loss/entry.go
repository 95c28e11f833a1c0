package loss

import (
	"math"
	"slices"
)

// An EntryKind is a shape of opening with its published loss factor Fh, on
// the velocity pressure of the port behind it.
type EntryKind struct {
	Name   string
	Fh     float64
	Source Source
}

var entryKinds = []EntryKind{
	{"plain end", 0.93, sourceEntry},
	{"flanged end", 0.49, sourceEntry},
	{"bellmouth", 0.04, sourceEntry},
	{"straight take-off", 0.65, sourceEntry},
	{"tapered take-off", 0.40, sourceEntry},
	{"tapered take-off (regulation)", 0.45, sourceCFR},
	{"slot", 1.78, sourceEntry}, // on the velocity pressure in the slot
}

// Entry returns the entry loss factor Fh of the named kind of opening, on the
// velocity pressure of the port: hood static suction = (1 + Fh)·½ρV². The
// "slot" (sharp-edged orifice) is on the velocity pressure in the slot itself.
// The result is false for an unknown name; EntryKinds lists the known ones.
func Entry(kind string) (fh float64, ok bool) {
	for i := range entryKinds {
		if entryKinds[i].Name == kind {
			return entryKinds[i].Fh, true
		}
	}
	return 0, false
}

// EntryTable returns the kinds of opening with their sources, in a fixed
// order. The caller owns the slice.
func EntryTable() []EntryKind { return slices.Clone(entryKinds) }

// EntryKinds returns the names that Entry knows, in the order of EntryTable.
// The caller owns the slice.
func EntryKinds() []string {
	names := make([]string, len(entryKinds))
	for i, k := range entryKinds {
		names[i] = k.Name
	}
	return names
}

// hoodTaper holds Fh of a round tapered hood over its included angle.
var hoodTaper = table{[]point{{20, 0.11}, {40, 0.06}, {60, 0.09}, {90, 0.16}, {120, 0.27}, {180, 0.50}}, sourceTaper}

// HoodTaper returns Fh of a round tapered hood of the given included angle in
// degrees, on the velocity pressure of the duct behind it, piecewise linear
// between the published angles 20° to 180°. Outside them the end value is held
// and extrapolated is true; below 20° that is too low, since the hood then
// nears a plain end.
func HoodTaper(degrees float64) (fh float64, extrapolated bool) { return hoodTaper.at(degrees) }

// CoefficientOfEntry returns Ce = 1/√(1 + Fh), the flow through an opening
// over the flow that the same static suction would give without loss.
func CoefficientOfEntry(fh float64) float64 { return 1 / math.Sqrt(1+fh) }
