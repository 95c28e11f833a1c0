package core

import (
	"math"
	"sort"
)

// point is one step of a step function: cost c does as long as no more than s
// is spent upstream.
type point struct{ s, c float64 }

// steps is a step function, "spent so far → least cost of the rest", as
// points ascending in both; beyond the last it is +Inf.
type steps []point

// at evaluates a step function.
func (f steps) at(s float64) float64 {
	k := sort.Search(len(f), func(k int) bool { return f[k].s >= s })
	if k == len(f) {
		return math.Inf(1)
	}
	return f[k].c
}

// add appends a + b to dst, which is empty.
func add(dst, a, b steps) steps {
	i, j := 0, 0
	for i < len(a) && j < len(b) {
		s := min(a[i].s, b[j].s)
		dst = append(dst, point{s, a[i].c + b[j].c})
		if a[i].s == s {
			i++
		}
		if b[j].s == s {
			j++
		}
	}
	return dst
}

// cut ends a step function at a limit.
func (f steps) cut(limit float64) steps {
	for k := range f {
		if f[k].s >= limit {
			f[k].s = limit
			return f[:k+1]
		}
	}
	return f
}

// window is what of a step function matters: no less than lo and no more than
// hi is spent upstream. Points whose costs differ by less than thin are
// replaced by the loosest, so that the function stays a lower bound.
type window struct{ lo, hi, thin float64 }

// lower appends the lesser of a and b to dst, which is empty; b is taken with
// ds less to spend and dc more to pay.
func (w *window) lower(dst, a, b steps, ds, dc float64) steps {
	top := math.Inf(-1)
	i, j := 0, 0
	for i < len(a) || j < len(b) {
		var p point
		if j == len(b) || i < len(a) && a[i].c <= b[j].c+dc {
			p = a[i]
			i++
		} else {
			p = point{b[j].s - ds, b[j].c + dc}
			j++
		}
		if p.s <= top || p.s < w.lo {
			continue
		}
		top = p.s
		switch k := len(dst); {
		case k > 0 && dst[k-1].c == p.c, k > 0 && p.c < dst[k-1].c+w.thin:
			dst[k-1].s = p.s
		default:
			dst = append(dst, p)
		}
		if p.s >= w.hi {
			break
		}
	}
	return dst
}

// arena hands out step functions that live until it is reset.
type arena struct {
	chunk []point
	next  int
	full  [][]point
}

const chunkSize = 1 << 16

// keep copies a step function into the arena.
func (m *arena) keep(f steps) steps {
	if len(f) == 0 {
		return nil
	}
	if len(m.chunk)+len(f) > cap(m.chunk) {
		m.grow(len(f))
	}
	k := len(m.chunk)
	m.chunk = append(m.chunk, f...)
	return m.chunk[k:len(m.chunk):len(m.chunk)]
}

func (m *arena) grow(n int) {
	for ; m.next < len(m.full); m.next++ {
		if cap(m.full[m.next]) >= n {
			m.chunk = m.full[m.next][:0]
			m.next++
			return
		}
	}
	m.chunk = make([]point, 0, max(n, chunkSize))
	m.full = append(m.full, m.chunk)
	m.next = len(m.full)
}

func (m *arena) reset() {
	m.next, m.chunk = 0, nil
}
