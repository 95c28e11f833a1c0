package optimize

import (
	"context"
	"slices"

	"wyewright/network"
	"wyewright/network/units"
)

// Reason says why something is open with the running tools of a state.
type Reason struct {
	// Open is the tool or bleed.
	Open string
	// Needed says that without it the state misses something; Without is the
	// worst of that then, and Reached the velocity in a run that it names.
	Needed  bool
	Without Shortfall
	Reached units.Velocity
	// Limit is the velocity asked for in that run.
	Limit units.Velocity
	// Held says that with it the same is met.
	Held bool
}

// Reasons says for every state of a result why each of its companions is open:
// it is taken back alone, and the worst thing that then goes wrong is named.
// The error is that of a network that does not settle.
func (p *Problem) Reasons(ctx context.Context, r *Result) ([][]Reason, error) {
	out := make([][]Reason, len(r.States))
	solver := network.NewSolver(r.Network, nil)
	for s := range r.States {
		with := &r.States[s]
		for _, name := range with.Companions {
			st := with.State
			st.Open = slices.DeleteFunc(slices.Clone(st.Open), func(open string) bool { return open == name })
			c, err := r.Network.Case(st)
			if err != nil {
				return nil, err
			}
			_, without, err := solver.Check(ctx, c, p.limits(s))
			if err != nil {
				return nil, err
			}
			out[s] = append(out[s], reason(r.Network.Spec(), name, with, without))
		}
	}
	return out, nil
}

// reason compares a state with and without one of its companions.
func reason(spec *network.Spec, name string, with *StateResult, without *network.Verdict) Reason {
	out := Reason{Open: name}
	for _, m := range margins(spec, without, with.State.Name, 1) {
		if !network.Meets(m.Ratio) && (!out.Needed || m.Ratio < out.Without.Ratio) {
			out.Needed, out.Without = true, m
		}
	}
	out.Held = true
	for _, m := range margins(spec, with.Verdict, with.State.Name, 1) {
		if m.Rule == out.Without.Rule && m.Run == out.Without.Run && m.Tool == out.Without.Tool {
			out.Held = network.Meets(m.Ratio)
		}
	}
	for _, d := range slices.Concat(without.Dust, without.Fast) {
		if spec.Runs[d.Run].ID == out.Without.Run && d.Ratio == out.Without.Ratio {
			out.Reached, out.Limit = d.Velocity, d.Limit
		}
	}
	return out
}

// margins lists how a verdict stands against every rule, with the flows asked
// for taken by the given share.
func margins(spec *network.Spec, v *network.Verdict, state string, flow float64) []Shortfall {
	var out []Shortfall
	for _, t := range v.Tools {
		out = append(out, Shortfall{State: state, Rule: FlowRule, Tool: spec.Tools[t.Tool].ID, Ratio: t.Ratio / flow})
	}
	for _, d := range v.Dust {
		out = append(out, Shortfall{State: state, Rule: TransportRule, Run: spec.Runs[d.Run].ID, Ratio: d.Ratio})
	}
	for _, d := range v.Fast {
		out = append(out, Shortfall{State: state, Rule: CeilingRule, Run: spec.Runs[d.Run].ID, Ratio: d.Ratio})
	}
	for _, run := range v.Backward {
		out = append(out, Shortfall{State: state, Rule: DirectionRule, Run: spec.Runs[run].ID})
	}
	if m := v.Motor; m.Checked && m.Load > 0 {
		out = append(out, Shortfall{State: state, Rule: MotorRule, Ratio: float64(m.Rating / m.Load)})
	}
	return out
}
