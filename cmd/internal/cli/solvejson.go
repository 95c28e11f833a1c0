package cli

import (
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
		Tools     []jsonTool `json:"tools"`
		Runs      []jsonRun  `json:"runs"`
		Collector jsonFan    `json:"collector"`
		ResidualP float64    `json:"residual_pa"`
		ResidualQ float64    `json:"residual_m3s"`
	}
	jsonTool struct {
		Tool     string  `json:"tool"`
		Flow     float64 `json:"flow_m3s"`
		Required float64 `json:"required_m3s,omitempty"`
		Ratio    float64 `json:"ratio,omitempty"`
		Running  bool    `json:"running"`
	}
	jsonRun struct {
		Run      string  `json:"run"`
		Flow     float64 `json:"flow_m3s"`
		Velocity float64 `json:"velocity_ms"`
		Limit    float64 `json:"limit_ms,omitempty"`
		Loss     float64 `json:"loss_pa"`
		Dust     bool    `json:"dust"`
	}
	jsonFan struct {
		Collector string  `json:"collector"`
		Flow      float64 `json:"flow_m3s"`
		Static    float64 `json:"static_suction_pa"`
		Leakage   float64 `json:"leakage_m3s"`
		Load      float64 `json:"motor_load_w,omitempty"`
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
	out := jsonState{State: s.State.Name, Running: s.State.Running, Open: s.State.Open, Status: s.Solution.Status.String(),
		Meets: s.Verdict.Meets(), ResidualP: s.Solution.Residual, ResidualQ: s.Solution.Mass}
	for k, t := range s.Solution.Tools {
		if !t.Open {
			continue
		}
		j := jsonTool{Tool: spec.Tools[k].ID, Flow: float64(t.Flow), Running: t.Running}
		for _, tv := range s.Verdict.Tools {
			if tv.Tool == k {
				j.Required, j.Ratio = float64(tv.Required), tv.Ratio
			}
		}
		out.Tools = append(out.Tools, j)
	}
	limits := map[int]float64{}
	for _, d := range s.Verdict.Dust {
		limits[d.Run] = float64(d.Limit)
	}
	for i, r := range s.Solution.Runs {
		out.Runs = append(out.Runs, jsonRun{Run: spec.Runs[i].ID, Flow: float64(r.Flow), Velocity: float64(r.Slow), Limit: limits[i],
			Loss: float64(r.Loss), Dust: r.Dust})
	}
	c := &s.Solution.Collector
	out.Collector = jsonFan{c.ID, float64(c.Flow), float64(c.Static), float64(c.Leakage), float64(s.Verdict.Motor.Load), s.Verdict.Motor.Checked}
	return out
}
