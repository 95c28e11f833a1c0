package loss

import "math"

// gateLn holds the natural logarithm of K over the open fraction of a slide
// gate, so that linear between the points is log-linear in K.
var gateLn = table{[]point{{0.25, math.Log(24)}, {0.5, math.Log(5)}, {0.75, 0}, {1, math.Log(0.2)}}, sourceGate}

// Gate returns K of a slide (blast) gate on the velocity pressure of its
// duct, from the open fraction of the slide's travel:
//
//	1 → 0.2 (published 0.17 to 0.2), 0.75 → 1, 0.5 → 5, 0.25 → 24
//
// log-linear between (common practice). Below a quarter K grows as the inverse
// square of the opening, 24·(0.25/x)², so that a shut gate gives +Inf: a shut
// gate is an orifice (OrificeFlow), not a coefficient. Above 1 it is held.
func Gate(openFraction float64) float64 {
	x := unit(openFraction)
	if x < 0.25 {
		r := 0.25 / x
		return 24 * r * r
	}
	ln, _ := gateLn.at(x)
	return math.Exp(ln)
}
