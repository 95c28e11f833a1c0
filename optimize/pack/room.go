package pack

import "slices"

// roomItems is the longest list for which room is gathered.
const roomItems = 400

// gatherRoom moves items to other bins, or exchanges them, as long as that
// makes the sum of the squares of the free rooms larger: one large room rather
// than many small ones. A bin that is emptied so goes.
func gatherRoom(bins [][]int, capacity int) [][]int {
	n := 0
	room := make([]int, len(bins))
	for i, b := range bins {
		n += len(b)
		room[i] = capacity
		for _, size := range b {
			room[i] -= size
		}
	}
	if n > roomItems {
		return bins
	}
	for {
		m := bestMove(bins, room)
		if m.gain <= 0 {
			return slices.DeleteFunc(bins, func(b []int) bool { return len(b) == 0 })
		}
		a, b := bins[m.from], bins[m.to]
		by := a[m.item]
		if m.other < 0 {
			bins[m.from] = append(a[:m.item], a[m.item+1:]...)
			bins[m.to] = append(b, by)
		} else {
			a[m.item], b[m.other] = b[m.other], a[m.item]
			by -= a[m.item]
		}
		room[m.from] += by
		room[m.to] -= by
	}
}

// move takes an item from one bin to another, against an item of it or none
// (−1).
type move struct {
	from, item, to, other, gain int
}

// bestMove is the move with the largest gain, the first of equals; its gain is
// 0 where none gains.
func bestMove(bins [][]int, room []int) move {
	var best move
	for i, a := range bins {
		for k, x := range a {
			for j, b := range bins {
				if i == j || room[i]+x <= room[j] {
					continue
				}
				for o := -1; o < len(b); o++ {
					by := x
					if o >= 0 {
						by -= b[o]
					}
					if by > 0 && by <= room[j] {
						if gain := 2 * by * (room[i] - room[j] + by); gain > best.gain {
							best = move{i, k, j, o, gain}
						}
					}
				}
			}
		}
	}
	return best
}
