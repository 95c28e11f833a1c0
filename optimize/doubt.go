package optimize

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"wyewright/network"
)

// Doubt asks that a plan holds not only in the shop as it is believed to be, but
// in most of a list of shops that it may be. Each state must meet all its rules,
// with one and the same opening, in at least Share of them, and in the believed
// shop too.
//
// A share of n drawn shops estimates a probability p with a standard error of
// √(p(1−p)/n): Result says what holds for the list, Shares what holds for shops
// that the search has not seen.
type Doubt struct {
	// Problems are the same redesign of the other shops: the same states,
	// choices and alternatives at the same cost.
	Problems []*Problem
	// Share is the least share of them, above 0 and up to 1.
	Share float64
}

// ErrDoubt marks a Doubt that does not belong to a problem.
var ErrDoubt = errors.New("optimize: the shops in doubt are not of one redesign")

// check reports what is wrong with a doubt.
func (d *Doubt) check(p *Problem) error {
	if len(d.Problems) == 0 || !(d.Share > 0 && d.Share <= 1) {
		return fmt.Errorf("%w: %d shops, share %g", ErrDoubt, len(d.Problems), d.Share)
	}
	for k, q := range d.Problems {
		same := len(q.States) == len(p.States) && len(q.Companion) == len(p.Companion) && slices.EqualFunc(q.Choices, p.Choices, func(a, b Choice) bool {
			return a.Kind == b.Kind && a.ID == b.ID && slices.EqualFunc(a.Alternatives, b.Alternatives, func(a, b Alternative) bool {
				return a.Label == b.Label && a.Cost == b.Cost
			})
		})
		if !same {
			return fmt.Errorf("%w: shop %d has other choices", ErrDoubt, k)
		}
	}
	return nil
}

// others judges the shops in doubt.
type others struct {
	judges []*judge
	// dom is what each judge's box was told last.
	dom [][]uint64
	// allowed is how many of them may fail.
	allowed int
	// hard lists, per state, the shops from the hardest on, as a plan of
	// reference had it: who looks for too many failures looks there first.
	hard [][]int
}

// newOthers makes the judges of a doubt; share their work with stats.
func newOthers(d *Doubt, stats *Stats) (*others, error) {
	o := &others{allowed: int(math.Floor((1-d.Share)*float64(len(d.Problems)) + 1e-9))}
	for _, p := range d.Problems {
		j, err := newJudge(p, stats)
		if err != nil {
			return nil, err
		}
		o.judges = append(o.judges, j)
		dom := make([]uint64, len(p.Choices))
		for i := range dom {
			dom[i] = 1<<len(p.Choices[i].Alternatives) - 1
		}
		o.dom = append(o.dom, dom)
	}
	return o, nil
}

// rank orders the shops of every state by how a plan does in them.
func (o *others) rank(pick []int) {
	o.hard = make([][]int, len(o.judges[0].openings))
	for s := range o.hard {
		worst := make([]float64, len(o.judges))
		for v, j := range o.judges {
			o.hard[s] = append(o.hard[s], v)
			_, worst[v] = j.best(s, pick)
		}
		slices.SortStableFunc(o.hard[s], func(a, b int) int {
			switch {
			case worst[a] < worst[b]:
				return -1
			case worst[a] > worst[b]:
				return 1
			}
			return a - b
		})
	}
}

// likely reports whether a plan meets a state with an opening in enough shops.
func (o *others) likely(state, open int, pick []int) bool {
	failed := 0
	for _, v := range o.hard[state] {
		j := o.judges[v]
		if !j.ok(j.scores(state, open, pick)) {
			if failed++; failed > o.allowed {
				return false
			}
		}
	}
	return true
}

// edge is about the ratio that a plan holds in enough of the shops: that of the
// hardest but those that may fail, among twice as many of the hardest.
func (o *others) edge(state, open int, pick []int) float64 {
	var w []float64
	for _, v := range o.hard[state][:min(len(o.hard[state]), 2*(o.allowed+1))] {
		j := o.judges[v]
		w = append(w, j.worst(j.scores(state, open, pick)))
	}
	slices.Sort(w)
	return w[min(o.allowed, len(w)-1)]
}

// possible reports whether, for all that the boxes show, some plan of the
// domains may meet a state with an opening in enough shops: it cannot where
// more shops than may fail cannot be met each by itself.
func (o *others) possible(x *search, state, open int) bool {
	for _, v := range slices.Backward(o.hard[state][:min(len(o.hard[state]), o.allowed+1)]) {
		j := o.judges[v]
		for i, d := range x.dom {
			if o.dom[v][i] != d {
				j.p.setDomain(j.box, i, d)
				o.dom[v][i] = d
			}
		}
		if j.box.Possible(j.openings[state][open].c, j.p.limits(state), x.set.Flow) {
			return true
		}
	}
	return false
}

// Shares are, per state of a result, the share of the shops of a doubt in which
// the plan meets all the state's rules with the companions that the result
// names; and per state and tool of the believed shop that in which the tool gets
// its flow (NaN for tools that do not run).
func (d *Doubt) Shares(ctx context.Context, p *Problem, r *Result) (states []float64, tools [][]float64, err error) {
	if err := d.check(p); err != nil {
		return nil, nil, err
	}
	stats := &Stats{}
	believed, err := newJudge(p, stats)
	if err != nil {
		return nil, nil, err
	}
	states, tools = make([]float64, len(p.States)), make([][]float64, len(p.States))
	open := make([]int, len(p.States))
	n := len(p.Base.Spec().Tools)
	for s := range p.States {
		open[s] = slices.IndexFunc(believed.openings[s], func(o opening) bool {
			return slices.EqualFunc(o.companions, r.States[s].Companions, func(k int, name string) bool { return p.Companion[k].Name == name })
		})
		if open[s] < 0 {
			return nil, nil, fmt.Errorf("%w: state %q opens what the redesign cannot", ErrDoubt, p.States[s].Name)
		}
		tools[s] = make([]float64, n)
		for k := range n {
			tools[s][k] = math.NaN()
		}
	}
	one := 1 / float64(len(d.Problems))
	for _, q := range d.Problems {
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		j, err := newJudge(q, stats)
		if err != nil {
			return nil, nil, err
		}
		j.load(r.Best.Pick)
		for s := range p.States {
			c := j.openings[s][open[s]].c
			if j.ok(j.scores(s, open[s], r.Best.Pick)) {
				states[s] += one
			}
			_, v, err := j.solver.Check(context.WithoutCancel(ctx), c, q.limits(s))
			if err != nil {
				continue // counts as a miss
			}
			for _, t := range v.Tools {
				if math.IsNaN(tools[s][t.Tool]) {
					tools[s][t.Tool] = 0
				}
				if network.Meets(t.Ratio) {
					tools[s][t.Tool] += one
				}
			}
		}
	}
	return states, tools, nil
}

// In is the same redesign of another shop, which has the same parts by the same
// names: the prices stay, new duct is made by remake (nil leaves it as it is).
func (p *Problem) In(n *network.Network, remake func(network.Piece) network.Piece) (*Problem, error) {
	spec, own := *n.Spec(), p.Base.Spec()
	spec.Bleeds = own.Bleeds // with those that may be built
	if len(spec.Runs) != len(own.Runs) || len(spec.Tools) != len(own.Tools) || len(spec.Leaks) != len(own.Leaks) {
		return nil, fmt.Errorf("%w: another number of parts", ErrDoubt)
	}
	base, err := network.New(spec)
	if err != nil {
		return nil, err
	}
	q := *p
	q.Base, q.Choices = base, slices.Clone(p.Choices)
	for i := range q.Choices {
		c := &q.Choices[i]
		c.Alternatives = slices.Clone(c.Alternatives)
		for k := range c.Alternatives {
			a := &c.Alternatives[k]
			a.Changes = slices.Clone(a.Changes)
			for j, ch := range a.Changes {
				r, ok := ch.(network.ReplaceRun)
				if !ok || remake == nil {
					continue
				}
				r.Pieces = slices.Clone(r.Pieces)
				for m := range r.Pieces {
					r.Pieces[m] = remake(r.Pieces[m])
				}
				a.Changes[j] = r
			}
		}
		q.settle(c)
	}
	return &q, nil
}
