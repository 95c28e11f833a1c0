package pack

import "math"

// program is the linear program behind a packing: how many bins of each
// pattern hold all items, parts of a bin allowed (Gilmore and Gomory 1961, A
// linear programming approach to the cutting-stock problem, Operations Research
// 9:849–859, from memory). Patterns come in one at a time, the one that the
// prices of the sizes make worth most.
type program struct {
	stock    stock
	capacity int
	basis    [][]int // patterns, as counts per size
	inverse  [][]float64
	x        []float64 // how much of each pattern of the basis
}

// unit is the price of a bin; prices are whole numbers, so that the bound
// holds exactly.
const unit = 1 << 30

// zero is what counts as nothing in the program.
const zero = 1e-9

// solve runs the program from bins of one size each and returns a number of
// bins that no packing can go below. It may stop short of the optimum: the
// bound holds with any prices. It uses up tries.
func (p *program) solve(tries *int) (least int) {
	n := len(p.stock.size)
	p.x, p.basis, p.inverse = make([]float64, n), make([][]int, n), make([][]float64, n)
	for i := range n {
		p.basis[i], p.inverse[i] = make([]int, n), make([]float64, n)
		p.basis[i][i] = min(p.stock.count[i], p.capacity/p.stock.size[i])
		p.inverse[i][i] = 1 / float64(p.basis[i][i])
		p.x[i] = float64(p.stock.count[i]) / float64(p.basis[i][i])
	}
	for *tries > 0 {
		*tries -= n // so that it ends
		prices := p.prices()
		counts, most, sure := p.stock.richest(prices, p.capacity, tries)
		if sure && most > 0 {
			sum := 0
			for i, w := range prices {
				sum += w * p.stock.count[i]
			}
			least = max(least, (sum+most-1)/most)
		}
		if float64(least) > p.cost()-1e-6 || float64(most) <= unit*(1+1e-7) || !p.enter(counts) {
			break
		}
	}
	return least
}

// cost is the number of bins of the solution so far.
func (p *program) cost() float64 {
	sum := 0.0
	for _, x := range p.x {
		sum += x
	}
	return sum
}

// prices are what an item of each size costs, in units. One below nothing counts
// as nothing: a bin may always go without the size.
func (p *program) prices() []int {
	prices := make([]int, len(p.basis))
	for j := range prices {
		y := 0.0
		for i := range p.basis {
			y += p.inverse[i][j]
		}
		prices[j] = int(max(y, 0) * unit)
	}
	return prices
}

// enter puts a pattern into the basis. It reports false where none can leave.
func (p *program) enter(pattern []int) bool {
	u := make([]float64, len(p.basis))
	for i := range p.basis {
		for j, n := range pattern {
			if n != 0 {
				u[i] += float64(p.inverse[i][j] * float64(n))
			}
		}
	}
	out, least := -1, math.Inf(1)
	for i := range u {
		if u[i] > zero && p.x[i] < u[i]*least {
			out, least = i, p.x[i]/u[i]
		}
	}
	if out < 0 {
		return false
	}
	row := p.inverse[out]
	for j := range row {
		row[j] /= u[out]
	}
	p.x[out] = least
	for i := range p.basis {
		if i == out || u[i] == 0 {
			continue
		}
		for j := range row {
			p.inverse[i][j] -= float64(u[i] * row[j])
		}
		p.x[i] = max(p.x[i]-float64(u[i]*least), 0)
	}
	p.basis[out] = pattern
	return true
}
