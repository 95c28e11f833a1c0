package loss

import "math"

// SwameeJain returns the explicit friction factor of Swamee & Jain 1976 and
// its derivative,
//
//	f = 0.25 / [log10(ε/(3.7D) + 5.74/Re^0.9)]²
//
// stated for Re 5e3 to 1e8 and ε/D 1e-6 to 1e-2, within 3 % of
// Colebrook-White there. It exists to reproduce cases computed with it; below
// TurbulentFrom it joins 64/Re exactly as Friction does.
func SwameeJain(re, rel float64) (f, dfdre float64) {
	if !(re > LaminarUpTo) {
		return laminar(re)
	}
	t := 5.74 * math.Exp(-0.9*math.Log(re))
	u := min(max(rel, 0), mostRough)*(1/3.7) + t
	x := -twoOverLn10 * math.Log(u)
	f = 1 / (x * x)
	// dx/dRe = c·0.9·t/(Re·u), df/dRe = −2f·(dx/dRe)/x.
	dfdre = -2 * f / x * twoOverLn10 * 0.9 * t / (re * u)
	if re < TurbulentFrom {
		return blend(re, f, dfdre)
	}
	return f, dfdre
}

// Churchill returns the friction factor of Churchill 1977, one equation for
// all regimes,
//
//	f = 8[(8/Re)¹² + (A+B)^−1.5]^(1/12)
//	A = [2.457 ln(1/((7/Re)^0.9 + 0.27 ε/D))]¹⁶,  B = (37530/Re)¹⁶
//
// It is a cross-check only: 64/Re in laminar flow, within about 4 % of
// Colebrook-White in turbulent flow. Re is held at 1e-6 from below.
func Churchill(re, rel float64) float64 {
	if !(re > LeastReynolds) {
		re = LeastReynolds
	}
	// Factoring 8/Re out of the sum keeps the twelfth and sixteenth powers
	// from overflowing: f = (64/Re)·[1 + (Re/8)¹²(A+B)^−1.5]^(1/12).
	a := 2.457 * math.Log(1/(math.Pow(7/re, 0.9)+0.27*min(max(rel, 0), mostRough)))
	b := 37530 / re
	hi := max(math.Abs(a), b)
	sum := math.Pow(a/hi, 16) + math.Pow(b/hi, 16)
	// (A+B)^−1.5 = hi^−24·sum^−1.5.
	lead := re / (8 * hi * hi)
	return 64 / re * math.Pow(1+math.Pow(lead, 12)*math.Pow(sum, -1.5), 1.0/12)
}
