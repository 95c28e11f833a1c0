package cli

import (
	"wyewright/optimize"
	"wyewright/optimize/price"
)

// The JSON of stages, as the verb prints it and writes it to stages.json. Names
// are stable, every quantity has its unit in its name; amounts are integers in
// the minor unit of the currency.
type (
	jsonStages struct {
		Shop     string      `json:"shop"`
		Units    string      `json:"units"`
		Currency string      `json:"currency"`
		Digits   int         `json:"currency_digits"`
		Cost     price.Money `json:"planning_cost_minor"`
		jsonOrder
		Before []jsonState `json:"before"`
		// Twice is the order where joints may be made in every stage.
		Twice *jsonOrder `json:"joints_made_twice,omitempty"`
	}
	jsonOrder struct {
		Status string      `json:"status"`
		Parts  int         `json:"parts"`
		Slower bool        `json:"transport_velocity_not_kept"`
		Extra  price.Money `json:"beyond_the_plan_minor"`
		Start  jsonDoes    `json:"as_found"`
		Stages []jsonStage `json:"stages"`
	}
	jsonStage struct {
		Stage   string            `json:"stage"`
		Budget  price.Money       `json:"budget_minor,omitempty"`
		Cost    price.Money       `json:"planning_cost_minor"`
		Spent   price.Money       `json:"spent_minor"`
		Rest    bool              `json:"beyond_the_budgets"`
		Needs   price.Money       `json:"least_useful_sum_minor,omitempty"`
		Pick    map[string]string `json:"pick"`
		Changes []jsonChange      `json:"changes"`
		Thrown  []string          `json:"thrown_away,omitempty"`
		Slowed  []jsonSlowed      `json:"transport_velocity_lost,omitempty"`
		Does    jsonDoes          `json:"does"`
		States  []jsonState       `json:"states"`
		Bill    jsonBill          `json:"bill"`
	}
	jsonSlowed struct {
		State string  `json:"state"`
		Run   string  `json:"run"`
		Ratio float64 `json:"velocity_ratio"`
	}
	jsonDoes struct {
		Met    int     `json:"flows_met"`
		Asked  int     `json:"flows_asked"`
		Held   int     `json:"states_where_the_rest_holds"`
		States int     `json:"states"`
		Mean   float64 `json:"mean_flow_ratio"`
		Least  float64 `json:"least_flow_ratio"`
	}
)

// stagesJSON is the machine-readable answer.
func (o *outcome) stagesJSON() jsonStages {
	out := jsonStages{Shop: o.p.File.Name, Units: o.sys.String(), Currency: o.p.Currency.Code, Digits: o.p.Currency.Digits,
		Cost: o.result.Best.Cost, jsonOrder: o.orderJSON(o.staged)}
	for _, s := range o.staged.Before {
		out.Before = append(out.Before, stateJSON(o.found.Base, s))
	}
	if t := o.staged.Twice; t != nil {
		twice := o.orderJSON(t)
		out.Twice = &twice
	}
	return out
}

func (o *outcome) orderJSON(s *optimize.Staged) jsonOrder {
	out := jsonOrder{Status: s.Status.String(), Parts: s.Parts, Slower: s.Slower, Extra: s.Extra, Start: doesJSON(s.Start)}
	for i := range s.Stages {
		st := &s.Stages[i]
		bill := billed{bill: o.p.Builder.Bill(st.Lines), lines: st.Lines, cuts: o.p.Builder.CutList(st.Lines)}
		j := jsonStage{Stage: stageName(s, i), Budget: st.Budget, Cost: st.Cost, Spent: st.Spent, Rest: st.Rest, Needs: st.Needs,
			Pick: pickJSON(st.Problem, st.Best), Changes: []jsonChange{}, Does: doesJSON(st.Does),
			Bill: bill.json()}
		for _, c := range st.Changes {
			j.Changes = append(j.Changes, jsonChange{What: c.What, From: c.From, To: c.To, Cost: c.Cost})
		}
		for _, l := range st.Thrown {
			j.Thrown = append(j.Thrown, lineText(&l))
		}
		for _, l := range st.Slowed {
			j.Slowed = append(j.Slowed, jsonSlowed{l.State, l.Run, l.Ratio})
		}
		for _, state := range st.States {
			j.States = append(j.States, stateJSON(st.Network, state))
		}
		out.Stages = append(out.Stages, j)
	}
	return out
}

func doesJSON(d optimize.Does) jsonDoes {
	return jsonDoes{d.Met, d.Asked, d.Held, d.States, d.Mean, finite(d.Least)}
}
