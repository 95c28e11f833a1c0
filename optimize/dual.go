package optimize

import (
	"math"
	"math/bits"
	"slices"
)

// dual prices the rules of the states into the cost bound (Lagrangian
// relaxation: Geoffrion 1974, Mathematical Programming Study 2:82, from
// memory): a plan that keeps all rules costs no more with a price on what it
// spends of each and that price paid back in full,
//
//	least over plans of cost + Σ price·(load − 1) ≤ least cost of a plan that passes.
//
// The left side is a cost bound of the same tree, so the same dynamic program
// gives it, with the least for every alternative.
type dual struct {
	rows  []row
	price []float64 // per row, in weights
	costs *costs
	paid  weight // Σ price, rounded up
}

const (
	// dualPasses is the number of passes of the subgradient method.
	dualPasses = 80
	// dualHeld is the share of the last direction that is kept.
	dualHeld = 0.6
	// dualIdle is the number of passes without gain after which steps halve.
	dualIdle = 5
)

// priceRules makes the bound for the domains at hand and drops the alternatives
// that it excludes. It reports false where nothing is left.
func (x *search) priceRules() bool {
	rows, ok := x.rows()
	if !ok || len(rows) == 0 {
		return ok
	}
	d := &dual{rows: rows, price: make([]float64, len(rows)), costs: newCosts(x.p)}
	x.lift(d)
	v := d.bound(x.dom)
	if v >= x.limit {
		return false
	}
	if v <= x.costs.bound(x.dom) {
		return true
	}
	x.dual, x.rootBound = d, max(x.rootBound, v.money())
	return x.trim()
}

// marginal is the least weight of the last bound with an alternative.
func (d *dual) marginal(choice, a int) weight {
	if m := d.costs.marginal[choice][a]; m < never {
		return m - d.paid
	}
	return never
}

// set puts prices into the costs. What an alternative pays is rounded down and
// what is paid back is rounded up, so that the bound stays one.
func (d *dual) set(p *Problem, price []float64) {
	for i := range p.Choices {
		for a := range p.Choices[i].Alternatives {
			d.costs.own[i][a] = p.Choices[i].own(a)
		}
	}
	sum := 0.0
	for k := range d.rows {
		if price[k] == 0 {
			continue
		}
		sum += price[k]
		r := &d.rows[k]
		for j, c := range r.choices {
			for a, share := range r.share[j] {
				d.costs.own[c][a] += weight(price[k] * share)
			}
		}
	}
	d.paid = weight(math.Ceil(sum))
}

// bound is the least weight of the plans of the domains that keep all rules,
// as far as prices tell; marginal holds it per alternative.
func (d *dual) bound(dom []uint64) weight {
	v := d.costs.bound(dom)
	if v >= never {
		return never
	}
	// Prices may pay back more than is left to pay: no plan weighs less than 0.
	return max(0, v-d.paid)
}

// lift looks for the prices that give the highest bound (subgradient method
// with a step of Polyak 1969's length and part of the last direction, Camerini,
// Fratta & Maffioli 1975, from memory). Every plan it meets is offered.
func (x *search) lift(d *dual) {
	n := len(d.rows)
	best, held := math.Inf(-1), make([]float64, n)
	price, pick := make([]float64, n), make([]int, len(x.dom))
	step, idle := 1.0, 0
	for range dualPasses {
		d.set(x.p, price)
		v := d.bound(x.dom)
		if v >= never {
			break
		}
		if float64(v) > best {
			best, idle = float64(v), 0
			copy(d.price, price)
		} else if idle++; idle == dualIdle {
			step, idle = step/2, 0
		}
		if v >= x.limit || x.halted() {
			break
		}
		d.costs.trace(x.dom, pick)
		x.offer(pick)
		norm := 0.0
		for k := range d.rows {
			g := d.rows[k].load(pick) - 1
			if g < 0 && price[k] == 0 {
				g = 0
			}
			held[k] = g + dualHeld*held[k]
			norm += held[k] * held[k]
		}
		if norm < 1e-18 {
			break
		}
		goal := float64(x.limit)
		if x.limit >= never {
			goal = 1.1*math.Max(float64(v), best) + float64(weigh(100, 0))
		}
		t := step * max(goal-float64(v), 1e-4*math.Abs(goal)) / norm
		sum := 0.0
		for k := range price {
			price[k] = max(0, price[k]+t*held[k])
			sum += price[k]
		}
		if sum > float64(never)/256 { // weights would no longer be sums
			break
		}
	}
	d.set(x.p, d.price)
}

// trace writes the plan that gave the last bound into pick.
func (c *costs) trace(dom []uint64, pick []int) {
	for i := range c.p.Choices {
		if c.after[i] < 0 {
			pick[i] = c.cheapest(i, dom[i])
		}
	}
	for k := range slices.Backward(c.p.joints) {
		j := &c.p.joints[k]
		n, best := at(pick, j.common), never
		for x := domainAt(dom, j.main); x != 0; x &= x - 1 {
			m := bits.TrailingZeros64(x)
			vm := c.value(j.main, m, -1)
			for y := domainAt(dom, j.branch); y != 0; y &= y - 1 {
				b := bits.TrailingZeros64(y)
				if v := vm + c.value(j.branch, b, -1) + c.tables[k][(m*j.nb+b)*j.nc+n]; v < best {
					best = v
					put(pick, j.main, m)
					put(pick, j.branch, b)
				}
			}
		}
	}
}

func put(pick []int, choice, a int) {
	if choice >= 0 {
		pick[choice] = a
	}
}

// cheapest is the alternative of a domain with the least marginal weight.
func (c *costs) cheapest(choice int, dom uint64) int {
	best := bits.TrailingZeros64(dom)
	for d := dom; d != 0; d &= d - 1 {
		if a := bits.TrailingZeros64(d); c.marginal[choice][a] < c.marginal[choice][best] {
			best = a
		}
	}
	return best
}
