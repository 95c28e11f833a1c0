package cli

import (
	"slices"
	"strings"

	"wyewright/network"
	"wyewright/optimize"
)

// The JSON of solve: names are stable, every quantity has its unit in its name.
type (
	jsonSolve struct {
		Meets  bool        `json:"meets"`
		States []jsonState `json:"states"`
	}
	jsonState struct {
		State     string     `json:"state"`
		Running   []string   `json:"running"`
		Open      []string   `json:"open,omitempty"`
		Status    string     `json:"status"`
		Meets     bool       `json:"meets"`
		FlowRatio float64    `json:"flow_ratio"` // least flow / required
		DustRatio float64    `json:"dust_ratio"` // least velocity / limit
		Slowest   string     `json:"slowest_dust_run,omitempty"`
		Tools     []jsonTool `json:"tools"`
		Bleeds    []jsonTool `json:"bleeds,omitempty"`
		Runs      []jsonRun  `json:"runs"`
		Collector jsonFan    `json:"collector"`
		Pressure  []jsonStep `json:"pressure,omitempty"` // of the tool served worst
		ResidualP float64    `json:"residual_pa"`
		ResidualQ float64    `json:"residual_m3s"`
	}
	jsonTool struct {
		Tool     string  `json:"tool"`
		Flow     float64 `json:"flow_m3s"`
		Required float64 `json:"required_m3s,omitempty"`
		Ratio    float64 `json:"ratio,omitempty"`
		Running  bool    `json:"running"`
		Verdict  string  `json:"verdict"`
	}
	jsonRun struct {
		Run      string  `json:"run"`
		Flow     float64 `json:"flow_m3s"`
		Velocity float64 `json:"velocity_ms"`
		Limit    float64 `json:"limit_ms,omitempty"`
		Loss     float64 `json:"loss_pa"`
		Dust     bool    `json:"dust"`
		Verdict  string  `json:"verdict"` // ok, no dust, or of backward, slow and fast what holds
	}
	jsonStep struct {
		Part string  `json:"part"`
		Kind string  `json:"kind"`
		Loss float64 `json:"loss_pa"`
	}
	jsonFan struct {
		Collector string  `json:"collector"`
		Flow      float64 `json:"flow_m3s"`
		Static    float64 `json:"static_suction_pa"`
		Leakage   float64 `json:"leakage_m3s"`
		Filter    float64 `json:"filter_pa"`
		Load      float64 `json:"motor_load_w,omitempty"`
		Rating    float64 `json:"motor_rating_w,omitempty"`
		Checked   bool    `json:"motor_checked"`
	}
)

func solveJSON(n *network.Network, all []optimize.StateResult, met bool) jsonSolve {
	out := jsonSolve{Meets: met}
	for _, s := range all {
		out.States = append(out.States, stateJSON(n, s))
	}
	return out
}

func stateJSON(n *network.Network, s optimize.StateResult) jsonState {
	spec := n.Spec()
	slow, _ := slowest(n, s.Verdict)
	out := jsonState{Slowest: slow, State: s.State.Name, Running: s.State.Running, Open: s.State.Open, Status: s.Solution.Status.String(),
		Meets: s.Verdict.Meets(), FlowRatio: s.Verdict.FlowRatio(), DustRatio: s.Verdict.DustRatio(), ResidualP: s.Solution.Residual, ResidualQ: s.Solution.Mass}
	for k, t := range s.Solution.Tools {
		if !t.Open {
			continue
		}
		j := jsonTool{Tool: spec.Tools[k].ID, Flow: float64(t.Flow), Running: t.Running, Verdict: "only open"}
		for _, tv := range s.Verdict.Tools {
			if tv.Tool == k {
				j.Required, j.Ratio, j.Verdict = float64(tv.Required), tv.Ratio, flowWord(tv)
			}
		}
		out.Tools = append(out.Tools, j)
	}
	for k, flow := range s.Solution.Bleeds {
		if id := spec.Bleeds[k].ID; slices.Contains(s.State.Open, id) {
			out.Bleeds = append(out.Bleeds, jsonTool{Tool: id, Flow: float64(flow), Verdict: "clean air"})
		}
	}
	for i, r := range s.Solution.Runs {
		limit, words := runVerdict(s.Verdict, i)
		out.Runs = append(out.Runs, jsonRun{Run: spec.Runs[i].ID, Flow: float64(r.Flow), Velocity: float64(r.Slow), Limit: float64(limit),
			Loss: float64(r.Loss), Dust: r.Dust, Verdict: strings.Join(words, ", ")})
	}
	if tool := worst(s); tool >= 0 {
		for _, st := range pressurePath(n, s.Solution, tool) {
			out.Pressure = append(out.Pressure, jsonStep{st.name, st.kind.String(), float64(st.loss)})
		}
	}
	c := &s.Solution.Collector
	out.Collector = jsonFan{c.ID, float64(c.Flow), float64(c.Static), float64(c.Leakage), float64(c.Filter),
		float64(s.Verdict.Motor.Load), float64(s.Verdict.Motor.Rating), s.Verdict.Motor.Checked}
	return out
}
