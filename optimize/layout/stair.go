package layout

import "slices"

// stair holds the pairs (room, spent) of labels at one point that no other pair
// there beats: room falls, and so does spent.
type stair [][2]float64

// above is how many pairs have at least that room.
func (s stair) above(room float64) int {
	lo, hi := 0, len(s)
	for lo < hi {
		if mid := (lo + hi) / 2; s[mid][0] >= room {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	return lo
}

// covers reports whether some pair has as much room and has spent as little.
func (s stair) covers(room, spent float64) bool {
	i := s.above(room)
	return i > 0 && s[i-1][1] <= spent
}

// add puts in a pair that is not covered.
func (s *stair) add(room, spent float64) {
	i := s.above(room)
	if i > 0 && (*s)[i-1][0] == room { // it has spent more
		i--
	}
	end := i
	for end < len(*s) && (*s)[end][1] >= spent {
		end++
	}
	*s = slices.Replace(*s, i, end, [2]float64{room, spent})
}
