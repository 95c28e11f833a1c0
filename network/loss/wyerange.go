package loss

// BranchRange encloses Branch over every flow ratio between q0 and q1, held
// to [0, 1]: no q in the interval gives a K outside [lo, hi], rounding
// included, and the ends are reached within 1e-9. The search for a cheapest
// design rests its proofs on this.
func (w Wye) BranchRange(q0, q1 float64) (lo, hi float64) {
	q0, q1 = interval(q0, q1)
	switch {
	case q1 < w.split:
		return w.low.enclose(q0, q1)
	case q0 >= w.split:
		return w.high.enclose(q0, q1)
	}
	lo, hi = w.low.enclose(q0, w.split)
	lo2, hi2 := w.high.enclose(w.split, q1)
	return min(lo, lo2), max(hi, hi2)
}

// ThroughRange encloses Through over every flow ratio between q0 and q1, as
// BranchRange does Branch.
func (w Wye) ThroughRange(q0, q1 float64) (lo, hi float64) {
	q0, q1 = interval(q0, q1)
	return w.through.enclose(q0, q1)
}

// interval holds both ends to [0, 1] and puts them in order.
func interval(q0, q1 float64) (float64, float64) {
	q0, q1 = unit(q0), unit(q1)
	return min(q0, q1), max(q0, q1)
}
