package loss

import "math"

const (
	// LaminarUpTo is the Reynolds number up to which f = 64/Re is used.
	LaminarUpTo = 2300
	// TurbulentFrom is the Reynolds number from which Colebrook-White alone is
	// used. From here on f never rises with Re.
	TurbulentFrom = 4000
	// LeastReynolds is the Reynolds number below which f is held at 64/LeastReynolds.
	LeastReynolds = 1e-6

	// mostRough caps ε/D far outside the range of Colebrook-White, where the
	// formula would lose its root.
	mostRough = 1
	// twoOverLn10 turns −2·log10 into a natural logarithm: 2/ln 10.
	twoOverLn10 = 2 / math.Ln10
)

// Friction returns the Darcy friction factor f and df/dRe for a Reynolds
// number and a relative roughness ε/D (Δp = f·(L/D)·½ρV²).
//
//	Re ≤ 2300         f = 64/Re                                    (Hagen-Poiseuille)
//	Re ≥ 4000         1/√f = −2 log10(ε/(3.7D) + 2.51/(Re√f))      (Colebrook 1939)
//	between           (1−w)·64/Re + w·Colebrook, w = t²(3−2t), t = (Re−2300)/1700
//
// Colebrook-White is solved to better than 1e-12 relative; its derivative
// follows by implicit differentiation. It is meant for ε/D from 0 to 0.05;
// rougher walls are computed but not backed by data. A negative ε/D counts as 0.
//
// f is continuous with its first derivative and falls with Re in both outer
// regimes. It cannot fall everywhere: Colebrook at 4000 gives 0.040 or more,
// 64/2300 gives 0.028, so f rises inside the blend. What is monotone there is
// the weight w, and with it the pressure: f·Re² rises strictly with Re over
// the whole range, because both ends rise and Colebrook lies above 64/Re.
// Measured transition is unsteady and depends on the inlet; no correlation is
// exact between 2300 and 4000.
//
// Below LeastReynolds, and for Re ≤ 0 or not a number, f is held at
// 64/LeastReynolds with zero derivative, so that f·Q² is finite and zero at
// rest. A solver that needs the true slope at rest uses FrictionFlow.
func Friction(re, rel float64) (f, dfdre float64) {
	if re >= TurbulentFrom {
		return colebrook(re, rel)
	}
	if !(re > LaminarUpTo) {
		return laminar(re)
	}
	ft, dft := colebrook(re, rel)
	return blend(re, ft, dft)
}

// FrictionNear is Friction from a guess of 1/√f near the answer, which it
// replaces by the root; 0 is no guess. From a good guess it costs about half; f
// is then right to 1e-10 at least.
func FrictionNear(re, rel float64, root *float64) (f, dfdre float64) {
	if re >= TurbulentFrom {
		return colebrookNear(re, rel, root)
	}
	return Friction(re, rel)
}

// RoughFriction is a first estimate of f in turbulent flow, up to 15 % off, with
// the 1/√f that FrictionNear goes on from (Serghides 1984, first step).
func RoughFriction(re, rel float64) (f, root float64) {
	root = -twoOverLn10 * math.Log(min(max(rel, 0), mostRough)*(1/3.7)+12/re)
	return 1 / (root * root), root
}

// FrictionFlow returns g = f·Re and dg/dRe, the form without the pole at rest:
//
//	Δp = g·μ·L·V/(2D²)
//
// with μ the viscosity (Pa·s). It is 64 at rest and in laminar flow, and takes
// the sign of the flow from V, so that Δp is smooth through zero.
func FrictionFlow(re, rel float64) (g, dgdre float64) {
	if !(re > LaminarUpTo) {
		return 64, 0
	}
	f, df := Friction(re, rel)
	return f * re, f + re*df
}

// laminar is 64/Re with its derivative, held below LeastReynolds.
func laminar(re float64) (f, dfdre float64) {
	if !(re > LeastReynolds) {
		return 64 / LeastReynolds, 0
	}
	f = 64 / re
	return f, -f / re
}

// blend joins the laminar law to a turbulent value ft (and its derivative)
// between LaminarUpTo and TurbulentFrom by a cubic step.
func blend(re, ft, dft float64) (f, dfdre float64) {
	const span = TurbulentFrom - LaminarUpTo
	fl, dfl := laminar(re)
	t := (re - LaminarUpTo) / span
	w := t * t * (3 - 2*t)
	dw := 6 * t * (1 - t) / span
	return fl + w*(ft-fl), dfl + w*(dft-dfl) + dw*(ft-fl)
}

// colebrook solves x + c·ln(b1 + b2·x) = 0 for x = 1/√f, with c = 2/ln 10,
// b1 = ε/(3.7D), b2 = 2.51/Re. The start is Serghides' first estimate (x
// replaced by 12/2.51 inside the logarithm, up to 7 % off); two Halley
// steps, each of third order, leave rounding error only.
func colebrook(re, rel float64) (f, dfdre float64) {
	var root float64
	return colebrookNear(re, rel, &root)
}

// colebrookNear is colebrook from a guess of 1/√f, 0 for none, which it
// replaces by the root.
func colebrookNear(re, rel float64, root *float64) (f, dfdre float64) {
	b1 := min(max(rel, 0), mostRough) * (1 / 3.7)
	inv := 1 / re
	b2 := 2.51 * inv
	x, enough := *root, oneStep
	if x == 0 {
		x, enough = -twoOverLn10*math.Log(b1+12*inv), 0
	}
	u := b1 + b2*x
	ln := math.Log(u)
	first := halley(x+twoOverLn10*ln, u, b2)
	x -= first
	if math.Abs(first) > enough {
		// The argument of the logarithm changed by 1 + d only, and ln(1+d) =
		// 2 artanh(d/(2+d)) is cheaper as a series: with z = d/(2+d) the
		// first term left out is below 2z⁹/9, 1e-13 where |d| < 0.07. From a
		// guess far off it is the logarithm itself.
		d := -b2 * first / u
		if math.Abs(d) < 0.07 {
			z := d / (2 + d)
			zz := z * z
			ln += 2 * z * (1 + zz*(1.0/3+zz*(1.0/5+zz*(1.0/7))))
		} else {
			ln = math.Log(b1 + b2*x)
		}
		u = b1 + b2*x
		x -= halley(x+twoOverLn10*ln, u, b2)
	}
	*root = x
	// dx/dRe = c·b·x/Re / (1 + c·b) with b = b2/u, and f = x⁻², hence
	// df/dRe = −2f·(dx/dRe)/x.
	cb := twoOverLn10 * b2
	y, z := x*x, b1+b2*x+cb
	over := 1 / (y * z)
	f = z * over
	return f, -2 * f * inv * cb * y * over
}

// oneStep is the change of 1/√f up to which one step from a guess is enough. The
// step is of third order; found is an error of f below 1e-10, the largest at Re
// 4000 and a smooth wall. A solver comes back from ever closer, and ends at
// rounding.
const oneStep = 0.005

// halley returns the step F·F'/(F'² − F·F”/2) for a residual F of Colebrook's
// equation, where F' = 1 + c·b, F” = −c·b² and b = b2/u.
func halley(residual, u, b2 float64) float64 {
	slope := u + twoOverLn10*b2
	return residual * u * slope / (slope*slope + 0.5*residual*twoOverLn10*b2*b2)
}
