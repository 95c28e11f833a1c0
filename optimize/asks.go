package optimize

import (
	"slices"

	"wyewright/network"
	"wyewright/network/units"
)

// Requirement is one thing that is asked of every plan: the flow of a tool in a
// state, the transport velocity in a state, the ceiling of velocity or the
// motor's rating. That air runs toward the collector is no requirement of its
// own: it is asked wherever anything is.
type Requirement struct {
	Rule Rule
	// State is the state it binds, empty for ceiling and motor, which bind all.
	State string
	// Tool is the tool of a FlowRule.
	Tool string

	state, tool int // indices, −1 where there is none
}

// Requirements lists everything that a problem asks, state by state.
func (p *Problem) Requirements() []Requirement {
	var out []Requirement
	for s := range p.States {
		st := &p.States[s]
		for _, id := range st.Running {
			k, _ := p.Base.ToolIndex(id) // Formulate has checked the names
			out = append(out, Requirement{FlowRule, st.Name, id, s, k})
		}
		out = append(out, Requirement{TransportRule, st.Name, "", s, -1})
	}
	if p.Limits.Ceiling > 0 {
		out = append(out, Requirement{CeilingRule, "", "", -1, -1})
	}
	if p.motor() {
		out = append(out, Requirement{MotorRule, "", "", -1, -1})
	}
	return out
}

// motor reports whether a collector has a motor to be held to its rating.
func (p *Problem) motor() bool {
	return slices.ContainsFunc(p.Base.Spec().Collectors, func(c network.Collector) bool { return c.Motor != nil })
}

// asks say which share of every requirement is asked for: 1 is all of it, 0
// nothing. A ceiling or rating at a share is that much higher: limit / share.
type asks struct {
	flow           [][]float64 // per state and tool
	transport      []float64   // per state
	ceiling, motor float64
	// drop is a state that is left out with all its rules, −1 for none.
	drop int
}

// asking are asks of the given requirements alone.
func (p *Problem) asking(list []Requirement) *asks {
	a := &asks{flow: make([][]float64, len(p.States)), transport: make([]float64, len(p.States)), drop: -1}
	for s := range a.flow {
		a.flow[s] = make([]float64, len(p.Base.Spec().Tools))
	}
	a.set(1, list...)
	return a
}

// set asks for a share of requirements.
func (a *asks) set(share float64, list ...Requirement) {
	for _, r := range list {
		switch r.Rule {
		case FlowRule:
			a.flow[r.state][r.tool] = share
		case TransportRule:
			a.transport[r.state] = share
		case CeilingRule:
			a.ceiling = share
		case MotorRule:
			a.motor = share
		}
	}
}

// ask is the same redesign with less asked. A state of which nothing is asked
// is left out.
func (p *Problem) ask(a *asks) (*Problem, error) {
	q := *p
	q.States, q.eased = nil, []network.Limits{}
	if p.Limits.Ceiling > 0 {
		q.Limits.Ceiling = 0
		if a.ceiling > 0 {
			q.Limits.Ceiling = p.Limits.Ceiling / units.Velocity(a.ceiling)
		}
	}
	everywhere := q.Limits.Ceiling > 0 || a.motor > 0
	for s := range p.States {
		if s != a.drop && (everywhere || a.transport[s] > 0 || slices.Max(a.flow[s]) > 0) {
			l := q.Limits
			l.Ease = &network.Ease{Flow: a.flow[s], Transport: a.transport[s]}
			q.States, q.eased = append(q.States, p.States[s]), append(q.eased, l)
		}
	}
	if a.motor == 1 || !p.motor() {
		return &q, nil
	}
	spec := *p.Base.Spec()
	spec.Collectors = slices.Clone(spec.Collectors)
	for i := range spec.Collectors {
		m := spec.Collectors[i].Motor
		if spec.Collectors[i].Motor = nil; m != nil && a.motor > 0 {
			other := *m
			other.Rating /= units.Power(a.motor)
			spec.Collectors[i].Motor = &other
		}
	}
	base, err := network.New(spec)
	q.Base = base
	return &q, err
}
