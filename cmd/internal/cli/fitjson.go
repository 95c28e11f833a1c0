package cli

import (
	"math"

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
		Next      []jsonNext     `json:"next"`
	}
	jsonFinding struct {
		jsonEstimate
		Evidence float64        `json:"evidence"`
		Reading  string         `json:"wrong_reading,omitempty"`
		Hint     string         `json:"hint,omitempty"`
		Rivals   []jsonEstimate `json:"cannot_tell_from,omitempty"`
	}
	jsonEstimate struct {
		Name  string   `json:"name"`
		Unit  string   `json:"unit,omitempty"`
		Value float64  `json:"value"`
		Sigma *float64 `json:"sigma"` // null where the readings do not see it
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
	}
)

func estimateJSON(e *calibrate.Estimate) jsonEstimate {
	out := jsonEstimate{Name: e.Name, Value: e.Value}
	if e.Kind == calibrate.LeakArea {
		out.Unit = "m2"
	}
	if !math.IsInf(e.Sigma, 0) {
		out.Sigma = &e.Sigma
	}
	return out
}

func fitJSON(r *calibrate.Report) jsonFit {
	out := jsonFit{Converged: r.Converged, Before: r.Before, After: r.After, Findings: []jsonFinding{}, Readings: []jsonRead{}, Next: []jsonNext{}}
	for i := range r.Findings {
		f := &r.Findings[i]
		j := jsonFinding{jsonEstimate: estimateJSON(&f.Estimate), Evidence: f.Evidence, Hint: f.Hint}
		if f.Reading >= 0 {
			j.Reading = r.Readings[f.Reading].Name
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
		j := jsonNext{Reading: n.Name, State: n.State.Name, Power: n.Power, Under: map[string]float64{}}
		for _, u := range n.Under {
			j.Under[u.Name] = u.Value
		}
		out.Next = append(out.Next, j)
	}
	return out
}
