package layout

// queue is a binary heap: what is before all others comes out first.
type queue[T any] struct {
	heap   []T
	before func(a, b *T) bool
}

func (q *queue[T]) push(x T) {
	h := append(q.heap, x)
	q.heap = h
	i := len(h) - 1
	for i > 0 {
		up := (i - 1) / 2
		if !q.before(&x, &h[up]) {
			break
		}
		h[i] = h[up]
		i = up
	}
	h[i] = x
}

func (q *queue[T]) pop() T {
	top, last := q.heap[0], len(q.heap)-1
	x, h := q.heap[last], q.heap[:last]
	q.heap = h
	if last == 0 {
		return top
	}
	i := 0
	for {
		c := 2*i + 1
		if c >= last {
			break
		}
		if c+1 < last && q.before(&h[c+1], &h[c]) {
			c++
		}
		if !q.before(&h[c], &x) {
			break
		}
		h[i] = h[c]
		i = c
	}
	h[i] = x
	return top
}
