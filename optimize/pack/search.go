package pack

import (
	"cmp"
	"slices"
)

// search fills one bin after another (bin completion: Korf 2003, An improved
// algorithm for optimal bin packing, IJCAI, from memory): each bin takes the
// largest item left and, one after the other, every filling of the rest of it
// to which no other one can be preferred.
type search struct {
	stock    stock
	capacity int
	// steps that are left; cut says that something was not tried for want of
	// them.
	steps int
	cut   bool
	// best is the packing with the fewest bins so far; least bins are known to
	// be needed.
	best  [][]int
	least int
}

// fillTries limits the tries for one bin, so that a long list is not spent on
// its first.
const fillTries = 20_000

// fill fills the bins after those that are done. It reports whether the search
// is over.
func (t *search) fill(done [][]int) bool {
	first := t.stock.largest()
	if first < 0 {
		t.best = make([][]int, len(done))
		for i, b := range done {
			t.best[i] = slices.Clone(b)
		}
		return len(t.best) <= t.least
	}
	if len(done)+t.stock.left().bound(t.capacity) >= len(t.best) {
		return false
	}
	for _, items := range t.completions(first) {
		if t.steps <= 0 {
			t.cut = true
			return true
		}
		t.stock.add(items, -1)
		over := t.fill(append(done, items))
		t.stock.add(items, 1)
		if over {
			return true
		}
	}
	return false
}

// completions are the bins that start with the size at a position, the fullest
// first.
func (t *search) completions(first int) [][]int {
	type bin struct {
		items []int
		room  int
	}
	var bins []bin
	size := t.stock.size[first]
	given := min(t.steps, fillTries)
	tries := given
	t.stock.count[first]--
	if !t.stock.fillings([]int{size}, t.capacity-size, &tries, func(items []int, room int) bool {
		if !t.needless(items[1:], room) {
			bins = append(bins, bin{slices.Clone(items), room})
		}
		return true
	}) {
		t.cut = true
	}
	t.stock.count[first]++
	t.steps -= given - max(tries, 0) + 1
	slices.SortStableFunc(bins, func(x, y bin) int {
		return cmp.Or(cmp.Compare(x.room, y.room), cmp.Compare(len(x.items), len(y.items)))
	})
	out := make([][]int, len(bins))
	for i := range bins {
		out[i] = bins[i].items
	}
	return out
}

// needless reports whether one item that is left could stand for one or two in
// the bin: larger than the one, or at least as large as the two, by no more
// than the room. In any packing they can be exchanged (dominance, Martello and
// Toth 1990).
func (t *search) needless(items []int, room int) bool {
	for i, a := range items {
		if t.stock.holds(a+1, a+room) {
			return true
		}
		for _, b := range items[i+1:] {
			if t.stock.holds(a+b, a+b+room) {
				return true
			}
		}
	}
	return false
}
