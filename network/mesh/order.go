package mesh

import (
	"container/heap"
	"slices"
)

// pattern is the order of elimination and the places of what it fills in. The
// pattern is symmetric, also where the values are not.
type pattern struct {
	place []int32 // unknown → its turn
	start []int32 // first entry of each turn's row in cols
	cols  []int32 // later turns that each turn is joined to, ascending
	// targets holds, for each turn and each pair a < b of its row, the entry
	// (col a, col b): where the elimination writes.
	targets []int32
}

// row is the range of a turn's entries.
func (p *pattern) row(k int) (from, to int32) { return p.start[k], p.start[k+1] }

// newPattern orders n unknowns with these joined pairs: always one of least
// degree next, of equals the first. What is eliminated joins its neighbours to
// each other. Of the unknowns from first on, whose pivots are 0 in the matrix,
// each waits until a neighbour before it has gone.
func newPattern(n, first int, joined [][2]int) *pattern {
	near, fed := make([][]int32, n), make([]bool, n)
	for _, e := range joined {
		if e[0] != e[1] {
			near[e[0]] = append(near[e[0]], int32(e[1]))
			near[e[1]] = append(near[e[1]], int32(e[0]))
		}
	}
	queue := make(degrees, n)
	for i := range near {
		slices.Sort(near[i])
		near[i] = slices.Compact(near[i])
		queue[i] = degree{len(near[i]), int32(i), i >= first}
	}
	ready := func(i int32) bool { return int(i) < first || fed[i] }
	heap.Init(&queue)
	p := &pattern{place: make([]int32, n), start: make([]int32, 1, n+1)}
	rows := make([][]int32, 0, n)
	done := make([]bool, n)
	var merged []int32
	for len(rows) < n {
		d := heap.Pop(&queue).(degree)
		k := d.unknown
		if done[k] || d.size != len(near[k]) || d.waits && ready(k) {
			continue // an old entry
		}
		done[k] = true
		p.place[k] = int32(len(rows))
		rows = append(rows, near[k])
		for _, i := range near[k] {
			merged = union(merged[:0], near[i], near[k], i, k)
			near[i] = slices.Clone(merged)
			fed[i] = fed[i] || int(k) < first
			heap.Push(&queue, degree{len(near[i]), i, !ready(i)})
		}
	}
	for _, row := range rows {
		for _, i := range row {
			p.cols = append(p.cols, p.place[i])
		}
		slices.Sort(p.cols[p.start[len(p.start)-1]:])
		p.start = append(p.start, int32(len(p.cols)))
	}
	p.aim()
	return p
}

// union merges two ascending lists without i and k.
func union(out, a, b []int32, i, k int32) []int32 {
	for len(a) > 0 || len(b) > 0 {
		var x int32
		switch {
		case len(b) == 0 || len(a) > 0 && a[0] < b[0]:
			x, a = a[0], a[1:]
		case len(a) == 0 || b[0] < a[0]:
			x, b = b[0], b[1:]
		default:
			x, a, b = a[0], a[1:], b[1:]
		}
		if x != i && x != k {
			out = append(out, x)
		}
	}
	return out
}

// aim fills targets.
func (p *pattern) aim() {
	for k := range len(p.start) - 1 {
		from, to := p.row(k)
		for a := from; a < to; a++ {
			at := p.start[p.cols[a]]
			for b := a + 1; b < to; b++ {
				for p.cols[at] != p.cols[b] {
					at++
				}
				p.targets = append(p.targets, at)
			}
		}
	}
}

// entry finds the place of the value that joins two turns, a < b.
func (p *pattern) entry(a, b int32) int32 {
	from, to := p.row(int(a))
	i, ok := slices.BinarySearch(p.cols[from:to], b)
	if !ok {
		panic("mesh: entry outside the pattern")
	}
	return from + int32(i)
}

type degree struct {
	size    int
	unknown int32
	waits   bool
}

// degrees is a heap: those that wait last, then by size, then by number.
type degrees []degree

func (d degrees) Len() int { return len(d) }
func (d degrees) Less(i, j int) bool {
	if d[i].waits != d[j].waits {
		return d[j].waits
	}
	return d[i].size < d[j].size || d[i].size == d[j].size && d[i].unknown < d[j].unknown
}
func (d degrees) Swap(i, j int) { d[i], d[j] = d[j], d[i] }
func (d *degrees) Push(x any)   { *d = append(*d, x.(degree)) }
func (d *degrees) Pop() any {
	old := *d
	x := old[len(old)-1]
	*d = old[:len(old)-1]
	return x
}
