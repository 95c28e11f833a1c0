package layout

// queue is a binary heap of what can be put before its like.
type queue[T interface{ before(*T) bool }] []T

func (q *queue[T]) push(x T) {
	h := append(*q, x)
	i := len(h) - 1
	for i > 0 {
		up := (i - 1) / 2
		if !x.before(&h[up]) {
			break
		}
		h[i] = h[up]
		i = up
	}
	h[i] = x
	*q = h
}

func (q *queue[T]) pop() T {
	h := *q
	top := h[0]
	last := len(h) - 1
	x := h[last]
	h = h[:last]
	*q = h
	if last == 0 {
		return top
	}
	i := 0
	for {
		c := 2*i + 1
		if c >= last {
			break
		}
		if c+1 < last && h[c+1].before(&h[c]) {
			c++
		}
		if !h[c].before(&x) {
			break
		}
		h[i] = h[c]
		i = c
	}
	h[i] = x
	return top
}
