package core

import (
	"math"
	"math/bits"
)

// build makes the rows of a node: for every state that the program does not
// know exactly and every tool that runs in it, the losses on its path at the
// least flows; and for loadings beyond one, the losses to every limit.
func (r *relax) build() {
	r.rows, r.own = r.rows[:0], r.own[:0]
	for s := range r.x.e.p.States {
		for _, k := range r.x.e.p.States[s].Running {
			if r.single[s] && !r.leaky {
				r.own = append(r.own, -1)
				continue
			}
			r.own = append(r.own, len(r.rows))
			r.pathRow(s, k)
		}
	}
	if len(r.x.e.p.Loadings) < 2 {
		return
	}
	for k := range r.x.e.p.Loadings {
		for i, limit := range r.x.e.p.Loadings[k].Limit {
			if !math.IsInf(limit, 1) {
				r.own = append(r.own, len(r.rows))
				r.loadRow(k, i)
			}
		}
	}
}

// next is a new row; its memory is that of an earlier node.
func (r *relax) next() *row {
	if len(r.rows) < cap(r.rows) {
		r.rows = r.rows[:len(r.rows)+1]
	} else {
		r.rows = append(r.rows, row{})
	}
	w := &r.rows[len(r.rows)-1]
	w.runs = w.runs[:0]
	return w
}

// coef is a cleared list for one more run of a row.
func (w *row) next(run, options int) []float64 {
	j := len(w.runs)
	w.runs = append(w.runs, run)
	if j == len(w.coef) {
		w.coef = append(w.coef, nil)
	}
	if cap(w.coef[j]) < options {
		w.coef[j] = make([]float64, options)
	}
	w.coef[j] = w.coef[j][:options]
	clear(w.coef[j])
	return w.coef[j]
}

func (r *relax) loadRow(k, i int) {
	e, w := r.x.e, r.next()
	limit := max(r.x.limit(k, i), 1e-300)
	for ; i >= 0; i = e.p.Runs[i].Parent {
		list := w.next(i, len(e.p.Runs[i].Options))
		for o := range list {
			list[o] = e.p.Runs[i].Options[o].Resistance * e.law.pow(e.p.Loadings[k].Flow[i]) / limit
		}
	}
}

// pathRow makes the row of a tool's path in a state:
//
//	Σ_path R·max(flow, transport·area)^n + Σ_sides hog ≤ P(least flow at the fan).
//
// A side run that takes more than its least flow, because its option is wide,
// adds that to every run between its point and the fan: there Q^n and −P, both
// convex, are at least their tangents at the least flow.
func (r *relax) pathRow(s, k int) {
	x, w := r.x, r.next()
	e, l, c := x.e, &x.e.law, &x.state[s]
	limit := max(c.fanCeil+slack*e.p.Fan.Head, 1e-300)
	v := e.p.States[s].Transport
	path := r.path[k]
	for _, i := range path {
		list := w.next(i, len(e.p.Runs[i].Options))
		for d := x.dom[i]; d != 0; d &= d - 1 {
			o := bits.TrailingZeros64(d)
			opt := &e.p.Runs[i].Options[o]
			list[o] = opt.Resistance * l.pow(max(c.flow[i], v*opt.Area)) / limit
		}
	}
	for j := 1; j < len(path); j++ {
		for _, b := range e.children[path[j]] {
			if b != path[j-1] && e.open[s][b] {
				r.hog(s, k, j, b, w, limit)
			}
		}
	}
	for _, b := range x.fan {
		if b != path[len(path)-1] && e.open[s][b] {
			r.hog(s, k, len(path), b, w, limit)
		}
	}
}

// hog adds what the options of side run b, which meets path[j−1] on the way
// into path[j], take beyond its least flow.
func (r *relax) hog(s, k, j, b int, w *row, limit float64) {
	x := r.x
	e, l, c := x.e, &x.e.law, &x.state[s]
	path, v, floor := r.path[k], 0.0, x.floorBelow(s, r.path[k], j)
	if e.running[s][b] {
		v = e.p.States[s].Transport
	}
	list := w.next(b, len(e.p.Runs[b].Options))
	root := l.root(floor)
	for d := x.dom[b]; d != 0; d &= d - 1 {
		o := bits.TrailingZeros64(d)
		opt := &e.p.Runs[b].Options[o]
		extra := max(root*l.conductance(opt.Resistance+c.topHigh[b]), v*opt.Area) - c.flow[b]
		lag := 0.0 // by how much runs carry more than the sum of those upstream
		for m := j; m < len(path) && extra > lag; m++ {
			i := path[m]
			lag += c.flow[i] - r.inflow(s, e.children[i])
			// The least flow of a run may come from its own width instead.
			if own := e.p.States[s].Transport * r.widest(i); own <= c.flow[i] && extra > lag {
				list[o] += x.low[i] * l.n * l.pow(c.flow[i]) / c.flow[i] * (extra - lag)
			}
		}
		if lag += c.fanFlow - r.inflow(s, x.fan); extra > lag {
			list[o] += e.p.Fan.fall(c.fanFlow) * (extra - lag)
		}
		list[o] /= limit
	}
}

func (r *relax) inflow(s int, runs []int) float64 {
	sum := 0.0
	for _, i := range runs {
		if r.x.e.moves[s][i] {
			sum += r.x.state[s].flow[i]
		}
	}
	return sum
}

func (r *relax) widest(i int) float64 {
	area := 0.0
	for d := r.x.dom[i]; d != 0; d &= d - 1 {
		area = max(area, r.x.e.p.Runs[i].Options[bits.TrailingZeros64(d)].Area)
	}
	return area
}

// floorBelow is the least suction at the point into which path[j−1] flows.
func (x *encloser) floorBelow(s int, path []int, j int) float64 {
	c := &x.state[s]
	if j < len(path) {
		return c.floor[path[j]]
	}
	return max(0, x.e.p.Fan.Pressure(c.fanMost))
}

// load is the left side of a row for a plan.
func (w *row) load(pick []int) float64 {
	sum := 0.0
	for j, i := range w.runs {
		sum += w.coef[j][pick[i]]
	}
	return sum
}
