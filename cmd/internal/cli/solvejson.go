package cli

import (
	"encoding/json"
	"math"
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
		// Collapse is what the ducts bear with all gates shut.
		Collapse *jsonCollapse `json:"collapse"`
	}
	jsonState struct {
		State     string     `json:"state"`
		Running   []string   `json:"running"`
		Open      []string   `json:"open,omitempty"`
		Status    string     `json:"status"`
		Meets     bool       `json:"meets"`
		FlowRatio jsonRatio  `json:"flow_ratio"` // least flow / required
		DustRatio jsonRatio  `json:"dust_ratio"` // least velocity / limit
		Slowest   string     `json:"slowest_dust_run,omitempty"`
		Tools     []jsonTool `json:"tools"`
		Bleeds    []jsonTool `json:"bleeds,omitempty"`
		Runs      []jsonRun  `json:"runs"`
		Collector jsonFan    `json:"collector"`
		Fans      []jsonFan  `json:"collectors,omitempty"` // where several run
		Unsteady  bool       `json:"unsteady,omitempty"`
		Parting   []string   `json:"parting,omitempty"`  // wyes without a measured coefficient
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
		Run  string  `json:"run,omitempty"`
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
		Peak      float64 `json:"peak_flow_m3s,omitempty"` // below it the fan may surge
		Free      float64 `json:"free_air_m3s"`
	}
)

// jsonRatio is a ratio, null where nothing is asked for.
type jsonRatio float64

// MarshalJSON implements json.Marshaler.
func (r jsonRatio) MarshalJSON() ([]byte, error) {
	if math.IsInf(float64(r), 0) {
		return []byte("null"), nil
	}
	return json.Marshal(float64(r))
}

func solveJSON(n *network.Network, all []optimize.StateResult, met bool, bears *strained) jsonSolve {
	out := jsonSolve{Meets: met, Collapse: bears.json(n)}
	for _, s := range all {
		out.States = append(out.States, stateJSON(n, s))
	}
	return out
}

func stateJSON(n *network.Network, s optimize.StateResult) jsonState {
	spec := n.Spec()
	slow, _ := slowest(n, s.Verdict)
	out := jsonState{Slowest: slow, State: s.State.Name, Running: append([]string{}, s.State.Running...), Tools: []jsonTool{}, Open: s.State.Open, Status: s.Solution.Status.String(),
		Meets: s.Verdict.Meets(), FlowRatio: jsonRatio(s.Verdict.FlowRatio()), DustRatio: jsonRatio(s.Verdict.DustRatio()), ResidualP: s.Solution.Residual, ResidualQ: s.Solution.Mass}
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
		for _, st := range n.Way(s.Solution, tool, 0).Steps {
			j := jsonStep{Part: lossName(n, tool, st), Kind: st.Kind.String(), Loss: float64(st.Loss)}
			if st.Run >= 0 {
				j.Run = spec.Runs[st.Run].ID
			}
			out.Pressure = append(out.Pressure, j)
		}
	}
	out.Collector = fanJSON(n, s, &s.Solution.Collector)
	if len(s.Solution.Collectors) > 1 {
		for i := range s.Solution.Collectors {
			out.Fans = append(out.Fans, fanJSON(n, s, &s.Solution.Collectors[i]))
		}
	}
	out.Unsteady, out.Parting = s.Solution.Unsteady, s.Solution.Parting
	return out
}

// fanJSON is one collector; leakage is that of the whole shop.
func fanJSON(n *network.Network, s optimize.StateResult, c *network.CollectorResult) jsonFan {
	m := s.Verdict.Motor // with the clean filter
	if len(s.Solution.Collectors) > 1 {
		m = n.Motor(c)
	}
	peak, free := network.Working(n.Spec().Collectors[c.Collector].Curve)
	return jsonFan{c.ID, float64(c.Flow), float64(c.Static), float64(s.Solution.Collector.Leakage), float64(c.Filter),
		float64(m.Load), float64(m.Rating), m.Checked, float64(peak), float64(free)}
}
