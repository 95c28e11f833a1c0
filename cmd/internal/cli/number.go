package cli

import (
	"fmt"
	"math"
	"strings"

	"wyewright/network"
	"wyewright/network/units"
)

// number prints a number with a fixed count of decimals, nothing as 0 and never
// as -0.
func number(x float64, decimals int) string {
	s := fmt.Sprintf("%.*f", decimals, x)
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return s
}

// percent prints a ratio in per cent. What misses its limit never reads 100: it
// is printed finer, and cut rather than rounded.
func percent(ratio float64) string {
	if math.IsInf(ratio, 1) {
		return "" // nothing is asked for
	}
	if p := 100 * ratio; network.Meets(ratio) || p < 99 {
		return number(p, 0)
	}
	return number(math.Floor(1000*ratio)/10, 1)
}

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
