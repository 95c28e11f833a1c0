package cli

import (
	"fmt"
	"slices"

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

// pressurePath says where the pressure goes between a tool and the fan: from
// the room to the first run, each run and what its stream loses at the wye
// behind it, then the filter. Up to the filter the steps add up to the total
// suction at the collector's inlet. The tool's first port counts.
func pressurePath(n *network.Network, s *network.Solution, tool int) []step {
	spec := n.Spec()
	port := spec.Tools[tool].Ports[0].At
	at := slices.IndexFunc(spec.Points, func(p network.Point) bool { return p.ID == port })
	run := slices.IndexFunc(spec.Runs, func(r network.Run) bool { return r.From == port })
	way := []step{{spec.Tools[tool].ID + ": machine and gate", plots.PathEntry, -s.Points[at].Total}}
	for r := run; r >= 0; r = n.Next(r) {
		res := &s.Runs[r]
		way = append(way, step{spec.Runs[r].ID, plots.PathRun, res.Loss - res.Junction})
		if res.Junction != 0 {
			way = append(way, step{"junction at " + spec.Runs[r].To, plots.PathJunction, res.Junction})
		}
	}
	return append(way, step{"filter", plots.PathFilter, s.Collector.Filter})
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
	k := worst(s)
	if tool != "" {
		var ok bool
		if k, ok = n.ToolIndex(tool); !ok {
			return nil, fail(Usage, fmt.Errorf("no tool %q in the file", tool), "name it as the file does; check lists the tools")
		}
	}
	if k < 0 || !s.Solution.Tools[k].Open {
		return nil, fail(Usage, fmt.Errorf("the tool is shut in state %q", s.State.Name), "choose --state and --tool so that the tool runs")
	}
	d := plots.PathData{Title: fmt.Sprintf("Where the pressure goes: %s in %q", n.Spec().Tools[k].ID, s.State.Name), Unit: units.Pressure(0).Unit(sys)}
	for _, st := range pressurePath(n, s.Solution, k) {
		d.Steps = append(d.Steps, plots.PathStep{Name: st.name, Loss: st.loss.In(sys), Kind: st.kind})
	}
	return plots.PressurePath(d)
}
