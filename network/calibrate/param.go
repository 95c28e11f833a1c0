package calibrate

import (
	"fmt"
)

// Kind says what a parameter means.
type Kind uint8

// Kinds of parameter. The first ones are never quite known and are fitted
// always, held by their priors; those from LeakArea on are faults.
const (
	Probe    Kind = iota // mean speed over the speed on the axis
	Hose                 // friction of a family of hose over what the file says
	Rough                // roughness of a family of rigid duct over what the file says
	Entry                // entry loss of a tool over what the file says
	Known                // area of a leak of the file over what the file says
	Shut                 // free area of all shut gates over what the file says
	FanSpeed             // speed of a collector's fan over what its curve says
	Filter               // resistance of a collector's filter over what the file says
	Amps                 // current of a collector's motor per shaft power, A/W

	LeakArea  // an opening at a point, m²
	GateLeft  // free area of the gate of a port in the states that shut it, m² more than the file says
	ExtraLoss // a coefficient on a run's last piece: a blockage, a crushed hose
	Bore      // inner diameter of a run over what the file says
	Reckoned  // flows written down for a run or a port over the true ones: worked out with another width
)

// Fault reports whether a parameter of the kind stands for something wrong.
func (k Kind) Fault() bool { return k >= LeakArea }

// opening reports whether the size of a parameter is an area through which air
// comes in.
func (k Kind) opening() bool { return k == LeakArea || k == GateLeft }

// Param is one parameter of a fit with its prior: the value expected before any
// reading, and how sure that is (one standard deviation).
type Param struct {
	Kind Kind
	// Index is the collector, tool, point or run, Port the port of a tool (of
	// Reckoned −1 for a run); Family the duct; Date the session for which it
	// holds, empty for all.
	Index, Port  int
	Family, Date string
	Name         string

	Prior, Doubt float64 // Doubt 0: nothing is known beforehand
	Lower, Upper float64
	Scale        float64 // a size at which it matters
	// Released says that the usual prior was found too narrow.
	Released bool
}

// Text prints a value of the parameter.
func (p *Param) Text(x float64) string {
	switch p.Kind {
	case LeakArea, GateLeft:
		return fmt.Sprintf("%.1f cm2", x*1e4)
	case ExtraLoss:
		return fmt.Sprintf("K %.2f", x)
	case Amps:
		return fmt.Sprintf("%.3g A/kW", x*1e3)
	}
	return fmt.Sprintf("%.3f", x)
}

// starts are the values a fault is fitted from.
func (p *Param) starts() []float64 {
	switch p.Kind {
	case Bore, Reckoned:
		return []float64{0.85, 1.18}
	case GateLeft:
		return []float64{0.05 * p.Upper, 0.5 * p.Upper}
	case LeakArea, ExtraLoss:
		return []float64{p.Scale, 6 * p.Scale}
	}
	return nil
}

// wide is by how much a prior is widened when it is released (our choice).
const wide = 10

// released is the parameter with its prior all but gone.
func (p Param) released() Param {
	p.Doubt *= wide
	p.Released = true
	return p
}

// loosens reports whether a prior of the kind may turn out too narrow: the fan
// weak, the filter blinded, a hose worse than hoses are.
func (p *Param) loosens() bool {
	switch p.Kind {
	case Hose, Rough, Entry, Known, Shut, FanSpeed, Filter:
		return p.Doubt > 0 && !p.Released
	}
	return false
}
