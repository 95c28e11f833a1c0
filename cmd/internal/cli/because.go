package cli

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"wyewright/network/units"
	"wyewright/optimize"
)

// explainGates finds out why companions are open, and what gauges should show.
func (o *outcome) explainGates(ctx context.Context) (err error) {
	if o.reasons, err = o.problem.Reasons(ctx, o.result); err != nil {
		return err
	}
	o.gauges, err = gauges(ctx, o.result.Network, o.result.States)
	return err
}

// because says in few words why something is open with the running tools.
func because(r *optimize.Reason, sys units.System) string {
	m := &r.Without
	keeps := "keeps"
	if !r.Held {
		keeps = "helps to keep"
	}
	switch {
	case !r.Needed:
		return "part of the plan, though no rule hangs on it alone"
	case m.Rule == optimize.FlowRule:
		if !r.Held {
			return fmt.Sprintf("brings more air to %s (%s %% without it)", m.Tool, percent(m.Ratio))
		}
		return fmt.Sprintf("lets %s have its flow (%s %% without it)", m.Tool, percent(m.Ratio))
	case m.Rule == optimize.TransportRule:
		return fmt.Sprintf("%s %s above %s (%s without it)", keeps, m.Run, r.Limit.Text(sys), r.Reached.Text(sys))
	case m.Rule == optimize.CeilingRule:
		return fmt.Sprintf("%s %s below %s (%s without it)", keeps, m.Run, r.Limit.Text(sys), r.Reached.Text(sys))
	case m.Rule == optimize.DirectionRule:
		return fmt.Sprintf("%s the air in %s from running backward", keeps, m.Run)
	}
	return keeps + " the motor within its rating"
}

// why says for a state of the plan why its companions are open, "" where it has
// none.
func (o *outcome) why(state int) string {
	s := &o.result.States[state]
	var words []string
	for i := range o.reasons[state] {
		r := &o.reasons[state][i]
		word := because(r, o.sys)
		if len(o.reasons[state]) > 1 {
			word = r.Open + ": " + word
		}
		words = append(words, word)
	}
	var set []string
	for _, name := range s.State.Open {
		if !slices.Contains(s.Companions, name) {
			set = append(set, name)
		}
	}
	switch {
	case len(set) > 0 && len(words) == 0:
		words = []string{"set in the shop file"}
	case len(set) > 0:
		words = append(words, strings.Join(set, ", ")+": set in the shop file")
	}
	return strings.Join(words, "; ")
}

// jsonReason is why something is open in a state, for programs.
type jsonReason struct {
	State   string  `json:"state"`
	Open    string  `json:"open"`
	Needed  bool    `json:"needed"`
	Held    bool    `json:"met_with_it"`
	Rule    string  `json:"rule,omitempty"`
	Tool    string  `json:"tool,omitempty"`
	Run     string  `json:"run,omitempty"`
	Ratio   float64 `json:"ratio_without,omitempty"`
	Reached float64 `json:"velocity_without_ms,omitempty"`
	Limit   float64 `json:"limit_ms,omitempty"`
	Why     string  `json:"why"`
}

// reasonsJSON lists why companions are open.
func (o *outcome) reasonsJSON() []jsonReason {
	out := []jsonReason{}
	for s, reasons := range o.reasons {
		for i := range reasons {
			r := &reasons[i]
			j := jsonReason{State: o.result.States[s].State.Name, Open: r.Open, Needed: r.Needed, Held: r.Held, Why: because(r, o.sys)}
			if m := &r.Without; r.Needed {
				j.Rule, j.Tool, j.Run, j.Ratio, j.Reached, j.Limit = m.Rule.String(), m.Tool, m.Run, m.Ratio, float64(r.Reached), float64(r.Limit)
			}
			out = append(out, j)
		}
	}
	return out
}
