package optimize

import (
	"context"

	"wyewright/network/units"
	"wyewright/optimize/price"
)

// PowerPoint is one plan of the trade-off between cost and fan power.
type PowerPoint struct {
	Plan *Plan
	// Power is the shaft power over all running hours.
	Power units.Power
	// Status and Bound are those of the planning cost among the plans that draw
	// no more than was allowed.
	Status Status
	Bound  price.Money
}

// PowerFront is the trade-off of planning cost against fan power.
type PowerFront struct {
	Points []PowerPoint
	// Ends says why the walk ended: Infeasible where no plan draws less than the
	// last point, Undecided where a limit came first, NotSearched where there
	// were points enough.
	Ends Status
}

// FrontPower walks along the trade-off of planning cost against fan power, the
// mean over all running hours (Settings.Energy gives the share of each state;
// its price plays no part, and nil gives every state the same). Each point is the
// cheapest plan that draws less than the one before (ε-constraint method, see
// Front), from the cheapest plan of all on until no plan draws less. drop is the
// least fall of power from one point to the next as a share of the power; 0 asks
// for every plan that no other plan beats in both, with powers compared to
// 0.01 W. points above 0 end the walk after so many. from is a plan to know
// already, nil for none. TimeLimit is for all points together: each may take
// half of what is left, and says so where that was too short for a proof;
// MaxNodes is for all of them too. each is called with every point.
func FrontPower(ctx context.Context, p *Problem, s *Settings, from *Plan, drop float64, points int, each func(PowerPoint)) (*PowerFront, error) {
	var set Settings
	if s != nil {
		set = *s
	}
	e := Energy{}
	if set.Energy != nil {
		e = *set.Energy
	}
	e.Price = 0
	set.Energy = &e
	x, err := newCharged(ctx, p, &set)
	if err != nil {
		return nil, err
	}
	total, began := x.set.TimeLimit, x.start
	if from != nil {
		x.warm = append(x.warm, from.Pick)
	}
	front := &PowerFront{}
	for {
		if x.set.Clock != nil && total > 0 {
			left := total - x.set.Clock().Sub(began)
			if left <= 0 {
				front.Ends = Undecided
				break
			}
			x.set.TimeLimit = max(left/2, 1)
		}
		f, ok := x.point(1)
		if !ok {
			front.Ends = Infeasible
			if x.stopped || ctx.Err() != nil {
				front.Ends = Undecided
			}
			break
		}
		mean, _ := x.thrift.of(f.Plan.Pick)
		front.add(PowerPoint{f.Plan, units.Power(mean), f.Status, f.Bound}, each)
		if points > 0 && len(front.Points) > points {
			front.Points = front.Points[:points]
			return front, nil
		}
		x.thrift.most = onPowerGrid(min(mean-powerGrid, mean*(1-drop)))
	}
	if k := len(front.Points); each != nil && k > 0 {
		each(front.Points[k-1])
	}
	return front, nil
}

// add appends a point, which takes the place of the last where it costs the same
// and draws less. A point is told of once the next one has left it standing.
func (f *PowerFront) add(p PowerPoint, each func(PowerPoint)) {
	k := len(f.Points)
	if k > 0 && f.Points[k-1].Plan.Cost >= p.Plan.Cost {
		f.Points[k-1] = p
		return
	}
	if k > 0 && each != nil {
		each(f.Points[k-1])
	}
	f.Points = append(f.Points, p)
}
