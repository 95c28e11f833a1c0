package mesh

import "math"

// matrix is a sparse square matrix on a pattern, and its factors after factor.
// Turn k has the diagonal value, the values right of it (upper) and those below
// it (lower).
type matrix struct {
	*pattern
	diag         []float64
	upper, lower []float64
}

func newMatrix(p *pattern) *matrix {
	return &matrix{pattern: p, diag: make([]float64, len(p.place)),
		upper: make([]float64, len(p.cols)), lower: make([]float64, len(p.cols))}
}

func (m *matrix) clear() {
	clear(m.diag)
	clear(m.upper)
	clear(m.lower)
}

// slot is the place of a value: entry ≥ 0 in upper, < 0 in lower (as −1−entry),
// or the diagonal.
type slot struct {
	at    int32
	which uint8 // 0 diagonal, 1 upper, 2 lower
}

// slot finds where row i, column j of the unknowns is kept.
func (p *pattern) slot(i, j int) slot {
	a, b := p.place[i], p.place[j]
	switch {
	case a == b:
		return slot{a, 0}
	case a < b:
		return slot{p.entry(a, b), 1}
	}
	return slot{p.entry(b, a), 2}
}

func (m *matrix) add(s slot, x float64) {
	switch s.which {
	case 0:
		m.diag[s.at] += x
	case 1:
		m.upper[s.at] += x
	default:
		m.lower[s.at] += x
	}
}

// leastPivot is the smallest pivot that is divided by, of the unit rows of a
// node or the slopes of a link.
const leastPivot = 1e-9

// factor replaces the matrix by its factors, in the fixed order, and counts
// the pivots above 0. A pivot next to 0 is moved away from it; the step is then
// not exact, and the line search judges it.
func (m *matrix) factor() (positive int) {
	t := int32(0)
	for k := range m.diag {
		d := m.diag[k]
		if math.Abs(d) < leastPivot {
			d = math.Copysign(leastPivot, d)
			m.diag[k] = d
		}
		if d > 0 {
			positive++
		}
		from, to := m.row(k)
		for a := from; a < to; a++ {
			m.lower[a] /= d
		}
		for a := from; a < to; a++ {
			l, u := m.lower[a], m.upper[a]
			m.diag[m.cols[a]] -= l * u
			for b := a + 1; b < to; b++ {
				at := m.targets[t]
				t++
				m.upper[at] -= l * m.upper[b]
				m.lower[at] -= m.lower[b] * u
			}
		}
	}
	return positive
}

// solve replaces x, in turns, by the solution of the factored system.
func (m *matrix) solve(x []float64) {
	for k := range m.diag {
		from, to := m.row(k)
		for a := from; a < to; a++ {
			x[m.cols[a]] -= m.lower[a] * x[k]
		}
	}
	for k := len(m.diag) - 1; k >= 0; k-- {
		from, to := m.row(k)
		sum := x[k]
		for a := from; a < to; a++ {
			sum -= m.upper[a] * x[m.cols[a]]
		}
		x[k] = sum / m.diag[k]
	}
}
