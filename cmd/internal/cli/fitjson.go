package cli

import (
	"math"

	"wyewright/network"
	"wyewright/network/calibrate"
)

// The JSON of fit: names are stable; values are in SI.
type (
	jsonFit struct {
		Converged bool           `json:"converged"`
		Before    float64        `json:"sum_of_squares_before"`
		After     float64        `json:"sum_of_squares"`
		Findings  []jsonFinding  `json:"findings"`
		Estimates []jsonEstimate `json:"estimates"`
		Readings  []jsonRead     `json:"readings"`
		Clashes   []jsonClash    `json:"cannot_both_be_right,omitempty"`
		Gains     []jsonGain     `json:"air_on_the_way"`
		// Correlations are those of the estimates in their order; null where
		// the readings leave a direction open.
		Correlations [][]float64   `json:"correlations"`
		Flows        []jsonFlowing `json:"flows,omitempty"`
		Next         []jsonNext    `json:"next"`
	}
	jsonClash struct {
		First  string  `json:"first"`
		Second string  `json:"second"`
		Sigmas float64 `json:"apart_sigma"`
	}
	jsonGain struct {
		State    string   `json:"state"`
		From     []string `json:"from"`
		To       string   `json:"to"`
		Flow     float64  `json:"gain_m3s"`
		Sigma    float64  `json:"sigma_m3s"`
		Believed float64  `json:"by_the_file_m3s"`
	}
	jsonFlowing struct {
		State string  `json:"state"`
		Run   string  `json:"run,omitempty"`
		Tool  string  `json:"tool,omitempty"`
		Flow  float64 `json:"flow_m3s"`
		Low   float64 `json:"low_m3s"`
		High  float64 `json:"high_m3s"`
		Speed float64 `json:"speed_ms,omitempty"`
	}
	jsonWitness struct {
		Reading string  `json:"reading"`
		Before  float64 `json:"model_without"`
		After   float64 `json:"model_with"`
		Weight  float64 `json:"evidence"`
	}
	jsonFinding struct {
		jsonEstimate
		Evidence float64        `json:"evidence"`
		Reading  string         `json:"wrong_reading,omitempty"`
		Hint     string         `json:"hint,omitempty"`
		Inflow   float64        `json:"inflow_m3s,omitempty"`
		State    string         `json:"inflow_state,omitempty"`
		Speaks   []jsonWitness  `json:"speaks_for_it"`
		Rivals   []jsonEstimate `json:"cannot_tell_from,omitempty"`
	}
	jsonEstimate struct {
		Name  string   `json:"name"`
		Unit  string   `json:"unit,omitempty"`
		Value float64  `json:"value"`
		Sigma *float64 `json:"sigma"` // null where the readings do not see it
		Low   *float64 `json:"low_90,omitempty"`
		High  *float64 `json:"high_90,omitempty"`
	}
	jsonRead struct {
		Reading string  `json:"reading"`
		Source  string  `json:"source"`
		Read    float64 `json:"read"`
		Bound   string  `json:"bound,omitempty"`
		Model   float64 `json:"model"`
		Miss    float64 `json:"miss_sigma"`
		Verdict string  `json:"verdict"`
	}
	jsonNext struct {
		Reading string             `json:"reading"`
		State   string             `json:"state"`
		Power   float64            `json:"power_sigma"`
		Under   map[string]float64 `json:"under"`
		Tool    string             `json:"settles_tool,omitempty"`
		For     string             `json:"settles_state,omitempty"`
		From    float64            `json:"sigma_now_m3s,omitempty"`
		To      float64            `json:"sigma_then_m3s,omitempty"`
	}
)

func estimateJSON(e *calibrate.Estimate) jsonEstimate {
	out := jsonEstimate{Name: e.Name, Value: e.Value}
	if e.Kind == calibrate.LeakArea || e.Kind == calibrate.GateLeft {
		out.Unit = "m2"
	}
	if !math.IsInf(e.Sigma, 0) {
		out.Sigma = &e.Sigma
		out.Low, out.High = &e.Low, &e.High
	}
	return out
}

func fitJSON(r *calibrate.Report, s *network.Spec, flows []calibrate.Flowing) jsonFit {
	out := jsonFit{Converged: r.Converged, Before: r.Before, After: r.After, Findings: []jsonFinding{}, Readings: []jsonRead{}, Gains: []jsonGain{}, Next: []jsonNext{}}
	for i := range r.Findings {
		f := &r.Findings[i]
		j := jsonFinding{jsonEstimate: estimateJSON(&f.Estimate), Evidence: f.Evidence, Hint: f.Hint, Inflow: f.Inflow, State: f.State, Speaks: []jsonWitness{}}
		if f.Reading >= 0 {
			j.Reading = r.Readings[f.Reading].Name
		}
		for _, w := range f.Speaks {
			j.Speaks = append(j.Speaks, jsonWitness{r.Readings[w.Reading].Name, w.Before, w.After, w.Weight})
		}
		for k := range f.Rivals {
			j.Rivals = append(j.Rivals, estimateJSON(&f.Rivals[k]))
		}
		out.Findings = append(out.Findings, j)
	}
	for i := range r.Estimates {
		out.Estimates = append(out.Estimates, estimateJSON(&r.Estimates[i]))
	}
	for i := range r.Readings {
		x := &r.Readings[i]
		out.Readings = append(out.Readings, jsonRead{Reading: x.Name, Source: x.Source, Read: x.Value, Model: x.Model, Miss: x.Miss, Verdict: missWord(x),
			Bound: map[calibrate.Bound]string{calibrate.AtLeast: "at least", calibrate.AtMost: "at most"}[x.Bound]})
	}
	for i := range r.Next {
		n := &r.Next[i]
		j := jsonNext{Reading: n.Name, State: n.State.Name, Power: n.Power, Under: map[string]float64{}, Tool: n.Tool, For: n.For, From: n.From, To: n.To}
		for _, u := range n.Under {
			name := u.Name
			if name == "" {
				name = "the fit"
			}
			j.Under[name] = u.Value
		}
		out.Next = append(out.Next, j)
	}
	for _, c := range r.Clashes {
		out.Clashes = append(out.Clashes, jsonClash{r.Readings[c.A].Source, r.Readings[c.B].Source, c.Sigmas})
	}
	for _, g := range r.Gains {
		j := jsonGain{State: r.Readings[g.Below].State.Name, From: []string{}, To: r.Readings[g.Below].Name, Flow: g.Flow, Sigma: g.Sigma, Believed: g.Believed}
		for _, k := range g.Above {
			j.From = append(j.From, r.Readings[k].Name)
		}
		out.Gains = append(out.Gains, j)
	}
	if c := r.Correlations(); c != nil {
		for i := range r.Estimates {
			out.Correlations = append(out.Correlations, make([]float64, len(r.Estimates)))
			for k := range r.Estimates {
				out.Correlations[i][k] = c.At(i, k)
			}
		}
	}
	for i := range flows {
		f := &flows[i]
		j := jsonFlowing{State: f.State, Flow: f.Flow, Low: f.Low, High: f.High, Speed: f.Speed}
		if f.Tool >= 0 {
			j.Tool = s.Tools[f.Tool].ID
		} else {
			j.Run = s.Runs[f.Run].ID
		}
		out.Flows = append(out.Flows, j)
	}
	return out
}
