package optimize

import (
	"math"

	"wyewright/network"
	"wyewright/network/fan"
	"wyewright/network/units"
	"wyewright/optimize/price"
)

// draw says what plans draw in fan power, and what that costs.
type draw struct {
	j *judge
	e *Energy
	// share of the hours of each state, 1 together; rate is what a watt at the
	// shaft costs in a state over the years, minor units.
	share, rate []float64
	// most is the largest mean power that a plan may have, +Inf for any.
	most float64
}

const (
	// perWatt is the number of steps of a power in a watt, powerGrid one of them.
	perWatt   = 100
	powerGrid = 1.0 / perWatt
	// grain is added before rounding, in steps: the last bits of a sum do not
	// decide a half.
	grain = 1e-6
)

// mostMoney bounds energy money, so that weights stay what they are.
const mostMoney = 1 << 43

func newDraw(j *judge, e *Energy) *draw {
	d := &draw{j: j, e: e, most: math.Inf(1)}
	sum := 0.0
	for s := range j.p.States {
		share := 1.0
		if e.Share != nil {
			share = e.Share[s]
		}
		d.share = append(d.share, share)
		sum += share
	}
	for s := range d.share {
		d.share[s] /= sum
		d.rate = append(d.rate, d.share[s]*e.Hours/1000/e.drive()*e.Price*e.Worth())
	}
	return d
}

// onPowerGrid rounds a power.
func onPowerGrid(p float64) float64 { return math.Floor(p*perWatt+0.5+grain) / perWatt }

// at is the shaft power of a plan in a state and opening.
func (d *draw) at(state, open int, pick []int) (p float64, estimated bool) {
	c := d.collector(state, open)
	w, estimated := fan.Drawn(c.Motor, c.Curve, units.Flow(d.j.scores(state, open, pick).Total))
	return onPowerGrid(float64(w)), estimated
}

func (d *draw) collector(state, open int) *network.Collector {
	return &d.j.p.Base.Spec().Collectors[d.j.openings[state][open].c.Collector]
}

// floor is a lower bound on at for every plan of the box of the judge, after it
// was asked whether the opening is possible.
func (d *draw) floor(state, open int) float64 {
	c := d.collector(state, open)
	lo, hi := d.j.box.TotalRange()
	p := fan.LeastDrawn(c.Motor, c.Curve, units.Flow(lo), units.Flow(hi))
	return math.Floor(float64(p)*(1-1e-9)*perWatt) / perWatt
}

// sums are mean power and energy money for a power of each state. Both rise
// with every power, so that bounds give bounds.
func (d *draw) sums(power []float64) (mean float64, money price.Money) {
	cost := 0.0
	for s, p := range power {
		mean += d.share[s] * p
		cost += d.rate[s] * p
	}
	return onPowerGrid(mean), price.Money(math.Floor(min(cost, mostMoney) + 0.5 + grain))
}

// of are mean power and energy money of a plan.
func (d *draw) of(pick []int) (mean float64, money price.Money) {
	power := make([]float64, len(d.share))
	for s := range power {
		o, _ := d.j.best(s, pick)
		power[s], _ = d.at(s, o, pick)
	}
	return d.sums(power)
}

// beyond is by how much a plan draws too much, as a share of what it may.
func (d *draw) beyond(pick []int) float64 {
	if d == nil || math.IsInf(d.most, 1) {
		return 0
	}
	mean, _ := d.of(pick)
	return max(0, mean/max(d.most, powerGrid)-1)
}

// use is the account of a plan.
func (d *draw) use(pick []int) *EnergyUse {
	u := &EnergyUse{}
	for s := range d.share {
		o, _ := d.j.best(s, pick)
		p, estimated := d.at(s, o, pick)
		sp := StatePower{State: d.j.p.States[s].Name, Power: units.Power(p), Hours: d.share[s] * d.e.Hours, Estimated: estimated}
		u.Yearly += p * sp.Hours / 1000 / d.e.drive()
		u.States = append(u.States, sp)
	}
	mean, money := d.of(pick)
	u.Mean, u.Money = units.Power(mean), money
	return u
}
