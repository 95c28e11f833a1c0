package pack

import (
	"cmp"
	"slices"
)

// stock is a multiset of sizes, in descending order.
type stock struct {
	size, count []int
}

// gather counts the items of each size.
func gather(items []int) stock {
	sorted := slices.Clone(items)
	slices.SortFunc(sorted, func(a, b int) int { return cmp.Compare(b, a) })
	var s stock
	for i, size := range sorted {
		if i == 0 || size != sorted[i-1] {
			s.size, s.count = append(s.size, size), append(s.count, 0)
		}
		s.count[len(s.count)-1]++
	}
	return s
}

// list is the items that are left, the largest first.
func (s *stock) list() []int {
	var out []int
	for i, n := range s.count {
		for range n {
			out = append(out, s.size[i])
		}
	}
	return out
}

// at is the position of the first size that is not above the one given.
func (s *stock) at(size int) int {
	i, _ := slices.BinarySearchFunc(s.size, size, func(a, b int) int { return cmp.Compare(b, a) })
	return i
}

// add adds to the counts of sizes that the stock knows.
func (s *stock) add(sizes []int, by int) {
	for _, size := range sizes {
		s.count[s.at(size)] += by
	}
}

// largest is the position of the largest size that is left, −1 for none.
func (s *stock) largest() int {
	return slices.IndexFunc(s.count, func(n int) bool { return n > 0 })
}

// left is the stock without the sizes that are used up.
func (s *stock) left() *stock {
	var out stock
	for i, n := range s.count {
		if n > 0 {
			out.size, out.count = append(out.size, s.size[i]), append(out.count, n)
		}
	}
	return &out
}

// holds reports whether a size from low to high is left.
func (s *stock) holds(low, high int) bool {
	for i := s.at(high); i < len(s.size) && s.size[i] >= low; i++ {
		if s.count[i] > 0 {
			return true
		}
	}
	return false
}

// fillings calls f for every way to fill a bin that holds the items and has
// that much room, so that nothing left would still go in. It stops when f
// returns false, or after so many items tried, and says whether it went
// through.
func (s *stock) fillings(items []int, room int, tries *int, f func(items []int, room int) bool) bool {
	return s.from(0, items, room, tries, f)
}

// from takes items in descending order, from a position on.
func (s *stock) from(first int, items []int, room int, tries *int, f func(items []int, room int) bool) bool {
	fits := false
	for i := max(first, s.at(room)); i < len(s.size); i++ {
		if s.count[i] == 0 {
			continue
		}
		if *tries--; *tries < 0 {
			return false
		}
		fits = true
		s.count[i]--
		on := s.from(i, append(items, s.size[i]), room-s.size[i], tries, f)
		s.count[i]++
		if !on {
			return false
		}
	}
	if fits || s.holds(1, room) { // a larger one was passed over that fits
		return true
	}
	return f(items, room)
}
