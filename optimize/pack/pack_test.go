package pack

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// fewestBySubsets is the least number of bins, by the table over all subsets:
// the fewest bins, and among those the least in the last one.
func fewestBySubsets(items []int, capacity int) int {
	type state struct{ bins, last int }
	table := make([]state, 1<<len(items))
	for set := 1; set < len(table); set++ {
		best := state{math.MaxInt, 0}
		for i, size := range items {
			if set&(1<<i) == 0 {
				continue
			}
			s := table[set&^(1<<i)]
			if s.bins == 0 || s.last+size > capacity {
				s = state{s.bins + 1, size}
			} else {
				s.last += size
			}
			if s.bins < best.bins || s.bins == best.bins && s.last < best.last {
				best = s
			}
		}
		table[set] = best
	}
	return table[len(table)-1].bins
}

// whole checks that a packing holds every item once and overfills nothing.
func whole(t *testing.T, name string, p *Packing, items []int, capacity int) {
	t.Helper()
	seen := make([]bool, len(items))
	for _, b := range p.Bins {
		sum := 0
		for _, i := range b {
			if seen[i] {
				t.Fatalf("%s: item %d twice", name, i)
			}
			seen[i] = true
			sum += items[i]
		}
		if sum > capacity || len(b) == 0 {
			t.Fatalf("%s: bin of %d in %d: %v", name, sum, capacity, b)
		}
	}
	if slices.Contains(seen, false) {
		t.Fatalf("%s: an item is missing", name)
	}
}

// random draws items of low to high thousandths of the capacity.
func random(r *rand.Rand, n, capacity, low, high int) []int {
	items := make([]int, n)
	for i := range items {
		items[i] = capacity * (low + r.IntN(high-low+1)) / 1000
	}
	return items
}

// TestFewestIsLeast: on small lists the search finds what the table over all
// subsets gives and proves it; the bound is never above.
func TestFewestIsLeast(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	tight, hard := 0, 0
	for n := range 600 {
		capacity := 100 + r.IntN(3000)
		if n%3 == 0 {
			capacity = 12 + r.IntN(20) // items that fit exactly
		}
		low := []int{30, 150, 250, 200}[n%4]
		items := random(r, 3+r.IntN(10), capacity, low, []int{900, 500, 500, 360}[n%4])
		items = slices.DeleteFunc(items, func(size int) bool { return size == 0 })
		want := fewestBySubsets(items, capacity)
		bound := Bound(items, capacity)
		p := Fewest(items, capacity, nil)
		whole(t, fmt.Sprint(items), p, items, capacity)
		if bound > want || len(p.Bins) != want || !p.Proved() || p.Least != want {
			t.Fatalf("%v in %d: %d bins, proved %v, least %d, bound %d; want %d", items, capacity, len(p.Bins), p.Proved(), p.Least, bound, want)
		}
		if bound == want {
			tight++
		}
		if s := gather(items); len(s.few(capacity, defaultSteps)) != want {
			t.Fatalf("%v in %d: the search alone does not find %d bins", items, capacity, want)
		} else if len(s.greedy(capacity, 0)) > want {
			hard++
		}
	}
	if tight < 500 || tight == 600 || hard < 3 {
		t.Errorf("%d bounds are tight, %d lists are hard: they say nothing", tight, hard)
	}
}

// TestKnown are lists worked by hand.
func TestKnown(t *testing.T) {
	for _, c := range []struct {
		name           string
		items          []int
		capacity       int
		greedy, fewest int
		bound, largest int // largest is the largest room
	}{
		{name: "nothing", capacity: 10},
		{name: "exact pairs", items: []int{6, 4, 7, 3}, capacity: 10, greedy: 2, fewest: 2, bound: 2},
		// Best fit leaves 5+4 and 3+3 with rooms of 1 and 4; 4+3+3 leaves 5 alone.
		{name: "moved", items: []int{5, 4, 3, 3}, capacity: 10, greedy: 2, fewest: 2, bound: 2, largest: 5},
		{name: "one", items: []int{10}, capacity: 10, greedy: 1, fewest: 1, bound: 1},
		// 44+28+28 and 37+33+30 twice are full; best fit opens with 44+44.
		{name: "two by three", items: []int{44, 37, 33, 30, 28, 28, 44, 28, 28, 37, 33, 30}, capacity: 100, greedy: 5, fewest: 4, bound: 4},
		// Five of 4 go two by two: the sum asks for 2, the halves show nothing, and
		// only the search shows that 3 are needed.
		{name: "search alone", items: []int{4, 4, 4, 4, 4}, capacity: 10, greedy: 3, fewest: 3, bound: 2, largest: 6},
		// 60 and 55 leave 40 and 45: of four of 45 one goes with 55, three need two
		// more, although the sum of 295 asks for 3.
		{name: "beside large ones", items: []int{60, 55, 45, 45, 45, 45}, capacity: 100, greedy: 4, fewest: 4, bound: 4, largest: 55},
		// Five rooms of 2 can be one of 10: 8+2, 8+2, 6+4, rest 0; 5 alone.
		{name: "one large room", items: []int{8, 8, 6, 4, 2, 2, 1}, capacity: 10, greedy: 4, fewest: 4, bound: 4, largest: 9},
	} {
		p := Fewest(c.items, c.capacity, nil)
		whole(t, c.name, p, c.items, c.capacity)
		if greedy := len(bestFit(c.items, c.capacity)); greedy != c.greedy {
			t.Errorf("%s: best fit takes %d, want %d", c.name, greedy, c.greedy)
		}
		if got := Bound(c.items, c.capacity); len(p.Bins) != c.fewest || got != c.bound || !p.Proved() {
			t.Errorf("%s: %d bins, bound %d, proved %v; want %d, %d", c.name, len(p.Bins), got, p.Proved(), c.fewest, c.bound)
		}
		room := 0
		for _, b := range p.Bins {
			sum := 0
			for _, i := range b {
				sum += c.items[i]
			}
			room = max(room, c.capacity-sum)
		}
		if room != c.largest {
			t.Errorf("%s: largest room %d, want %d", c.name, room, c.largest)
		}
	}
}

// triples are 3·n items that fill n bins, none with room; so n is the fewest
// (worked by hand: each triple sums to the bin).
func triples(r *rand.Rand, n, capacity int) []int {
	var items []int
	for range n {
		a := capacity*38/100 + r.IntN(capacity*11/100)
		b := capacity/4 + r.IntN((capacity-a)/2-capacity/4)
		items = append(items, a, b, capacity-a-b)
	}
	r.Shuffle(len(items), func(i, j int) { items[i], items[j] = items[j], items[i] })
	return items
}

// TestTriples: lists that rules of thumb fail on.
func TestTriples(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	greedy := 0
	for _, n := range []int{5, 8, 10, 12, 15, 20} {
		for range 5 {
			items := triples(r, n, 1000)
			p := Fewest(items, 1000, nil)
			whole(t, fmt.Sprint(n), p, items, 1000)
			if len(p.Bins) != n || !p.Proved() {
				t.Errorf("%d triples: %d bins, at least %d, %d steps: %v", n, len(p.Bins), p.Least, p.Steps, items)
			}
			greedy += len(bestFit(items, 1000)) - n
		}
	}
	if greedy < 15 {
		t.Errorf("best fit takes %d bins too many: too easy", greedy)
	}
}

// TestLimit: without steps the result is a packing that is not said to be the
// best, with a bound that holds; with them it is; the same list gives the same
// packing.
func TestLimit(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 1))
	items := triples(r, 40, 100_000)
	none := Fewest(items, 100_000, &Settings{Steps: -1})
	whole(t, "none", none, items, 100_000)
	if none.Proved() || none.Steps != 0 || none.Least != 40 || len(none.Bins) <= 40 {
		t.Errorf("without a search: %d bins, at least %d, %d steps", len(none.Bins), none.Least, none.Steps)
	}
	some := Fewest(items, 100_000, nil)
	if again := Fewest(items, 100_000, nil); len(some.Bins) != 40 || !some.Proved() || !slices.EqualFunc(again.Bins, some.Bins, slices.Equal[[]int]) {
		t.Errorf("%d bins, %d without a search; the same list again: %v", len(some.Bins), len(none.Bins), again.Bins)
	}
	for _, wrong := range []int{0, -1, 101} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("an item of %d in 100 is packed", wrong)
				}
			}()
			Fewest([]int{wrong}, 100, nil)
		}()
	}
}

// TestLongBin: items of even size never fill bins of odd size; the bound does
// not know, and the ways to fill a bin are too many to try, so that nothing is
// proved although every way tried is soon at its end.
func TestLongBin(t *testing.T) {
	const bins, capacity = 8, 1001
	r := rand.New(rand.NewPCG(2, 2))
	left := bins * capacity
	var items []int
	for left > 400 {
		size := 100 + 2*r.IntN(40)
		items, left = append(items, size), left-size
	}
	items = append(items, 2*(left/4), left-2*(left/4))
	p := Fewest(items, capacity, nil)
	whole(t, "long", p, items, capacity)
	if p.Proved() || p.Least != bins || len(p.Bins) != bins+1 || p.Steps < fillTries || p.Steps > 2*fillTries {
		t.Errorf("%d bins, at least %d, %d steps", len(p.Bins), p.Least, p.Steps)
	}
	if p := Fewest(items, capacity, &Settings{Steps: 3000}); p.Proved() || p.Steps < 3000 || p.Steps > 3100 {
		t.Errorf("within 3000 steps: %d steps, proved %v", p.Steps, p.Proved())
	}
}

// TestCut: a search that stops for want of steps between two bins says so.
func TestCut(t *testing.T) {
	t1 := search{stock: gather([]int{6, 4, 4, 4, 4, 4}), capacity: 10, steps: 1, best: make([][]int, 6)}
	if !t1.fill(nil) || !t1.cut {
		t.Error("one step is enough for a proof")
	}
}

// BenchmarkFewest reports, beside the time, the bins over the bound and the
// lists that are proved.
func BenchmarkFewest(b *testing.B) {
	for _, n := range []int{20, 50, 200, 500, 2000} {
		for name, span := range map[string][2]int{"short": {20, 500}, "any": {20, 1000}, "thirds": {250, 500}, "tenths": {}} {
			b.Run(fmt.Sprintf("%d/%s", n, name), func(b *testing.B) {
				r := rand.New(rand.NewPCG(uint64(n), 2))
				bins, least, proved, lists := 0, 0, 0, 0
				for b.Loop() {
					items := random(r, n, 30_000, span[0], span[1])
					if name == "tenths" { // of a metre, from sticks of 3 m, with a saw of 3 mm
						for i := range items {
							items[i] = 1000*(1+r.IntN(29)) + 30
						}
					}
					p := Fewest(items, 30_030, nil)
					bins, least, lists = bins+len(p.Bins), least+p.Least, lists+1
					if p.Proved() {
						proved++
					}
				}
				b.ReportMetric(float64(bins)/float64(least), "bins/bound")
				b.ReportMetric(float64(proved)/float64(lists), "proved")
			})
		}
	}
}
