package loss

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// ErrUnknown is what an error about an unknown name unwraps to.
var ErrUnknown = errors.New("loss: unknown name")

// ElbowStyle is the way a round elbow is made.
type ElbowStyle uint8

// The styles of elbow that have a published table.
const (
	Smooth     ElbowStyle = iota // pressed, drawn or bent, no seams across the flow
	FivePiece                    // five gores (mitred segments) for 90°
	ThreePiece                   // three gores for 90°
	Mitred                       // one mitred joint, no radius
)

// elbowNames are the names as they are written in files, in the order of the
// constants.
var elbowNames = [...]string{"smooth", "five-piece", "three-piece", "mitred"}

// String returns the name of the style, such as "five-piece".
func (s ElbowStyle) String() string {
	if int(s) < len(elbowNames) {
		return elbowNames[s]
	}
	return fmt.Sprintf("ElbowStyle(%d)", uint8(s))
}

// ParseElbowStyle returns the style of that name, as String writes it, in
// either case. The error names the known styles and unwraps to ErrUnknown.
func ParseElbowStyle(name string) (ElbowStyle, error) {
	i := slices.IndexFunc(elbowNames[:], func(n string) bool { return strings.EqualFold(n, name) })
	if i < 0 {
		return 0, fmt.Errorf("%w: elbow style %q (known: %s)", ErrUnknown, name, strings.Join(elbowNames[:], ", "))
	}
	return ElbowStyle(i), nil
}

// elbow90 holds K of the 90° elbow over R/D, by style.
var elbow90 = [...]table{
	Smooth:     {[]point{{0.5, 0.71}, {0.75, 0.33}, {1, 0.22}, {1.5, 0.15}, {2, 0.13}, {2.5, 0.12}}, sourceElbow},
	FivePiece:  {[]point{{0.75, 0.46}, {1, 0.33}, {1.5, 0.24}, {2, 0.19}, {2.5, 0.17}}, sourceElbow},
	ThreePiece: {[]point{{0.5, 0.98}, {0.75, 0.54}, {1, 0.42}, {1.5, 0.34}, {2, 0.33}, {2.5, 0.33}}, sourceElbow},
}

// elbowAngle holds the factor on the 90° value over the angle turned.
var elbowAngle = table{[]point{{0, 0}, {20, 0.31}, {30, 0.45}, {45, 0.60}, {60, 0.78}, {75, 0.90}, {90, 1},
	{110, 1.13}, {130, 1.20}, {150, 1.28}, {180, 1.40}}, sourceElbowAngle}

// mitre holds K of a single mitred joint over the angle turned.
var mitre = table{[]point{{0, 0}, {20, 0.08}, {30, 0.16}, {45, 0.34}, {60, 0.55}, {75, 0.81}, {90, 1.2}}, sourceMitre}

// Elbow returns K of a round elbow on its own velocity pressure, from the
// radius ratio rd = R/D (centre-line radius over diameter) and the angle
// turned in degrees: the 90° value of the style (SMACNA table A-7) times an
// angle factor, both piecewise linear. A mitred joint has its own table
// over the angle and ignores rd.
//
// Beyond the ends of a table the end value is held and extrapolated is true.
// For a radius below the table that is too LOW a loss; above it, slightly too
// high. A mitre of more than 90° is held at 90°. An angle of zero costs
// nothing. The tables are for ducts of about 250 mm and up: elbows of 75 to
// 150 mm lose 1.3 to 2 times as much by handbook tables over the diameter.
// An unknown style panics.
func Elbow(s ElbowStyle, rd, degrees float64) (k float64, extrapolated bool) {
	if s == Mitred {
		return mitre.at(degrees)
	}
	if int(s) >= len(elbow90) {
		panic("loss: unknown elbow style")
	}
	k90, outRD := elbow90[s].at(rd)
	factor, outAngle := elbowAngle.at(degrees)
	return k90 * factor, outRD || outAngle
}
