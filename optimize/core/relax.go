package core

import (
	"math"
	"slices"
)

// relax turns the enclosures of a node into the program: what a path may
// spend, and rows for what the program cannot see.
type relax struct {
	x      *encloser
	g      *program
	path   [][]int // per tool: its runs, from the tool to the fan
	factor []float64
	areas  []float64 // per level: the area that the flow of a tool must fill
	rows   []row
	own    []int // per state and running tool: its row, −1 for none
	single []bool
	leaky  bool
	powers []float64 // per run: least flow^n in the state at hand
}

// row is Σ coef[j][option of runs[j]] ≤ 1 for every plan that can pass.
type row struct {
	runs []int
	coef [][]float64
}

func newRelax(x *encloser) *relax {
	e := x.e
	n := len(e.p.Runs)
	r := &relax{x: x, g: newProgram(e), factor: make([]float64, n), powers: make([]float64, n)}
	for k := range e.p.Tools {
		var path []int
		for i := e.p.Tools[k].Run; i >= 0; i = e.p.Runs[i].Parent {
			path = append(path, i)
		}
		r.path = append(r.path, path)
		r.leaky = r.leaky || e.p.Tools[k].Leak > 0
	}
	for s := range e.p.States {
		r.single = append(r.single, len(e.p.States[s].Running) == 1 && len(e.p.States[s].Open) == 0)
	}
	return r
}

// dilution bounds flow of run i / flow of the tool, over the runs of a path in
// a state with that tool alone, from above: the largest leaks at its least
// flow. It fills list along path.
func (r *relax) dilution(s, k int, list []float64) {
	c, x := &r.x.state[s], r.x
	leaks := 0.0
	for j, i := range r.path[k] {
		if j > 0 {
			for _, b := range x.e.children[i] {
				if x.e.moves[s][b] && !x.e.open[s][b] {
					leaks += c.most[b]
				}
			}
		}
		list[j] = 1 + leaks/(x.e.p.Tools[k].Flow*x.e.scale)
	}
}

// levels fixes, once the domains are first shrunk, the levels: an option asks
// a tool above it that runs alone for the flow transport · area / dilution.
// Values are rounded down to at most maxLevels.
func (r *relax) levels() {
	x := r.x
	e := x.e
	most := make([]float64, len(e.p.Runs)) // largest dilution
	asked := make([]bool, len(e.p.Runs))
	list := make([]float64, len(e.p.Runs))
	for s, st := range e.p.States {
		if !r.single[s] || st.Transport == 0 {
			continue
		}
		k := st.Running[0]
		r.dilution(s, k, list)
		for j, i := range r.path[k] {
			most[i], asked[i] = max(most[i], list[j]), true
		}
	}
	var all []float64
	for i := range e.p.Runs {
		for o := range e.p.Runs[i].Options {
			if asked[i] && x.dom[i]>>o&1 == 1 {
				all = append(all, e.p.Runs[i].Options[o].Area/most[i])
			}
		}
	}
	slices.Sort(all)
	all = slices.Compact(all)
	r.areas = append(r.areas[:0], 0)
	step := max(1, (len(all)+maxLevels-2)/(maxLevels-1))
	for k := 0; k < len(all); k += step {
		if all[k] > 0 {
			r.areas = append(r.areas, all[k])
		}
	}
	r.g.settle(len(r.areas))
	for i := range e.p.Runs {
		for o := range e.p.Runs[i].Options {
			l := 0
			if asked[i] {
				// The largest level that is no more than the option asks.
				k, found := slices.BinarySearch(r.areas, e.p.Runs[i].Options[o].Area/most[i])
				if l = k; !found {
					l = k - 1
				}
			}
			r.g.level[i][o] = uint8(max(l, 0))
		}
	}
}

// set fills the program for the domains at hand.
func (r *relax) set() {
	x, g := r.x, r.g
	e := x.e
	g.dom = x.dom
	r.scale()
	for i := range e.p.Runs {
		for o := range e.p.Runs[i].Options {
			g.weight[i][o] = e.p.Runs[i].Options[o].Resistance * r.factor[i]
		}
		for l := range g.limit[i] {
			g.limit[i][l] = math.Inf(1)
		}
		g.base[i] = 0
	}
	for s := range e.p.States {
		r.limits(s)
	}
	for k := range e.p.Loadings {
		for i := range e.p.Runs {
			ratio := r.ratio(i, k)
			for l := range g.limit[i] {
				g.limit[i][l] = min(g.limit[i][l], r.x.limit(k, i)/ratio)
			}
		}
	}
	r.bases()
	r.build()
}

// limit is what may be spent up to a run's upstream end in a loading.
func (x *encloser) limit(k, i int) float64 {
	v := x.e.p.Loadings[k].Limit[i]
	return v + slack*math.Abs(v)
}

// ratio is the least flow^n / factor on the way from a run to the fan.
func (r *relax) ratio(i, loading int) float64 {
	least := math.Inf(1)
	for ; i >= 0; i = r.x.e.p.Runs[i].Parent {
		if r.factor[i] > 0 {
			least = min(least, r.x.e.law.pow(r.x.e.p.Loadings[loading].Flow[i])/r.factor[i])
		}
	}
	return least
}

// scale chooses the weights: a run's resistance times factor. With states of
// one tool it is the least (flow of run / flow of tool)^n over those above it;
// else the least flow^n.
func (r *relax) scale() {
	x := r.x
	e, l := x.e, &x.e.law
	for i := range r.factor {
		r.factor[i] = math.Inf(1)
	}
	for s := range e.p.States {
		if r.single[s] {
			k := e.p.States[s].Running[0]
			r.multipliers(s, k)
			for _, i := range r.path[k] {
				r.factor[i] = min(r.factor[i], r.powers[i])
			}
		}
	}
	pressures := !slices.Contains(r.single, true)
	for s := range e.p.States {
		if r.single[s] {
			continue
		}
		for _, k := range e.p.States[s].Running {
			own := 1.0
			if !pressures {
				own = l.pow(x.state[s].flow[e.p.Tools[k].Run])
			}
			for _, i := range r.path[k] {
				if q := l.pow(x.state[s].flow[i]) / own; pressures || math.IsInf(r.factor[i], 1) {
					r.factor[i] = min(r.factor[i], q)
				}
			}
		}
	}
	if len(e.p.Loadings) > 0 { // the first is exact in the program
		for i := range r.factor {
			r.factor[i] = l.pow(e.p.Loadings[0].Flow[i])
		}
	}
	for i := range r.factor {
		if math.IsInf(r.factor[i], 1) {
			r.factor[i] = 0
		}
	}
}

// multipliers fills powers, along the path of a tool that runs alone, with
// the least (flow of run / flow of tool)^n: leaks at the least suction and
// with the largest resistances. It does not depend on the flow.
func (r *relax) multipliers(s, k int) {
	x, l := r.x, &r.x.e.law
	c := &x.state[s]
	flow, suction := 1.0, 0.0
	for j, i := range r.path[k] {
		if j > 0 {
			for _, b := range x.e.children[i] {
				if x.e.moves[s][b] && !x.e.open[s][b] {
					flow += l.flow(suction, c.high[b])
				}
			}
		}
		r.powers[i] = l.pow(flow)
		suction += x.low[i] * r.powers[i]
	}
}

// limits lowers what the paths of a state's tools may spend.
func (r *relax) limits(s int) {
	x, g := r.x, r.g
	e, l, c := x.e, &x.e.law, &x.state[s]
	st := &e.p.States[s]
	for _, k := range st.Running {
		leaf := e.p.Tools[k].Run
		list := g.limit[leaf]
		if !r.single[s] {
			least := math.Inf(1)
			for _, i := range r.path[k] {
				least = min(least, l.pow(c.flow[i])/r.factor[i])
			}
			for j := range list {
				list[j] = min(list[j], (c.fanCeil+slack*e.p.Fan.Head)/least)
			}
			continue
		}
		r.multipliers(s, k)
		least, last := math.Inf(1), r.path[k][len(r.path[k])-1]
		for _, i := range r.path[k] {
			least = min(least, r.powers[i]/r.factor[i])
		}
		for j := range list {
			q := max(c.flow[leaf], st.Transport*r.areas[j])
			total := max(c.fanFlow, q*l.root(r.powers[last]))
			list[j] = min(list[j], (e.p.Fan.Pressure(total)+slack*e.p.Fan.Head)/(least*l.pow(q)))
		}
	}
}

// bases finds for every run the levels that make no difference upstream.
func (r *relax) bases() {
	g := r.g
	for i := len(g.base) - 1; i >= 0; i-- {
		b := 0
		for b+1 < g.levels && g.limit[i][b+1] == g.limit[i][0] {
			b++
		}
		for _, c := range g.children[i] {
			b = min(b, int(g.base[c]))
		}
		g.base[i] = uint8(b)
	}
}
