package pack

import (
	"cmp"
	"slices"
)

// Packing is how items go into bins.
type Packing struct {
	// Bins hold positions in the items given; in each bin and from the first
	// bin on the largest come first.
	Bins [][]int
	// Least is a number of bins that no packing can go below. Where it is that
	// of the Bins, the packing is proved to have the fewest.
	Least int
	// Steps is what the search took, 0 where none was needed.
	Steps int
}

// Proved reports whether no packing has fewer bins.
func (p *Packing) Proved() bool { return len(p.Bins) <= p.Least }

// Settings of a packing. The zero value and nil take the defaults.
type Settings struct {
	// Steps is the limit of the search, items laid into a bin on trial; default
	// 1,000,000. Negative means rules of thumb alone.
	Steps int
}

const defaultSteps = 1_000_000

// Fewest packs items into bins of the capacity, as few as it can: proved to be
// the fewest for nearly all lists up to two hundred items, and beyond that for
// nearly all of few sizes. Among as good packings it prefers one large room to many
// small ones, as exchanges between bins find it. Items must be positive and at
// most the capacity; others are a programmer's error and panic.
func Fewest(items []int, capacity int, set *Settings) *Packing {
	steps := defaultSteps
	if set != nil && set.Steps != 0 {
		steps = set.Steps
	}
	s := gather(items)
	for _, size := range s.size {
		if size <= 0 || size > capacity {
			panic("pack: item of no size or larger than a bin")
		}
	}
	p := &Packing{Least: s.bound(capacity)}
	best := s.greedy(capacity, p.Least)
	if len(best) > p.Least && steps > 0 && len(s.size) <= mostSizes {
		rounded, least := s.round(capacity, steps/10)
		p.Least = max(p.Least, least)
		if len(rounded) < len(best) {
			best = rounded
		}
	}
	if len(best) > p.Least && steps > 0 {
		t := &search{stock: s, capacity: capacity, steps: steps, best: best, least: p.Least}
		t.fill(nil)
		if p.Steps, best = steps-t.steps, t.best; !t.cut {
			p.Least = len(best)
		}
	}
	p.Bins = positions(gatherRoom(best, capacity), items)
	return p
}

// positions puts the items' positions in the place of their sizes.
func positions(bins [][]int, items []int) [][]int {
	at := map[int][]int{}
	for i, size := range items {
		at[size] = append(at[size], i)
	}
	for _, b := range bins {
		slices.SortFunc(b, func(x, y int) int { return cmp.Compare(y, x) })
	}
	slices.SortStableFunc(bins, func(x, y []int) int { return slices.Compare(y, x) })
	out := make([][]int, len(bins))
	for n, b := range bins {
		for _, size := range b {
			out[n] = append(out[n], at[size][0])
			at[size] = at[size][1:]
		}
	}
	return out
}
