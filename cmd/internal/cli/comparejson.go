package cli

import (
	"math"

	"wyewright/network"
	"wyewright/optimize/price"
)

// The JSON of compare: names are stable, every quantity has its unit in its
// name; amounts are integers in the minor unit of the option's currency.
type (
	jsonCompare struct {
		Shop     string      `json:"shop"`
		Units    string      `json:"units"`
		Currency string      `json:"currency"`
		Digits   int         `json:"currency_digits"`
		Optimise bool        `json:"optimised"`
		Options  []jsonRival `json:"options"`
		Shows    []string    `json:"shows"`
		Mind     []string    `json:"cautions"`
	}
	jsonRival struct {
		Letter  string   `json:"letter"`
		Name    string   `json:"name"`
		What    []string `json:"what"`
		Beyond  []string `json:"beyond_the_file"`
		Off     string   `json:"cannot_be_had,omitempty"`
		Verdict string   `json:"verdict"`
		Meets   bool     `json:"meets"`
		// Status is "not searched" without a search, else that of the search.
		Status   string       `json:"status"`
		Currency string       `json:"currency"`
		Cost     *price.Money `json:"planning_cost_minor"` // null where it has none
		Unpriced []string     `json:"not_in_the_cost"`
		Bound    price.Money  `json:"bound_minor,omitempty"`
		Gap      float64      `json:"gap_ratio,omitempty"`
		Served   int          `json:"tools_served"`
		Asked    int          `json:"tools_asked"`
		Met      int          `json:"states_met"`
		Least    *jsonWorst   `json:"least_flow,omitempty"`
		Slow     *jsonWorst   `json:"slowest_dust_run,omitempty"`
		Motor    *jsonMotor   `json:"motor_at_most,omitempty"`
		Changes  []jsonChange `json:"changes,omitempty"`
		States   []jsonState  `json:"states"`
	}
	jsonWorst struct {
		Ratio float64 `json:"ratio"`
		Tool  string  `json:"tool,omitempty"`
		Run   string  `json:"run,omitempty"`
		State string  `json:"state"`
	}
	jsonMotor struct {
		State  string  `json:"state"`
		Load   float64 `json:"motor_load_w"`
		Rating float64 `json:"motor_rating_w"`
		OK     bool    `json:"ok"`
	}
)

// json is the machine-readable comparison.
func (s *comparison) json() jsonCompare {
	out := jsonCompare{Shop: s.p.File.Name, Units: s.p.File.Units.String(), Currency: s.p.Currency.Code, Digits: s.p.Currency.Digits,
		Optimise: s.o.optimise, Shows: s.shows(), Mind: s.mind()}
	for _, r := range s.rivals {
		out.Options = append(out.Options, s.rivalJSON(r))
	}
	return out
}

func (s *comparison) rivalJSON(r *rival) jsonRival {
	out := jsonRival{Letter: r.letter, Name: r.name, What: append([]string{}, r.what...), Beyond: append([]string{}, r.beyond...), Off: r.off,
		Verdict: r.verdict(s.sys), Status: r.status, Currency: r.p.Currency.Code, Unpriced: append([]string{}, r.unpriced...), States: []jsonState{}}
	if r.off != "" {
		return out
	}
	out.Meets, out.Bound, out.Gap = r.meets(), r.bound, r.gap
	out.Served, out.Asked, out.Met = r.served, r.asked, r.met
	if r.priced {
		out.Cost = &r.cost
	}
	if w := r.least; !math.IsInf(w.ratio, 1) {
		out.Least = &jsonWorst{Ratio: w.ratio, Tool: w.who, State: w.state}
	}
	if w := r.slow; !math.IsInf(w.ratio, 1) {
		out.Slow = &jsonWorst{Ratio: w.ratio, Run: w.who, State: w.state}
	}
	if m := r.load; m.Checked {
		out.Motor = motorJSON(r.motor.state, m)
	}
	for _, c := range r.changes {
		out.Changes = append(out.Changes, jsonChange{c.What, c.From, c.To, c.Why, c.Cost})
	}
	for _, st := range r.states {
		out.States = append(out.States, stateJSON(r.n, st))
	}
	return out
}

func motorJSON(state string, m network.MotorVerdict) *jsonMotor {
	return &jsonMotor{state, float64(m.Load), float64(m.Rating), m.OK()}
}
