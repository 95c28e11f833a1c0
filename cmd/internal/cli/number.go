package cli

import (
	"fmt"

	"wyewright/network/units"
)

// number prints a number with a fixed count of decimals.
func number(x float64, decimals int) string { return fmt.Sprintf("%.*f", decimals, x) }

// velocity prints a velocity without its unit.
func velocity(v units.Velocity, sys units.System) string {
	if sys == units.US {
		return number(v.In(sys), 0)
	}
	return number(v.In(sys), 1)
}

// pressure prints a pressure without its unit.
func pressure(p units.Pressure, sys units.System) string {
	if sys == units.US {
		return number(p.In(sys), 2)
	}
	return number(p.In(sys), 0)
}
