package pack

import (
	"cmp"
	"slices"
)

// knapsack finds the bin of the greatest worth, each size having one.
type knapsack struct {
	*stock
	worths     []int
	upTo       []int // the most worth of a position or a later one
	order      []int // positions, the most worth per size first
	take, best []int // counts per position
	most       int
	tries      int
}

// knapsackTries limits the tries for one bin.
const knapsackTries = 50_000

// richest is the filling of a bin with the greatest worth, as counts per size.
// It uses up tries; false means that they ran out: there may be a richer one.
func (s *stock) richest(worths []int, capacity int, tries *int) (counts []int, most int, sure bool) {
	k := knapsack{stock: s, worths: worths, upTo: make([]int, len(worths)+1), tries: min(*tries, knapsackTries), take: make([]int, len(worths)), best: make([]int, len(worths))}
	for i, w := range worths {
		if w > 0 {
			k.order = append(k.order, i)
		}
	}
	for i := len(worths) - 1; i >= 0; i-- {
		k.upTo[i] = max(worths[i], k.upTo[i+1])
	}
	slices.SortStableFunc(k.order, func(a, b int) int { return cmp.Compare(worths[b]*s.size[a], worths[a]*s.size[b]) })
	given := k.tries
	k.fill(0, capacity, 0)
	*tries -= given - max(k.tries, 0)
	return k.best, k.most, k.tries >= 0
}

// fill tries the sizes from a place in the order on, as many of each as fit
// first. What is left can be worth no more per size than the next one, and no
// more per item than the best that fits, with as many as the smallest allows.
func (k *knapsack) fill(from, room, worth int) {
	if worth > k.most {
		k.most = worth
		copy(k.best, k.take)
	}
	if smallest := k.size[len(k.size)-1]; worth+room/smallest*k.upTo[k.at(room)] <= k.most {
		return
	}
	for n := from; n < len(k.order); n++ {
		i := k.order[n]
		if worth+room*k.worths[i]/k.size[i] <= k.most {
			return
		}
		for c := min(k.count[i], room/k.size[i]); c > 0; c-- {
			if k.tries--; k.tries < 0 {
				return
			}
			k.take[i] = c
			k.fill(n+1, room-c*k.size[i], worth+c*k.worths[i])
			k.take[i] = 0
		}
	}
}
