package pack

import (
	"cmp"
	"slices"
)

// Limits of rounding: sizes that the program takes, and items that are left to
// the search at the end.
const (
	mostSizes = 300
	fewItems  = 30
	// programTries limits the tries of the program for one list.
	programTries = 2_000_000
)

// round makes a packing of the linear program: the patterns of which there is
// most become bins, and the program is solved again for what is left, until
// that is little. It returns how many bins there must be at least as well.
func (s *stock) round(capacity, steps int) (bins [][]int, least int) {
	rest, tries := s.left(), programTries
	for first := true; first || rest.items() > fewItems && tries > 0; first = false {
		p := &program{stock: *rest, capacity: capacity}
		bound := p.solve(&tries)
		if first {
			least = bound
		}
		taken := p.bins()
		for _, b := range taken {
			rest.add(b, -1)
		}
		bins = append(bins, taken...)
		if rest = rest.left(); len(taken) == 0 {
			break
		}
	}
	return append(bins, rest.few(capacity, steps)...), least
}

// items is how many are left.
func (s *stock) items() int {
	n := 0
	for _, c := range s.count {
		n += c
	}
	return n
}

// bins are those of the program's solution: each pattern as often as it is
// there in whole, and one in ten of the others, those of which there is most.
func (p *program) bins() [][]int {
	var order []int
	for i, x := range p.x {
		if x > zero {
			order = append(order, i)
		}
	}
	part := func(i int) float64 { return p.x[i] - float64(int(p.x[i]+1e-6)) }
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(part(b), part(a)) })
	var out [][]int
	left := slices.Clone(p.stock.count)
	take := func(pattern []int) {
		var bin []int
		for i, n := range pattern {
			if n > left[i] {
				return
			}
			for range n {
				bin = append(bin, p.stock.size[i])
			}
		}
		for i, n := range pattern {
			left[i] -= n
		}
		out = append(out, bin)
	}
	for _, i := range order {
		for range int(p.x[i] + 1e-6) {
			take(p.basis[i])
		}
	}
	for _, i := range order[:(len(order)+9)/10] {
		if part(i) > 1e-6 {
			take(p.basis[i])
		}
	}
	return out
}
