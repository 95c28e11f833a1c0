package pack

// Bound is a number of bins that no packing of the items can go below: the
// bound L2 of Martello and Toth (1990, Lower bounds and reduction procedures
// for the bin packing problem, Discrete Applied Mathematics 28:59–70, from
// memory). Of items above half a bin none share one, and those above
// capacity − k share theirs with nothing of k or more. So for any k what the
// items from k to half a bin take beyond the room that the other large ones
// leave needs bins of its own. The largest count over all k is taken; with the
// smallest k it is at least the sum of the sizes over the capacity. Items must
// be positive and at most the capacity.
func Bound(items []int, capacity int) int {
	s := gather(items)
	return s.bound(capacity)
}

// bound is Bound of the stock.
func (s *stock) bound(capacity int) int {
	large, half := 0, 0
	for half < len(s.size) && 2*s.size[half] > capacity {
		large += s.count[half]
		half++
	}
	// room is what the large ones that are not alone leave; k goes down over the
	// sizes up to half a bin, so that fewer and fewer are alone.
	most, small, room, alone := large, 0, 0, half
	for i := half; i < len(s.size); i++ {
		k := s.size[i]
		for alone > 0 && s.size[alone-1] <= capacity-k {
			alone--
			room += s.count[alone] * (capacity - s.size[alone])
		}
		small += s.count[i] * k
		if over := small - room; over > 0 {
			most = max(most, large+(over+capacity-1)/capacity)
		}
	}
	return most
}
