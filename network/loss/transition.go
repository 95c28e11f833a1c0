package loss

import "math"

// SuddenContraction returns K of an abrupt step from a large duct (area A1)
// into a small one (A2) on the SMALL duct's velocity pressure,
//
//	K = 0.5(1 − A2/A1)^0.75
//
// (Idelchik 1966), from ratio = A2/A1, small over large, held to [0, 1].
func SuddenContraction(ratio float64) float64 {
	s := math.Sqrt(1 - unit(ratio))
	return 0.5 * s * math.Sqrt(s) // (1−r)^¾ = √(1−r)·√√(1−r)
}

// SuddenExpansion returns K of an abrupt step from a small duct (area A1)
// into a large one (A2) on the SMALL duct's velocity pressure,
//
//	K = (1 − A1/A2)²
//
// (Borda-Carnot), from ratio = A1/A2, small over large, held to [0, 1].
func SuddenExpansion(ratio float64) float64 {
	e := 1 - unit(ratio)
	return e * e
}

// contraction holds K of a gradual contraction over the included angle.
// Where the printed values spread with the area ratio the middle is taken.
var contraction = table{[]point{{15, 0.05}, {40, 0.05}, {60, 0.07}, {90, 0.155}}, sourceContraction}

// Taper returns K of a conical change of diameter, air running from dFrom to
// dTo, on the SMALL duct's velocity pressure. The angle is the included one.
//
// Contraction: 0.05 up to 40°, 0.07 at 60°, 0.155 at 90° (handbook values;
// published 0.06-0.08 and 0.12-0.19), linear between, then linear to the
// sudden value at 180°, and nowhere above the sudden value.
//
// Diffuser: min(1, 2.6 sin(θ/2))·(1 − β²)², β the ratio of diameters (Crane
// TP-410). Crane switches to (1−β²)² at 45°, half a per cent above the formula
// there; the minimum meets it at 45.2° without the step. Other correlations
// exceed the sudden value by up to half between 60° and 90°; this one does not.
//
// Equal diameters give exactly 0. An angle that is not between 0 and 180 (a
// missing one) counts as abrupt, never as free. Wall friction along the cone
// is not included.
func Taper(dFrom, dTo, includedDegrees float64) float64 {
	if dFrom == dTo {
		return 0
	}
	if !(includedDegrees > 0 && includedDegrees < 180) {
		includedDegrees = 180
	}
	beta := min(dFrom, dTo) / max(dFrom, dTo)
	if dTo > dFrom {
		return min(1, 2.6*math.Sin(includedDegrees*(math.Pi/360))) * SuddenExpansion(beta*beta)
	}
	sudden := SuddenContraction(beta * beta)
	k, _ := contraction.at(includedDegrees)
	k = min(k, sudden)
	if includedDegrees > 90 {
		k += (sudden - k) * (includedDegrees - 90) / 90
	}
	return k
}

// unit holds x to [0, 1]; not a number counts as 0.
func unit(x float64) float64 {
	if !(x > 0) {
		return 0
	}
	return min(x, 1)
}
