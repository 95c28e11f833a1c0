package pack

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

// richestBySubsets tries every filling of a bin.
func richestBySubsets(s *stock, worths []int, at, room int) int {
	if at == len(s.size) {
		return 0
	}
	most := 0
	for c := 0; c <= s.count[at] && c*s.size[at] <= room; c++ {
		most = max(most, c*worths[at]+richestBySubsets(s, worths, at+1, room-c*s.size[at]))
	}
	return most
}

// TestRichest: the bin of the greatest worth is that of trying them all.
func TestRichest(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for range 400 {
		capacity := 20 + r.IntN(200)
		s := gather(random(r, 1+r.IntN(12), capacity*10, 10, 900))
		worths := make([]int, len(s.size))
		for i := range worths {
			worths[i] = max(r.IntN(50)-5, 0)
		}
		tries := 100_000
		counts, most, sure := s.richest(worths, capacity*10, &tries)
		want := richestBySubsets(&s, worths, 0, capacity*10)
		sum, size := 0, 0
		for i, c := range counts {
			sum, size = sum+c*worths[i], size+c*s.size[i]
			if c > s.count[i] {
				t.Fatalf("%d of %d", c, s.count[i])
			}
		}
		if most != want || sum != most || size > capacity*10 || !sure || tries > 100_000 {
			t.Fatalf("%+v at %v in %d: %d, of %v, want %d", s, worths, capacity*10, most, counts, want)
		}
	}
	s := gather([]int{5, 4, 3, 2, 1})
	tries := 1
	if _, _, sure := s.richest([]int{5, 4, 3, 2, 2}, 9, &tries); sure || tries != 0 {
		t.Errorf("sure %v after one try, %d left", sure, tries)
	}
}

// TestProgram: hand-worked: five of 4 in 10 take 2.5 bins of two, so 3, where
// the sum asks for 2; three each of 6 and 4 take 3, and so do three of 4, 3 and
// 3 with nothing left over. Without tries nothing is said.
func TestProgram(t *testing.T) {
	for _, c := range []struct {
		items []int
		want  int
		cost  float64
	}{
		{[]int{4, 4, 4, 4, 4}, 3, 2.5},
		{[]int{6, 4, 6, 4, 6, 4}, 3, 3},
		{[]int{4, 3, 3, 4, 3, 3, 4, 3, 3}, 3, 3},
		{[]int{6, 6, 3}, 2, 2},
	} {
		tries := 1000
		p := &program{stock: gather(c.items), capacity: 10}
		least := p.solve(&tries)
		if cost := p.cost(); least != c.want || cost < c.cost-1e-6 || cost > float64(c.want)+1e-6 {
			t.Errorf("%v: at least %d, costs %g; want %d and %g", c.items, least, cost, c.want, c.cost)
		}
	}
	none := 0
	if p := (&program{stock: gather([]int{4, 4}), capacity: 10}); p.solve(&none) != 0 || p.cost() != 1 {
		t.Errorf("without tries it costs %g", p.cost())
	}
}

// TestRound: on lists of a hundred on which rules of thumb do badly, a packing
// made from the program needs at most one bin more than there must be.
func TestRound(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 8))
	for n := range 4 {
		items := random(r, 100, 30_000, 250, 500)
		s := gather(items)
		bins, least := s.round(30_000, 10_000)
		greedy := len(s.greedy(30_000, 0))
		if len(bins) > least+1 || len(bins) < least || greedy < len(bins)+2 || Bound(items, 30_000) > least {
			t.Errorf("list %d: %d bins, at least %d, by rule of thumb %d", n, len(bins), least, greedy)
		}
		whole(t, fmt.Sprint(n), &Packing{Bins: positions(bins, items)}, items, 30_000)
	}
}
