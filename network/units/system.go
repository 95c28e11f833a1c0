package units

import "fmt"

// System is the family of units in which values are printed.
type System int

// The systems of units.
const (
	US System = iota // inches, feet, cfm, fpm, inches of water, °F, hp
	SI               // millimetres, metres, m³/h, m/s, Pa, °C, kW
)

// String returns the word that ParseSystem reads: "us" or "si".
func (s System) String() string {
	switch s {
	case US:
		return "us"
	case SI:
		return "si"
	}
	return fmt.Sprintf("System(%d)", int(s))
}

// ParseSystem reads "us" or "si". Any other text is a *ParseError.
func ParseSystem(s string) (System, error) {
	for _, sys := range []System{US, SI} {
		if s == sys.String() {
			return sys, nil
		}
	}
	accepted := []string{US.String(), SI.String()}
	return 0, &ParseError{Quantity: "system of units", Input: s, Reason: "unknown system", Accepted: accepted}
}
