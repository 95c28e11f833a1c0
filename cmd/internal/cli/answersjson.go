package cli

import (
	"wyewright/optimize"
	"wyewright/optimize/price"
)

// The JSON of the questions behind a plan. What was not asked is not there.
type (
	jsonAnswers struct {
		Conflict *jsonConflict `json:"conflict,omitempty"`
		WhatIf   []jsonSaving  `json:"what_if,omitempty"`
		// Alternatives cost at most AlternativesWithin more.
		Alternatives       []jsonOther `json:"alternatives,omitempty"`
		AlternativesWithin float64     `json:"alternatives_within_ratio,omitempty"`
	}
	jsonConflict struct {
		Status       string            `json:"status"`
		Requirements []jsonRequirement `json:"requirements"`
		Irreducible  bool              `json:"irreducible"`
		Questions    int               `json:"questions"`
		WaysOut      []jsonWayOut      `json:"ways_out"`
		// AllWays says that every way out was decided.
		AllWays bool `json:"ways_out_complete"`
	}
	jsonRequirement struct {
		Rule  string `json:"rule"`
		State string `json:"state,omitempty"`
		Tool  string `json:"tool,omitempty"`
	}
	jsonWayOut struct {
		Less  []jsonRequirement `json:"less,omitempty"`
		Drop  string            `json:"drop_state,omitempty"`
		Share float64           `json:"share"`
		Most  float64           `json:"share_at_most"`
		jsonAnswer
	}
	jsonSaving struct {
		Tool  string      `json:"without_tool,omitempty"`
		State string      `json:"without_state,omitempty"`
		Saves price.Money `json:"saves_minor"`
		jsonAnswer
	}
	jsonOther struct {
		Kind   string      `json:"kind"`
		Family string      `json:"family,omitempty"`
		More   price.Money `json:"more_minor"`
		jsonAnswer
	}
	jsonAnswer struct {
		Status string `json:"status"`
		// Plan is not there where none was found.
		Plan *jsonCosts `json:"plan,omitempty"`
	}
	jsonCosts struct {
		Cost    price.Money       `json:"planning_cost_minor"`
		Bound   price.Money       `json:"bound_minor"`
		Changes int               `json:"changes"`
		Pick    map[string]string `json:"pick"`
	}
)

// answersJSON is what plan.json says of the questions.
func (o *outcome) answersJSON() jsonAnswers {
	s := &o.answers
	out := jsonAnswers{AlternativesWithin: s.within}
	if c := s.conflict; c != nil {
		out.Conflict = &jsonConflict{c.Status.String(), requirementsJSON(c.Requirements), c.Irreducible, c.Questions, []jsonWayOut{}, s.waysDone}
		for i := range s.ways {
			w := &s.ways[i]
			out.Conflict.WaysOut = append(out.Conflict.WaysOut, jsonWayOut{requirementsJSON(w.Less), w.Drop, w.Share, w.Most, o.answerJSON(&w.Answer)})
		}
	}
	for i := range s.savings {
		v := &s.savings[i]
		out.WhatIf = append(out.WhatIf, jsonSaving{v.Tool, v.State, v.Saves, o.answerJSON(&v.Answer)})
	}
	for i := range s.others {
		v := &s.others[i]
		out.Alternatives = append(out.Alternatives, jsonOther{string(v.Restriction), v.Family, v.More, o.answerJSON(&v.Answer)})
	}
	return out
}

func requirementsJSON(list []optimize.Requirement) []jsonRequirement {
	var out []jsonRequirement
	for _, r := range list {
		out = append(out, jsonRequirement{r.Rule.String(), r.State, r.Tool})
	}
	return out
}

func (o *outcome) answerJSON(a *optimize.Answer) jsonAnswer {
	if a.Plan == nil {
		return jsonAnswer{Status: a.Status.String()}
	}
	return jsonAnswer{a.Status.String(), &jsonCosts{a.Plan.Cost, a.Bound, a.Plan.Changed, pickJSON(o.problem, a.Plan)}}
}

// pickJSON names the alternative of every choice that a plan changes.
func pickJSON(p *optimize.Problem, pl *optimize.Plan) map[string]string {
	out := map[string]string{}
	for i, a := range pl.Pick {
		if a > 0 || p.Choices[i].Build {
			out[choiceKey(p, i)] = p.Choices[i].Alternatives[a].Label
		}
	}
	return out
}
