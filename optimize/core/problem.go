package core

import (
	"errors"
	"fmt"
	"math"
)

// ErrProblem is what every error about a wrong problem wraps.
var ErrProblem = errors.New("core: problem")

// MaxOptions is the largest number of options of one run.
const MaxOptions = 64

// Problem is a rooted tree of runs with options, and what a plan (one option
// per run) must meet: either States, in which the flows follow from the
// resistances, or Loadings, in which they are given. Units are the caller's,
// as long as pressure = resistance · flow^Exponent and velocity = flow / area.
type Problem struct {
	// Exponent n of the loss R·Q|Q|^(n−1); 2 for turbulent duct, 1.852 for
	// the Hazen–Williams formula of water.
	Exponent float64
	Runs     []Run
	Fan      Fan
	Tools    []Tool
	States   []State
	Loadings []Loading
}

// Run is a piece of the tree with one option to be chosen.
type Run struct {
	// Parent is the run that this one flows into, −1 where it ends at the fan.
	// It must be of a lower index.
	Parent  int
	Options []Option
	// Joint[a][b] is added to the cost where the parent takes its option a and
	// this run its option b; nil for none. Runs at the fan have none.
	Joint [][]int64
}

// Option is one way to build a run.
type Option struct {
	Cost       int64   // at least 0
	Resistance float64 // above 0; with loadings 0 is allowed
	Area       float64 // at least 0; 0 where no velocity is asked for
}

// Tool is an inlet at the upstream end of a run that no other run flows into.
// A run with neither tool nor inflow is a dead end.
type Tool struct {
	Run  int
	Flow float64 // required where it runs, above 0
	// Leak is the resistance of its closed gate, in series with its run;
	// 0 for a tight gate.
	Leak float64
}

// State is a set of open tools. Flow and transport are asked for the Running
// ones alone; tools that are also Open owe nothing.
type State struct {
	Running, Open []int
	// Transport is the least velocity in every run that carries flow of a
	// running tool; 0 for none. It is not asked of options without Area.
	Transport float64
}

// Loading is a set of given flows. The losses from the fan to the upstream end
// of run i may add up to Limit[i] at most; +Inf for no limit, below 0 where no plan can meet it.
type Loading struct {
	Flow, Limit []float64
	// Price is what each unit of pressure that the fan must give for the flows
	// adds to the cost of a plan over its life: LifeCycle alone looks at it. One
	// loading at most has a price above 0.
	Price float64
}

// Fan is the pressure P(Q) = Head − Slope·Q − Curve·Q², concave and not
// increasing where Slope and Curve are at least 0; a fixed head has neither.
type Fan struct {
	Head, Slope, Curve float64
}

// Pressure is P(q).
func (f Fan) Pressure(q float64) float64 { return f.Head - q*(f.Slope+q*f.Curve) }

// fall is −P'(q).
func (f Fan) fall(q float64) float64 { return f.Slope + 2*q*f.Curve }

// fault is an error about a wrong problem.
func fault(format string, a ...any) error {
	return fmt.Errorf("%w: "+format, append([]any{ErrProblem}, a...)...)
}

// Validate reports what is wrong with a problem, nil if nothing is.
func (p *Problem) Validate() error {
	bad := fault
	finite := func(x float64) bool { return x >= 0 && !math.IsInf(x, 1) }
	if !(p.Exponent >= 1 && p.Exponent <= 3) {
		return bad("exponent %v is not in 1…3", p.Exponent)
	}
	if (len(p.States) == 0) == (len(p.Loadings) == 0) {
		return bad("it needs either states or loadings")
	}
	inflow := make([]bool, len(p.Runs))
	for i := range p.Runs {
		r := &p.Runs[i]
		if r.Parent < -1 || r.Parent >= i {
			return bad("run %d flows into %d, which is not an earlier run", i, r.Parent)
		}
		if len(r.Options) == 0 || len(r.Options) > MaxOptions {
			return bad("run %d has %d options", i, len(r.Options))
		}
		if r.Parent >= 0 {
			inflow[r.Parent] = true
		}
		for _, o := range r.Options {
			if o.Cost < 0 || !finite(o.Resistance) || !finite(o.Area) || o.Resistance == 0 && len(p.States) > 0 {
				return bad("run %d has the option %v", i, o)
			}
		}
		if r.Joint != nil && (r.Parent < 0 || !p.jointFits(i)) {
			return bad("the joint costs of run %d do not fit its options", i)
		}
	}
	at := make([]bool, len(p.Runs))
	for k, t := range p.Tools {
		if t.Run < 0 || t.Run >= len(p.Runs) || inflow[t.Run] || at[t.Run] {
			return bad("tool %d stands at run %d", k, t.Run)
		}
		at[t.Run] = true
		if !finite(t.Flow) || t.Flow == 0 || !finite(t.Leak) {
			return bad("tool %d requires flow %v with leak %v", k, t.Flow, t.Leak)
		}
	}
	for s, st := range p.States {
		if !finite(st.Transport) {
			return bad("state %d asks for the velocity %v", s, st.Transport)
		}
		for _, k := range append(append([]int(nil), st.Running...), st.Open...) {
			if k < 0 || k >= len(p.Tools) {
				return bad("state %d names tool %d", s, k)
			}
		}
	}
	priced := 0
	for l := range p.Loadings {
		if !finite(p.Loadings[l].Price) {
			return bad("loading %d has the price %v", l, p.Loadings[l].Price)
		}
		if p.Loadings[l].Price > 0 {
			priced++
		}
		if priced > 1 {
			return bad("more than one loading has a price")
		}
		if len(p.Loadings[l].Flow) != len(p.Runs) || len(p.Loadings[l].Limit) != len(p.Runs) {
			return bad("loading %d does not fit the runs", l)
		}
		for _, q := range p.Loadings[l].Flow {
			if !finite(q) {
				return bad("loading %d has the flow %v", l, q)
			}
		}
	}
	if !finite(p.Fan.Head) || p.Fan.Head == 0 && len(p.States) > 0 || !finite(p.Fan.Slope) || !finite(p.Fan.Curve) {
		return bad("the fan is %v", p.Fan)
	}
	return nil
}

func (p *Problem) jointFits(i int) bool {
	r := &p.Runs[i]
	if len(r.Joint) != len(p.Runs[r.Parent].Options) {
		return false
	}
	for _, row := range r.Joint {
		if len(row) != len(r.Options) {
			return false
		}
		for _, c := range row {
			if c < 0 {
				return false
			}
		}
	}
	return true
}

// Cost is what a plan costs.
func (p *Problem) Cost(pick []int) int64 {
	sum := int64(0)
	for i := range p.Runs {
		r := &p.Runs[i]
		sum += r.Options[pick[i]].Cost
		if r.Joint != nil {
			sum += r.Joint[pick[r.Parent]][pick[i]]
		}
	}
	return sum
}
