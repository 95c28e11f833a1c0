package core

import "math"

// grain is the share of the fan's head (or of a limit) that a plan may miss:
// rounding, not physics.
const grain = 1e-9

// Evaluator judges plans of one problem. It is not for concurrent use.
type Evaluator struct {
	p        *Problem
	law      law
	scale    float64
	children [][]int
	tool     []int     // per run, −1 for none
	open     [][]bool  // per state and run: leads to an open tool
	running  [][]bool  // per state and run: leads to a running tool
	moves    [][]bool  // per state and run: carries any flow
	live     [][]int   // per state: those runs, upstream ones last
	effect   []float64 // resistance of a run with all that flows into it
	conducts []float64 // its conductance
	need     []float64
	flow     []float64
	spent    []float64
}

// NewEvaluator prepares for a valid problem.
func NewEvaluator(p *Problem) *Evaluator {
	n := len(p.Runs)
	e := &Evaluator{p: p, law: newLaw(p.Exponent), scale: 1, children: make([][]int, n), tool: make([]int, n),
		effect: make([]float64, n), conducts: make([]float64, n), need: make([]float64, n), flow: make([]float64, n), spent: make([]float64, n)}
	for i := range p.Runs {
		e.tool[i] = -1
		if q := p.Runs[i].Parent; q >= 0 {
			e.children[q] = append(e.children[q], i)
		}
	}
	for k, t := range p.Tools {
		e.tool[t.Run] = k
	}
	for _, st := range p.States {
		running, open := make([]bool, n), make([]bool, n)
		mark := func(list []int, flag []bool) {
			for _, k := range list {
				for i := p.Tools[k].Run; i >= 0; i = p.Runs[i].Parent {
					flag[i] = true
				}
			}
		}
		mark(st.Running, running)
		mark(st.Running, open)
		mark(st.Open, open)
		moves := make([]bool, n)
		for k, t := range p.Tools {
			if open[t.Run] || p.Tools[k].Leak > 0 {
				for i := t.Run; i >= 0; i = p.Runs[i].Parent {
					moves[i] = true
				}
			}
		}
		var live []int
		for i := range moves {
			if moves[i] {
				live = append(live, i)
			}
		}
		e.running, e.open = append(e.running, running), append(e.open, open)
		e.moves, e.live = append(e.moves, moves), append(e.live, live)
	}
	return e
}

// combine fills effect for a state: the resistance of a run with all that
// flows into it, E = R + (Σ E_c^(−1/n))^(−n), a closed gate in series with
// its run. It returns the conductance that the fan sees.
func (e *Evaluator) combine(pick []int, s int) float64 {
	l, fan := &e.law, 0.0
	live := e.live[s]
	for j := len(live) - 1; j >= 0; j-- {
		i := live[j]
		top := 0.0
		if k := e.tool[i]; k >= 0 {
			if !e.open[s][i] {
				top = e.p.Tools[k].Leak
			}
		} else {
			top = l.resistance(e.conductance(s, e.children[i]))
		}
		e.effect[i] = top + e.p.Runs[i].Options[pick[i]].Resistance
		e.conducts[i] = l.conductance(e.effect[i])
		if e.p.Runs[i].Parent < 0 {
			fan += e.conducts[i]
		}
	}
	return fan
}

func (e *Evaluator) conductance(s int, children []int) float64 {
	sum := 0.0
	for _, c := range children {
		if e.moves[s][c] {
			sum += e.conducts[c]
		}
	}
	return sum
}

// Flows returns the flow of every run of a plan in a state: the fan meets the
// whole tree, and at every point the flow divides as the conductances do. The
// slice is reused by the next call.
func (e *Evaluator) Flows(pick []int, s int) []float64 {
	total := e.combine(pick, s)
	clear(e.flow)
	q := e.law.operate(e.p.Fan, e.law.resistance(total))
	for _, i := range e.live[s] {
		share, in := total, q
		if parent := e.p.Runs[i].Parent; parent >= 0 {
			share, in = e.conductance(s, e.children[parent]), e.flow[parent]
		}
		e.flow[i] = in * e.conducts[i] / share
	}
	return e.flow
}

// Ratio is the least flow / required over the running tools of all states,
// and the least velocity / transport over the runs that carry their flow
// (+Inf where nothing is asked).
func (e *Evaluator) Ratio(pick []int) (flow, transport float64) {
	flow, transport = math.Inf(1), math.Inf(1)
	for s := range e.p.States {
		q := e.Flows(pick, s)
		for _, k := range e.p.States[s].Running {
			flow = min(flow, q[e.p.Tools[k].Run]/e.p.Tools[k].Flow)
		}
		for i, carries := range e.running[s] {
			if area := e.p.Runs[i].Options[pick[i]].Area; carries && area*e.p.States[s].Transport > 0 {
				transport = min(transport, q[i]/(area*e.p.States[s].Transport))
			}
		}
	}
	return flow, transport
}

// Meets reports whether a plan meets every state and loading.
func (e *Evaluator) Meets(pick []int) bool {
	for s := range e.p.States {
		if e.miss(pick, s) > grain {
			return false
		}
	}
	for l := range e.p.Loadings {
		if e.overload(pick, l) > grain {
			return false
		}
	}
	return true
}

// miss is by what share of its head the fan misses a state: the pressure that
// the state needs less what the fan then gives, over Head.
func (e *Evaluator) miss(pick []int, s int) float64 {
	loss, q := e.require(pick, s)
	return (loss - e.p.Fan.Pressure(q)) / e.p.Fan.Head
}

// require returns the least loss and flow at the fan with which a state is
// met. No operating point is solved: as the flow grows, so do all flows, so
// each run has a least flow at which everything upstream has what it requires:
// the tool's own, Transport·Area, or what follows from a run upstream by its
// share. The state is met if there the loss does not exceed P.
func (e *Evaluator) require(pick []int, s int) (loss, q float64) {
	l := &e.law
	e.combine(pick, s)
	live, total := e.live[s], 0.0
	for j := len(live) - 1; j >= 0; j-- {
		i := live[j]
		if e.p.Runs[i].Parent < 0 {
			total += e.conducts[i]
		}
		if !e.running[s][i] {
			continue
		}
		need := e.p.States[s].Transport * e.p.Runs[i].Options[pick[i]].Area
		if k := e.tool[i]; k >= 0 {
			need = max(need, e.p.Tools[k].Flow*e.scale)
		} else {
			g := e.conductance(s, e.children[i])
			for _, c := range e.children[i] {
				if e.running[s][c] {
					need = max(need, e.need[c]/e.conducts[c]*g)
				}
			}
		}
		e.need[i] = need
		if e.p.Runs[i].Parent < 0 {
			loss = max(loss, e.effect[i]*l.pow(need))
		}
	}
	return loss, l.root(loss) * total
}

// overload is the largest loss over its limit, less 1, in a loading.
func (e *Evaluator) overload(pick []int, l int) float64 {
	worst := math.Inf(-1)
	for i := range e.p.Runs {
		r := &e.p.Runs[i]
		e.spent[i] = r.Options[pick[i]].Resistance * e.law.pow(e.p.Loadings[l].Flow[i])
		if r.Parent >= 0 {
			e.spent[i] += e.spent[r.Parent]
		}
		if limit := e.p.Loadings[l].Limit[i]; !math.IsInf(limit, 1) {
			worst = max(worst, (e.spent[i]-limit)/max(limit, 1e-300))
		}
	}
	return worst
}
