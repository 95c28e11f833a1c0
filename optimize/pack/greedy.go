package pack

import (
	"cmp"
	"slices"
)

// greedy is the better packing of the two rules of thumb; the second is not
// tried where the first needs no more than the least.
func (s *stock) greedy(capacity, least int) [][]int {
	best := bestFit(s.list(), capacity)
	if len(best) > least {
		if full := s.fullest(capacity); len(full) < len(best) {
			best = full
		}
	}
	return best
}

// few packs what little is left: by rule of thumb, then with a search.
func (s *stock) few(capacity, steps int) [][]int {
	t := &search{stock: *s, capacity: capacity, steps: steps, least: s.bound(capacity)}
	if t.best = s.greedy(capacity, t.least); len(t.best) > t.least {
		t.fill(nil)
	}
	return t.best
}

// bestFit lays items, the largest first, each into the fullest bin that has
// room for it (best-fit decreasing).
func bestFit(items []int, capacity int) [][]int {
	sorted := slices.Clone(items)
	slices.SortFunc(sorted, func(a, b int) int { return cmp.Compare(b, a) })
	var bins [][]int
	var rooms []int
	for _, size := range sorted {
		at := -1
		for i, room := range rooms {
			if room >= size && (at < 0 || room < rooms[at]) {
				at = i
			}
		}
		if at < 0 {
			at = len(bins)
			bins, rooms = append(bins, nil), append(rooms, capacity)
		}
		bins[at] = append(bins[at], size)
		rooms[at] -= size
	}
	return bins
}

// fullTries limits the tries per bin of fullest.
const fullTries = 2000

// fullest fills one bin after another, each with the largest item left and what
// leaves the least room beside it, within a number of tries (least bin slack:
// Gupta and Ho 1999, A new heuristic algorithm for the one-dimensional
// bin-packing problem, Production Planning & Control 10:598–603, from memory).
func (s *stock) fullest(capacity int) [][]int {
	rest := s.left()
	var bins [][]int
	for first := rest.largest(); first >= 0; first = rest.largest() {
		size, tries, least := rest.size[first], fullTries, capacity
		best := []int{size}
		rest.count[first]--
		rest.fillings([]int{size}, capacity-size, &tries, func(items []int, room int) bool {
			if room < least {
				best, least = slices.Clone(items), room
			}
			return room > 0
		})
		rest.add(best[1:], -1)
		bins = append(bins, best)
	}
	return bins
}
