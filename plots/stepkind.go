package plots

import "image/color"

// StepKind is what spends the pressure in a [Step].
type StepKind int

// The kinds of step, in the order of the legend, each with its own filling.
const (
	StepEntry     StepKind = iota // from the room into the port: tool, hood and gate
	StepStraight                  // friction of pipe and hose
	StepBend                      // bends and other fittings within a run
	StepWye                       // where streams meet; often below zero
	StepSize                      // change of size
	StepSeparator                 // inlet of the collector, cyclone
	StepFilter
	StepDischarge // behind the fan
	StepTotal     // pressure of the fan

	stepKinds
)

// Fillings of the waterfall beside the palette. With it they make a ladder of
// darkness; TestStepsInGrey holds its rungs. [our choice]
var (
	steel = color.NRGBA{R: 0x3a, G: 0x5c, B: 0x8c, A: 0xff}
	umber = color.NRGBA{R: 0x8f, G: 0x6b, B: 0x2e, A: 0xff}
	cloud = color.NRGBA{R: 0x8a, G: 0xa3, B: 0xc0, A: 0xff}
)

// stepLook is how a kind is drawn and called.
type stepLook struct {
	word        string
	fill, hatch color.NRGBA
}

// look returns the word and the colours of the kind: what belongs to the duct
// is blue or white, what belongs to the collector is brown, sand or black.
func (k StepKind) look() stepLook {
	return [stepKinds]stepLook{
		StepEntry:     {"entry", slate, white},
		StepStraight:  {"pipe and hose", navy, white},
		StepBend:      {"bends and fittings", steel, white},
		StepWye:       {"wye", white, ink},
		StepSize:      {"change of size", cloud, ink},
		StepSeparator: {"inlet, separator", umber, white},
		StepFilter:    {"filter", sand, ink},
		StepDischarge: {"discharge", ink, white},
		StepTotal:     {"total", mist, ink},
	}[k]
}

// outline returns the rim of the bar, stronger about the total.
func (k StepKind) outline() stroke {
	if k == StepTotal {
		return stroke{width: 1.2, color: ink}
	}
	return stroke{width: 0.8, color: ink}
}

// String returns the word of the legend.
func (k StepKind) String() string {
	if k < 0 || k >= stepKinds {
		return "unknown"
	}
	return k.look().word
}
