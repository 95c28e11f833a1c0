package loss

import "math"

// A Junction is a wye for any direction of its three flows: what network loops
// and cross-links need, where the air of one state runs backward in another.
//
// Main m, branch b and common duct c are those of the converging wye that the
// fitter made: the branch joins the main at the angle α. Flows qm and qb count
// into the wye, and qc = qm + qb out of it. Main and Branch give the fall of
// total pressure from that leg to the common duct, over ½ρ, in (m³/s)²/m⁴:
//
//	qm ≥ 0, qb ≥ 0            the published converging wye (NewWye)
//	qm parts into b and c     turns by 180° − α into the branch
//	qb parts into m and c     turns by 180° − α into the main
//	qc < 0 parts into m and b turns by α into the branch
//	qb and qc join into m     a wye entered against its angle
//	qm and qc join into b     a blend of the two turns
//
// A stream that turns by β from a velocity V into V' loses
// ½ρ(V² + V'² − 2VV' cos β); a stream that passes straight while others leave it
// loses 0.4·½ρ·(what leaves, as velocity)². Both are the forms of Idelchik,
// Handbook of Hydraulic Resistance, for dividing wyes, from memory. Their
// constants are adjusted so that each meets its neighbours where a flow is 0, the
// adjustment fading with the flow it belongs to: the whole is continuous in both flows, and of second degree. But for the first
// line nothing of it was held against measurements: an answer that rests on it
// should say so.
type Junction struct {
	wye      Wye
	cc       float64 // 1/A² of the common duct
	regions  [regions][2]quad
	against  quad    // the wye entered against its angle, before its factor
	aStar, w float64 // that factor at qb = 0 and at qc = 0
}

// quad is mm·qm² + mb·qm·qb + bb·qb².
type quad struct{ mm, mb, bb float64 }

func (q quad) plus(r quad, by float64) quad {
	return quad{q.mm + by*r.mm, q.mb + by*r.mb, q.bb + by*r.bb}
}

// square is by·(m·qm + b·qb)².
func square(m, b, by float64) quad { return quad{by * m * m, 2 * by * m * b, by * b * b} }

// product is (m1·qm + b1·qb)·(m2·qm + b2·qb)·by.
func product(m1, b1, m2, b2, by float64) quad {
	return quad{by * m1 * m2, by * (m1*b2 + b1*m2), by * b1 * b2}
}

func (q quad) at(m, b float64) (d, byM, byB float64) {
	return q.mm*m*m + q.mb*m*b + q.bb*b*b, 2*q.mm*m + q.mb*b, q.mb*m + 2*q.bb*b
}

// The directions but that of the converging wye: named by the one leg that
// runs alone.
const (
	mainParts = iota
	branchParts
	commonParts
	mainGathers
	branchGathers
	regions
)

const (
	legMain = iota
	legBranch
)

// passing is the share of what leaves a stream that the stream itself loses.
const passing = 0.4

// squarePass is the middle coefficient of the straight leg of a square wye:
// 1.55q − q² is 2·0.775·q(1−q) + 0.55·q² (Idelchik 1966).
const squarePass = 0.775

// NewJunction prepares a junction; see NewWye for the arguments and the panic.
func NewJunction(areaBranch, areaMain, areaCommon, degrees float64) *Junction {
	j := &Junction{wye: NewWye(areaBranch, areaMain, areaCommon, degrees)}
	cb, cm, cc := 1/(areaBranch*areaBranch), 1/(areaMain*areaMain), 1/(areaCommon*areaCommon)
	j.cc = cc
	cos := math.Cos(degrees * (math.Pi / 180))
	bm, bc := math.Sqrt(cb*cm)*cos, math.Sqrt(cb*cc)*cos
	k := func(f func(float64) (float64, float64), q float64) float64 {
		x, _ := f(q)
		return x * cc
	}
	// The ends of the converging wye.
	through0, through1 := k(j.wye.Through, 0), k(j.wye.Through, 1)
	branch0, branch1 := k(j.wye.Branch, 0), k(j.wye.Branch, 1)

	// The main parts: a falls to c, b to the branch. There qb < 0.
	still := through0 - branch0 // what a branch at rest loses of qm²
	t := square(1, 1, through0).plus(quad{bb: 1}, passing*cm)
	b := quad{still, -2 * bm, cb}
	j.regions[mainParts] = [2]quad{t, t.plus(b, -1)}

	// The branch parts: u falls to c, w to the main. There qm < 0.
	turn := branch1 / (cb + cc - 2*bc)
	u := quad{bb: turn * cb}.plus(square(1, 1, cc), turn).plus(product(0, 1, 1, 1, -2*bc), turn)
	j.w = (branch1 - through1) / cb
	w := quad{cm, -2 * bm, cb}
	j.regions[branchParts] = [2]quad{u.plus(w, -j.w), u}

	// The common duct parts, with r of its own in the other way. There qm, qb
	// and qc = qm + qb are below 0.
	r := 0.0
	if areaMain < areaCommon {
		r = 0.5 * math.Pow(1-areaMain/areaCommon, 0.75) * cm
	}
	j.aStar = -branch0 / cm
	te := quad{mm: r, bb: passing * cc}
	be := square(1, 1, cc).plus(quad{mm: r + j.aStar*cm - cc, bb: cb}, 1).plus(product(0, 1, 1, 1, -2*bc), 1)
	j.regions[commonParts] = [2]quad{te.plus(te, -2), te.plus(be, -1).plus(te, -1)}

	// Branch and common duct gather in the main, h = −qm: against has the fall
	// from the branch to the main, e from the common duct.
	end := j.w*(cm+cb+2*bm) - turn*cb
	j.against = quad{mm: cm}.plus(quad{bb: cb + 2*bm}, 1).plus(square(1, 1, cm), -2)
	e := square(1, 1, r).plus(quad{bb: end}, 1).plus(product(0, 1, -1, -1, 2*squarePass*cm), 1)
	j.regions[mainGathers] = [2]quad{e.plus(e, -2), e.plus(e, -2)}

	// Main and common duct gather in the branch, h = −qb, −qc of it from the
	// common duct.
	m0 := still + cb + 2*bm
	c0 := m0 - passing*cm
	c1 := cc + cb - 2*bc
	m1 := c1 - passing*cc
	fromMain := product(1, 0, 0, -1, m0).plus(product(-1, -1, 0, -1, m1), 1)
	fromCommon := product(1, 0, 0, -1, c0).plus(product(-1, -1, 0, -1, c1), 1)
	j.regions[branchGathers] = [2]quad{fromMain.plus(fromCommon, -1), fromCommon.plus(fromCommon, -2)}
	return j
}

// Main is the fall from the main to the common duct and its slopes.
func (j *Junction) Main(qm, qb float64) (d, byM, byB float64) { return j.fall(legMain, qm, qb) }

// Branch is the fall from the branch to the common duct and its slopes.
func (j *Junction) Branch(qm, qb float64) (d, byM, byB float64) { return j.fall(legBranch, qm, qb) }

// Converging reports whether the flows are those of the converging wye.
func (j *Junction) Converging(qm, qb float64) bool { return qm >= 0 && qb >= 0 }

func (j *Junction) fall(leg int, qm, qb float64) (d, byM, byB float64) {
	qc := qm + qb
	switch {
	case qm >= 0 && qb >= 0:
		return j.converge(leg, qb, qc)
	case qm > 0 && qc >= 0:
		return j.regions[mainParts][leg].at(qm, qb)
	case qb > 0 && qc >= 0:
		return j.regions[branchParts][leg].at(qm, qb)
	case qb >= 0: // qc < 0, qm < 0
		d, byM, byB = j.regions[mainGathers][leg].at(qm, qb)
		if leg == legBranch {
			x := -qb / qm
			f, v := j.aStar+(j.w-j.aStar)*x, 0.0
			var vm, vb float64
			v, vm, vb = j.against.at(qm, qb)
			d += f * v
			byM += f*vm + v*(j.w-j.aStar)*qb/(qm*qm)
			byB += f*vb - v*(j.w-j.aStar)/qm
		}
		return d, byM, byB
	case qm <= 0: // all run out of the common duct
		return j.regions[commonParts][leg].at(qm, qb)
	}
	return j.regions[branchGathers][leg].at(qm, qb)
}

// converge is the converging wye on the flows of branch and common duct.
func (j *Junction) converge(leg int, qb, qc float64) (d, byM, byB float64) {
	if qc == 0 {
		return 0, 0, 0
	}
	x := qb / qc
	var k, dk float64
	if leg == legMain {
		k, dk = j.wye.Through(x)
	} else {
		k, dk = j.wye.Branch(x)
	}
	// k·qc² with x = qb/qc.
	byM = j.cc * (2*k*qc - dk*qb)
	return j.cc * k * qc * qc, byM, byM + j.cc*dk*qc
}
