package layout

import "math"

var inf = math.Inf(1)

// subsets is the program of Dreyfus and Wagner (1971, Networks 1:195–207) on a
// directed graph: least[S·n+v] is the least weight that joins the terminals S to
// the point v. weight(S) gives the weights of arcs that carry S.
type subsets struct {
	g      *graph
	start  []int // point by terminal
	weight func(s int) []float64
	least  []float64
	step   []int32 // how: 0 start, a part of S to merge, or −1−arc
}

// full is the set of all terminals.
func full(k int) int { return 1<<k - 1 }

func (d *subsets) run() {
	n, k := d.g.n, len(d.start)
	if d.least == nil {
		d.least, d.step = make([]float64, n<<k), make([]int32, n<<k)
	}
	for s := 1; s <= full(k); s++ {
		row, step := d.least[s*n:(s+1)*n], d.step[s*n:(s+1)*n]
		for v := range row {
			row[v], step[v] = inf, 0
		}
		low := s & -s
		if s == low {
			row[d.start[bit(s)]] = 0
		}
		for part := (s - 1) & s; part > 0; part = (part - 1) & s {
			if part&low == 0 {
				continue
			}
			one, two := d.least[part*n:(part+1)*n], d.least[(s^part)*n:(s^part+1)*n]
			for v, x := range one {
				if y := x + two[v]; y < row[v] {
					row[v], step[v] = y, int32(part)
				}
			}
		}
		d.g.settle(row, d.weight(s), false, step)
	}
}

// unroll calls visit for every arc with the set that it carries, of what joins
// s to v.
func (d *subsets) unroll(v, s int, visit func(a, s int)) {
	for {
		switch x := int(d.step[s*d.g.n+v]); {
		case x == 0:
			return
		case x > 0:
			d.unroll(v, x, visit)
			s ^= x
		default:
			visit(-1-x, s)
			v = d.g.arcs[-1-x].from
		}
	}
}

// rest is, by set and point, the least weight of all that is still to come
// where S has been joined to v: the way to the root, and the other terminals.
func (d *subsets) rest() []float64 {
	n, k := d.g.n, len(d.start)
	rest := make([]float64, n<<k)
	for s := full(k); s > 0; s-- {
		row := rest[s*n : (s+1)*n]
		for v := range row {
			row[v] = inf
		}
		others := full(k) ^ s
		if others == 0 {
			row[d.g.root] = 0
		}
		for part := others; part > 0; part = (part - 1) & others {
			join, then := d.least[part*n:(part+1)*n], rest[(s|part)*n:(s|part)*n+n]
			for v, x := range join {
				row[v] = min(row[v], x+then[v])
			}
		}
		d.g.settle(row, d.weight(s), true, nil)
	}
	return rest
}
