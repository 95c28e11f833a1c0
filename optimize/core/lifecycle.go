package core

import (
	"context"
	"math"
	"slices"
)

// Lifetime is the plan that is cheapest with the energy of a priced loading.
type Lifetime struct {
	// Status: Optimal where no plan that meets everything has a lower Total,
	// Feasible and Undecided where a limit came first.
	Status   Status
	Pick     []int   // nil if no plan was found
	Cost     int64   // of the plan alone
	Pressure float64 // that the fan must give for the priced loading
	Total    float64 // Cost + Price·Pressure
	Bound    float64 // no plan that meets everything has a lower Total
	Steps    int     // searches made
	Nodes    int     // of all of them
}

// Pressure is what the fan must give for the flows of a loading: the largest
// loss from it to any run's upstream end.
func (p *Problem) Pressure(loading int, pick []int) float64 {
	return p.pressure(loading, func(i int) float64 { return p.Runs[i].Options[pick[i]].Resistance })
}

// pressure is Pressure for a resistance of each run.
func (p *Problem) pressure(loading int, resistance func(run int) float64) float64 {
	l, worst := newLaw(p.Exponent), 0.0
	spent := make([]float64, len(p.Runs))
	for i := range p.Runs {
		spent[i] = resistance(i) * l.pow(p.Loadings[loading].Flow[i])
		if q := p.Runs[i].Parent; q >= 0 {
			spent[i] += spent[q]
		}
		worst = max(worst, spent[i])
	}
	return worst
}

// finer is by what share the limit of a step is below what can still gain: more
// than Solve forgives, and as much as Total may be above the least as a share of
// the energy.
const finer = 1e-8

// LifeCycle finds the plan whose cost and energy together are least: Cost +
// Price·Pressure, with the Price of the one loading that has one. It walks along
// the steps of cost against pressure: the cheapest plan at a limit of pressure
// costs c, so that a plan below the limit with a total under the best, T, must
// need less than (T − c)/Price, which is the next limit, until none is left. The
// answer is exact to one part in 10⁸ of the energy; the cost of plans is in whole
// units, so that a caller with other prices scales them first. Settings.MaxNodes
// is for each step; Gap is not used. The error is for a wrong problem.
func LifeCycle(ctx context.Context, p *Problem, set *Settings) (*Lifetime, error) {
	if err := p.Validate(); err != nil {
		return nil, err
	}
	k := slices.IndexFunc(p.Loadings, func(l Loading) bool { return l.Price > 0 })
	if k < 0 {
		return nil, fault("no loading has a price of pressure")
	}
	var each Settings
	if set != nil {
		each = *set
	}
	each.Gap = 0
	price, least := p.Loadings[k].Price, p.pressure(k, p.leastResistance)
	out := &Lifetime{Total: math.Inf(1)}
	for limit := math.Inf(1); ; {
		r, err := Solve(ctx, p.within(k, limit), &each)
		if err != nil {
			return nil, err
		}
		out.Steps++
		out.Nodes += r.Nodes
		out.offer(p, k, r)
		switch r.Status {
		case Infeasible:
			return out.proved(), nil
		case Optimal:
		default:
			out.Status, out.Bound = r.Status, min(out.Total, float64(r.Bound)+price*least)
			if out.Pick != nil {
				out.Status = Feasible
			}
			return out, nil
		}
		each.Start = r.Pick
		if limit = (out.Total - float64(r.Cost)) / price * (1 - finer); limit < least {
			return out.proved(), nil
		}
	}
}

// offer takes the plan of a step if it is the best so far.
func (t *Lifetime) offer(p *Problem, k int, r *Result) {
	if r.Pick == nil {
		return
	}
	pressure := p.Pressure(k, r.Pick)
	if total := float64(r.Cost) + p.Loadings[k].Price*pressure; total < t.Total {
		t.Pick, t.Cost, t.Pressure, t.Total = r.Pick, r.Cost, pressure, total
	}
}

// proved ends a walk at which nothing can gain any more.
func (t *Lifetime) proved() *Lifetime {
	t.Status, t.Bound = Optimal, t.Total
	if t.Pick == nil {
		t.Status = Infeasible
	}
	return t
}

func (p *Problem) leastResistance(run int) float64 {
	least := math.Inf(1)
	for _, o := range p.Runs[run].Options {
		least = min(least, o.Resistance)
	}
	return least
}

// within is a problem with one loading held to a pressure at the fan. Only ends
// of the tree need the limit: losses add up toward them.
func (p *Problem) within(k int, pressure float64) *Problem {
	q := *p
	q.Loadings = slices.Clone(p.Loadings)
	limit := slices.Clone(p.Loadings[k].Limit)
	inflow := make([]bool, len(p.Runs))
	for i := range p.Runs {
		if r := p.Runs[i].Parent; r >= 0 {
			inflow[r] = true
		}
	}
	for i := range limit {
		if !inflow[i] {
			limit[i] = min(limit[i], pressure)
		}
	}
	q.Loadings[k].Limit = limit
	return &q
}
