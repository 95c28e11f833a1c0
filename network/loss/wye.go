package loss

import "math"

// A Wye is a converging junction: a branch joins a straight main and both
// leave by the common duct. NewWye turns its areas and angle into polynomials
// in the flow ratio q = Qb/Qc once, so that each evaluation is a few
// multiplications. Both coefficients are on the COMMON duct's velocity
// pressure. Negative values are real: the faster stream drives the slower.
type Wye struct {
	low, high poly    // branch below and above split
	split     float64 // flow ratio where the branch correction changes piece
	through   poly
}

// mainGrows is the area ratio main/common below which the main is taken to
// grow at the wye. The room below 1 is for rounding of equal diameters.
const mainGrows = 1 - 1e-9

// LeastWyePower bounds what a junction may seem to give back: for every q,
//
//	q·Kb + (1−q)·Kst ≥ LeastWyePower
//
// in units of ½ρV² times the flow of the common duct, for angles of 15° to 90°
// and branches no larger than the common duct. A real junction gives back
// nothing; the small negative remainder is the misfit of the two published
// formulas to each other (found: −0.0054, at 15° and equal areas).
const LeastWyePower = -0.006

// NewWye prepares a converging junction of a branch (area Ab) entering at the
// given angle in degrees, a main (As) and the common duct (Ac). With a = Ab/Ac,
// s = As/Ac and q = Qb/Qc:
//
// Main of constant size (s ≥ 1; a larger main is treated as 1, its contraction
// being the caller's):
//
//	Kb  = A*·[1 + (q/a)² − 2(1−q)² − 2q² cos α/a]      (Levin; Idelchik 1966)
//	A*  = 1 − w(1 − A1),  w = clamp((a−0.65)/0.35, 0, 1),  A1 = max(0.9(1−q), 0.55)
//	Kst = [2ψ/(ψ + cos α/2)]·[1 − x² − (1−x)²ψ cos α] + x² − 1,  x = 1−q, ψ = 1/a
//	                                                   (Bassett et al. 2001, α ≤ 60°)
//	Kst = 1.55q − q² at 90° (Idelchik 1966), linear in α between 60° and 90°
//
// The handbooks step A from 1 to A1 at a = 0.35, which halves the branch loss
// at everyday sizes; w blends it instead.
//
// Main that grows at the wye (s < 1), by momentum along the common duct, not
// scored against data:
//
//	Kb  = (q/a)²     + 1 − 2(1−q)²/s − 2q² cos α/a
//	Kst = ((1−q)/s)² + 1 − 2(1−q)²/s − 2q² cos α/a
//
// The two sets do not meet at s = 1: there Kst of Bassett and of momentum
// differ. Data cover 15° to 90°; beyond 90° the branch keeps its cosine and
// the main is held at its 90° value. A branch larger than the common duct is
// computed but breaks LeastWyePower.
//
// Against measured junctions with |K| ≤ 3 (Bassett et al. 2001; Wang, Lu, Deng
// & Qu 2015) the branch errs by 0.11 to 0.12 rms in K, the main by 0.11 to
// 0.19, where it reads low by 0.04 to 0.13 on average.
//
// The areas must be positive, or NewWye panics.
func NewWye(areaBranch, areaMain, areaCommon, degrees float64) Wye {
	if !(areaBranch > 0 && areaMain > 0 && areaCommon > 0) {
		panic("loss: the areas of a wye must be positive")
	}
	a, s := areaBranch/areaCommon, areaMain/areaCommon
	degrees = math.Abs(degrees)
	cos := math.Cos(degrees * (math.Pi / 180))
	// The momentum of the branch along the common duct, and its kinetic energy.
	pull, energy := 2*cos/a, 1/(a*a)
	if s < mainGrows {
		// 1 − 2(1−q)²/s − pull·q², plus (q/a)² or ((1−q)/s)².
		kb := poly{1 - 2/s, 4 / s, energy - 2/s - pull, 0}
		ss := 1 / (s * s)
		kst := poly{1 - 2/s + ss, 4/s - 2*ss, ss - 2/s - pull, 0}
		return Wye{low: kb, high: kb, through: kst}
	}
	// The bracket 1 + (q/a)² − 2(1−q)² − pull·q² in powers of q.
	levin := poly{-1, 4, energy - 2 - pull, 0}
	w := unit((a - 0.65) / 0.35)
	return Wye{
		// 0.9(1−q) = 0.55 at the split; below it A* = (1−0.1w) − 0.9w·q.
		split:   1 - 0.55/0.9,
		low:     levin.timesLinear(1-0.1*w, -0.9*w),
		high:    levin.timesLinear(1-0.45*w, 0),
		through: straight(a, degrees),
	}
}

// straight returns Kst(q) of a main of constant size.
func straight(a, degrees float64) poly {
	square := poly{0, 1.55, -1, 0} // Idelchik 1966 at 90°
	if degrees >= 90 {
		return square
	}
	cos := math.Cos(min(degrees, 60) * (math.Pi / 180))
	psi := 1 / a
	// With x = 1−q: 1 − x² = 2q − q² and x² − 1 = q² − 2q.
	lead := 2 * psi / (psi + cos/2)
	bassett := poly{0, 2*lead - 2, 1 - lead*(1+psi*cos), 0}
	t := unit((degrees - 60) / 30)
	for i := range bassett {
		bassett[i] += t * (square[i] - bassett[i])
	}
	return bassett
}

// Branch returns the loss coefficient of the branch and its derivative in the
// flow ratio q = Qb/Qc, held to [0, 1], on the common duct's velocity
// pressure. The derivative steps at one q (0.389) for branches wider than
// 0.65 of the common area; the value does not.
func (w *Wye) Branch(q float64) (k, dkdq float64) {
	q = unit(q)
	if q < w.split {
		return w.low.at(q)
	}
	return w.high.at(q)
}

// Through returns the loss coefficient of the straight main and its derivative
// in the flow ratio q = Qb/Qc, held to [0, 1], on the common duct's velocity
// pressure.
func (w *Wye) Through(q float64) (k, dkdq float64) { return w.through.at(unit(q)) }
