package optimize

import (
	"context"
	"errors"
	"fmt"
	"math"

	"wyewright/network/fan"
	"wyewright/network/units"
	"wyewright/optimize/price"
)

// Energy is what it takes to judge a plan by more than its purchase: the money
// that the fan draws from the socket over the years. Solve then minimises the
// life-cycle cost, planning cost plus energy money in whole minor units.
//
// The fan power of a state is the shaft power of the collector's motor model
// (fan.Drawn) at the state's total flow, in the opening that the plan uses and
// with the filter that flows are judged at: the loaded one, unless the state
// says otherwise. It is rounded to 0.01 W, so that no answer hangs on the last
// bits of a flow.
type Energy struct {
	// Price of a kilowatt-hour in minor units (32 for 0.32 EUR).
	Price float64
	// Years and Hours: for how many years the collector runs how many hours a
	// year.
	Years, Hours float64
	// Share is the part of the hours that each state of the problem runs, in any
	// measure; nil gives every state the same.
	Share []float64
	// Interest a year turns later payments into what they are worth at the
	// start, at the end of each year; 0 adds the years up.
	Interest float64
	// Drive is the efficiency from the socket to the motor's shaft; 0 means
	// DefaultDrive.
	Drive units.Ratio
}

// DefaultDrive is the efficiency of an electric motor of some kilowatts at its
// usual load (common practice; IEC 60034-30-1 asks for 0.84 to 0.87 of motors of
// class IE2 and IE3 at 2.2 kW with four poles: from memory).
const DefaultDrive units.Ratio = 0.85

// ErrEnergy is what every error about an Energy wraps.
var ErrEnergy = errors.New("optimize: energy")

// Worth is the present-worth factor of a payment of 1 at the end of every year:
// Years without interest, else (1 − (1+i)^−n) / i (uniform series, as in any
// textbook of engineering economy).
func (e *Energy) Worth() float64 {
	if e.Interest == 0 {
		return e.Years
	}
	return -math.Expm1(-e.Years*math.Log1p(e.Interest)) / e.Interest
}

// drive is the efficiency from the socket to the shaft.
func (e *Energy) drive() float64 {
	if e.Drive == 0 {
		return float64(DefaultDrive)
	}
	return float64(e.Drive)
}

// yearly is the hours of a calendar year.
const yearly = 8784

// check reports what is wrong with an energy.
func (e *Energy) check(p *Problem) error {
	within := func(x, most float64) bool { return x >= 0 && x <= most }
	switch {
	case !within(e.Price, 1e6):
		return fmt.Errorf("%w: price of %g minor units a kWh", ErrEnergy, e.Price)
	case !within(e.Years, 1000) || !within(e.Hours, yearly) || !within(e.Interest, 1):
		return fmt.Errorf("%w: %g years of %g hours at an interest of %g", ErrEnergy, e.Years, e.Hours, e.Interest)
	case !within(float64(e.Drive), 1):
		return fmt.Errorf("%w: efficiency %g from socket to shaft", ErrEnergy, e.Drive)
	case e.Share != nil && len(e.Share) != len(p.States):
		return fmt.Errorf("%w: shares of %d states for %d", ErrEnergy, len(e.Share), len(p.States))
	}
	sum := 0.0
	for _, s := range e.Share {
		if !within(s, 1e9) {
			return fmt.Errorf("%w: share %g of the hours", ErrEnergy, s)
		}
		sum += s
	}
	if e.Share != nil && sum == 0 {
		return fmt.Errorf("%w: no state runs at all", ErrEnergy)
	}
	for i := range p.Base.Spec().Collectors {
		if c := &p.Base.Spec().Collectors[i]; isFixed(c.Curve) {
			return fmt.Errorf("%w: collector %q delivers a fixed flow, so that its pressure is not its own", ErrEnergy, c.ID)
		}
	}
	return nil
}

func isFixed(c fan.Curve) bool {
	_, fixed := c.(fan.Fixed)
	return fixed
}

// EnergyUse is what a plan draws.
type EnergyUse struct {
	States []StatePower
	// Mean is the shaft power over all running hours.
	Mean units.Power
	// Yearly is what the socket gives in a year, kWh.
	Yearly float64
	// Money is what that costs over the years, in whole minor units.
	Money price.Money
}

// StatePower is the fan power of a state.
type StatePower struct {
	State string
	Power units.Power // at the shaft
	Hours float64     // a year
	// Estimated says that the file knows nothing of the motor there, and that
	// fan.DefaultEfficiency was taken.
	Estimated bool
}

// Estimated reports whether the power of some state rests on a default.
func (u *EnergyUse) Estimated() bool {
	for _, s := range u.States {
		if s.Estimated {
			return true
		}
	}
	return false
}

// Use is what a plan draws in the openings that serve it best.
func (e *Energy) Use(p *Problem, plan *Plan) (*EnergyUse, error) {
	if err := e.check(p); err != nil {
		return nil, err
	}
	j, err := newJudge(p, &Stats{})
	if err != nil {
		return nil, err
	}
	return newDraw(j, e).use(plan.Pick), nil
}

// newCharged is newSearch with energy in the weight, which newSearch alone
// refuses.
func newCharged(ctx context.Context, p *Problem, s *Settings) (*search, error) {
	if s == nil || s.Energy == nil {
		return newSearch(ctx, p, s)
	}
	if s.Doubt != nil {
		return nil, fmt.Errorf("%w: not together with shops in doubt", ErrEnergy)
	}
	if err := s.Energy.check(p); err != nil {
		return nil, err
	}
	plain := *s
	plain.Energy = nil
	x, err := newSearch(ctx, p, &plain)
	if err == nil {
		x.charge(s.Energy)
	}
	return x, err
}
