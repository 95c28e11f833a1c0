package layout

import "math"

var inf = math.Inf(1)

// subsets is the program of Dreyfus and Wagner (1971, Networks 1:195–207) on a
// directed graph, in levels: least of (level, S, point) is the least weight that
// joins the terminals S to the point. What is joined keeps its level or goes to
// a lower one. weight(level, S) gives the weights of arcs that carry S, and
// begin(level, t) what it weighs that terminal t begins at the level.
type subsets struct {
	g      *graph
	start  []int // point by terminal
	levels int
	weight func(level, s int) []float64
	begin  func(level, t int) float64
	least  []float64
	step   []int32 // how: begun, lowered, a part of S to merge, or −1−arc
	done   []bool  // work space of fill
}

// Steps that are no parts of a set and no arcs.
const (
	begun   = 0
	lowered = math.MaxInt32
)

// full is the set of all terminals.
func full(k int) int { return 1<<k - 1 }

// row is where the points of a level and set begin in tables.
func (d *subsets) row(level, s int) int { return (level<<len(d.start) | s) * d.g.n }

func (d *subsets) run() {
	if d.least == nil {
		size := d.row(d.levels, 0)
		d.least, d.step, d.done = make([]float64, size), make([]int32, size), make([]bool, d.g.n)
	}
	for s := 1; s <= full(len(d.start)); s++ {
		for level := d.levels - 1; level >= 0; level-- {
			d.fill(level, s)
		}
	}
}

// fill finds the row of a level and set.
func (d *subsets) fill(level, s int) {
	n, at := d.g.n, d.row(level, s)
	row, step, done := d.least[at:at+n], d.step[at:at+n], d.done
	for v := range row {
		row[v], step[v], done[v] = inf, begun, false
		if level < d.levels-1 { // settled there with weights that are no larger
			row[v], step[v], done[v] = d.least[d.row(level+1, s)+v], lowered, true
		}
	}
	low := s & -s
	if t := bit(s); s == low {
		if x := d.begin(level, t); x < row[d.start[t]] {
			row[d.start[t]], step[d.start[t]], done[d.start[t]] = x, begun, false
		}
	}
	for part := (s - 1) & s; part > 0; part = (part - 1) & s {
		if part&low == 0 {
			continue
		}
		two := d.least[d.row(level, s^part):][:n]
		for v, x := range d.least[d.row(level, part):][:n] {
			if y := x + two[v]; y < row[v] {
				row[v], step[v], done[v] = y, int32(part), false
			}
		}
	}
	d.g.settle(row, d.weight(level, s), false, step, done)
}

// answer is the least weight that joins all terminals to the root.
func (d *subsets) answer() float64 { return d.least[d.row(0, full(len(d.start)))+d.g.root] }

// unroll calls visit for every arc of the answer, with its level and the set
// that it carries, and with arc −1 for the level at which a terminal begins.
func (d *subsets) unroll(visit func(a, level, s int)) {
	d.follow(d.g.root, 0, full(len(d.start)), visit)
}

func (d *subsets) follow(v, level, s int, visit func(a, level, s int)) {
	for {
		switch x := int(d.step[d.row(level, s)+v]); {
		case x == begun:
			visit(-1, level, s)
			return
		case x == lowered:
			level++
		case x > 0:
			d.follow(v, level, x, visit)
			s ^= x
		default:
			visit(-1-x, level, s)
			v = d.g.arcs[-1-x].from
		}
	}
}

// rest is, in rows as least, the least weight of all that is still to come
// where S has been joined to the point: the way to the root, and the other
// terminals.
func (d *subsets) rest() []float64 {
	n, all := d.g.n, full(len(d.start))
	rest := make([]float64, len(d.least))
	for s := all; s > 0; s-- {
		for level := range d.levels {
			row := rest[d.row(level, s):][:n]
			for v := range row {
				row[v] = inf
			}
			if level > 0 {
				copy(row, rest[d.row(level-1, s):][:n])
			}
			others := all ^ s
			if others == 0 {
				row[d.g.root] = 0
			}
			for part := others; part > 0; part = (part - 1) & others {
				then := rest[d.row(level, s|part):][:n]
				for v, x := range d.least[d.row(level, part):][:n] {
					row[v] = min(row[v], x+then[v])
				}
			}
			clear(d.done)
			d.g.settle(row, d.weight(level, s), true, nil, d.done)
		}
	}
	return rest
}
