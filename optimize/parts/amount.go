package parts

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"wyewright/network/units"
)

// Amount is a quantity of a bill in words: "12", "3.60 m", "2 boxes". Metres
// are feet where the system has them.
func Amount(qty float64, unit string, sys units.System) string {
	switch unit {
	case "each":
		return decimal(qty, 2)
	case "m", "ft", "h":
		if unit == "m" && sys == units.US {
			qty, unit = qty/float64(units.Foot), "ft"
		}
		return strconv.FormatFloat(qty, 'f', 2, 64) + " " + unit
	}
	s := decimal(qty, 2)
	switch {
	case s == "1":
	case strings.HasSuffix(unit, "x"):
		unit += "es"
	default:
		unit += "s"
	}
	return s + " " + unit
}

// sixteenths is the division of an inch on a tape.
const sixteenths = 16

// Mark is a length as one marks it on a pipe: whole millimetres, or inches and
// sixteenths: "2500 mm", "41 7/8 in".
func Mark(l units.Length, sys units.System) string {
	if sys != units.US {
		return strconv.Itoa(int(math.Round(1000*float64(l)))) + " mm"
	}
	n := int(math.Round(sixteenths * float64(l/units.Inch)))
	whole, part, of := n/sixteenths, n%sixteenths, sixteenths
	for part > 0 && part%2 == 0 {
		part, of = part/2, of/2
	}
	switch {
	case part == 0:
		return fmt.Sprintf("%d in", whole)
	case whole == 0:
		return fmt.Sprintf("%d/%d in", part, of)
	}
	return fmt.Sprintf("%d %d/%d in", whole, part, of)
}
