package cli

import (
	"fmt"

	"wyewright/network"
	"wyewright/network/units"
	"wyewright/optimize"
	"wyewright/plots"
)

// step is a part of the way from a tool to the fan and what it takes, Pa.
type step struct {
	name string
	kind plots.PathKind
	loss units.Pressure
}

// pressurePath says where the pressure goes between a tool and the fan, run by
// run: from the room to the first run, each run, what its stream loses at the
// wyes behind it, then the collector's own parts. The steps add up to the
// pressure of the fan's curve. The tool's first port counts.
func pressurePath(n *network.Network, s *network.Solution, tool int) []step {
	var out []step
	for _, st := range n.Way(s, tool, 0).Steps {
		last := len(out) - 1
		switch {
		case st.Kind == network.WyeLoss:
			out = append(out, step{"junction at " + st.At, plots.PathJunction, st.Loss})
		case st.Run < 0:
			kind := plots.PathFilter
			if st.Kind == network.EntryLoss {
				kind = plots.PathEntry
			}
			out = append(out, step{lossName(n, tool, st), kind, st.Loss})
		case last >= 0 && out[last].kind == plots.PathRun && out[last].name == n.Spec().Runs[st.Run].ID:
			out[last].loss += st.Loss
		default:
			out = append(out, step{n.Spec().Runs[st.Run].ID, plots.PathRun, st.Loss})
		}
	}
	return out
}

// lossName names a loss in words.
func lossName(n *network.Network, tool int, st network.LossStep) string {
	where := ""
	if st.Run >= 0 {
		where = n.Spec().Runs[st.Run].ID + ": "
	}
	switch st.Kind {
	case network.EntryLoss:
		return n.Spec().Tools[tool].ID + ": machine and gate"
	case network.WyeLoss:
		return "wye at " + st.At
	case network.InletLoss:
		return "inlet speed, in the curve"
	}
	return where + st.Kind.String()
}

// stepKinds are the kinds of a picture of losses.
var stepKinds = map[network.LossKind]plots.StepKind{
	network.EntryLoss: plots.StepEntry, network.StraightLoss: plots.StepStraight, network.HoseLoss: plots.StepStraight,
	network.BendLoss: plots.StepBend, network.SizeLoss: plots.StepSize, network.GateLoss: plots.StepBend, network.OwnLoss: plots.StepBend,
	network.WyeLoss: plots.StepWye, network.InletLoss: plots.StepSeparator, network.SeparatorLoss: plots.StepSeparator,
	network.FilterLoss: plots.StepFilter, network.DischargeLoss: plots.StepDischarge,
}

// lossFigure draws every loss on the way from a tool to the fan; when, if given,
// stands before the title.
func lossFigure(n *network.Network, s optimize.StateResult, tool, when string, sys units.System) (*plots.Figure, error) {
	k, err := shownTool(n, s, tool)
	if err != nil {
		return nil, err
	}
	way := n.Way(s.Solution, k, 0)
	title := "Where the fan's pressure goes:"
	if when != "" {
		title = when + ": where the fan's pressure goes,"
	}
	d := plots.WaterfallData{Title: fmt.Sprintf("%s %s in %q", title, n.Spec().Tools[k].ID, s.State.Name), Unit: units.Pressure(0).Unit(sys)}
	for _, st := range way.Steps {
		d.Steps = append(d.Steps, plots.Step{Label: lossName(n, k, st), Kind: stepKinds[st.Kind], Pressure: st.Loss.In(sys)})
	}
	if way.Collector >= 0 {
		c := &s.Solution.Collectors[way.Collector]
		if c.Curve > 0 {
			d.Steps = append(d.Steps, plots.Step{Label: "fan of " + c.ID, Kind: plots.StepTotal, Pressure: c.Curve.In(sys)})
		}
	}
	return plots.LossWaterfall(d)
}

// worst is the running tool with the least share of its flow.
func worst(s optimize.StateResult) int {
	for _, tv := range s.Verdict.Tools {
		if tv.Ratio == s.Verdict.FlowRatio() {
			return tv.Tool
		}
	}
	return -1
}

// pathFigure draws where the pressure goes behind a tool, by default the one
// that is served worst.
func pathFigure(n *network.Network, s optimize.StateResult, tool string, sys units.System) (*plots.Figure, error) {
	k, err := shownTool(n, s, tool)
	if err != nil {
		return nil, err
	}
	d := plots.PathData{Title: fmt.Sprintf("Where the pressure goes: %s in %q", n.Spec().Tools[k].ID, s.State.Name), Unit: units.Pressure(0).Unit(sys)}
	for _, st := range pressurePath(n, s.Solution, k) {
		d.Steps = append(d.Steps, plots.PathStep{Name: st.name, Loss: st.loss.In(sys), Kind: st.kind})
	}
	return plots.PressurePath(d)
}

// profileFigure draws the suction along the way from a tool to the fan.
func profileFigure(n *network.Network, s optimize.StateResult, tool string, sys units.System) (*plots.Figure, error) {
	k, err := shownTool(n, s, tool)
	if err != nil {
		return nil, err
	}
	d := plots.ProfileData{Title: fmt.Sprintf("Suction on the way of the air: %s in %q", n.Spec().Tools[k].ID, s.State.Name),
		Pressure: units.Pressure(0).Unit(sys), Length: units.Length(0).Unit(sys)}
	for _, st := range n.Profile(s.Solution, n.Way(s.Solution, k, 0)) {
		d.Stations = append(d.Stations, plots.Station{Name: st.Name, Distance: st.Distance.In(sys), Total: st.Total.In(sys), Static: st.Static.In(sys)})
	}
	return plots.PressureProfile(d)
}

// shownTool is the tool of that name, or the one served worst.
func shownTool(n *network.Network, s optimize.StateResult, tool string) (int, error) {
	k := worst(s)
	if tool != "" {
		var ok bool
		if k, ok = n.ToolIndex(tool); !ok {
			return 0, fail(Usage, fmt.Errorf("no tool %q in the file", tool), "name it as the file does; check lists the tools")
		}
	}
	if k < 0 || !s.Solution.Tools[k].Open {
		return 0, fail(Usage, fmt.Errorf("the tool is shut in state %q", s.State.Name), "choose --state and --tool so that the tool runs")
	}
	if len(n.Way(s.Solution, k, 0).Steps) == 0 {
		return 0, fail(Usage, fmt.Errorf("no air goes into %s in state %q", n.Spec().Tools[k].ID, s.State.Name), "choose --state and --tool so that air flows there")
	}
	return k, nil
}
