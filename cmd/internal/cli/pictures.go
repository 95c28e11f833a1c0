package cli

import (
	"fmt"
	"slices"

	"wyewright/network"
	"wyewright/network/units"
	"wyewright/optimize"
	"wyewright/plots"
)

// picture is one figure by name.
type picture struct {
	name string
	draw func() (*plots.Figure, error)
}

// pictures lists what a redesign draws.
func (o *outcome) pictures() []picture {
	var out []picture
	add := func(name string, draw func() (*plots.Figure, error)) { out = append(out, picture{name, draw}) }
	add("trade-off", o.tradeOff)
	if o.power != nil {
		add("power", o.powerFigure)
	}
	add("fan", func() (*plots.Figure, error) { return fanFigure(o.result.Network, o.result.States, 0, o.sys) })
	add("flow", o.flows)
	add("velocity", o.velocities)
	if d, ok := o.planData(); ok {
		titled := func(title string) plots.PlanData { d := d; d.Title = title; return d }
		add("plan", func() (*plots.Figure, error) { return plots.PlanView(titled("Plan of the redesigned shop")) })
		add("isometric", func() (*plots.Figure, error) { return plots.Isometric(titled("The redesigned shop in isometric view")) })
	}
	return out
}

func (o *outcome) tradeOff() (*plots.Figure, error) {
	d := plots.TradeOffData{Currency: o.p.Currency.Code}
	if o.tried > 1 {
		d.Title = "Cost against air, on the ways and with the collector of this plan"
	}
	chosen := plots.TradePoint{Label: "this plan", Cost: o.major(o.result.Best.Cost), Chosen: true, Bound: o.major(o.result.Bound),
		Flow: 100 * leastFlow(o.result.States), Proof: plots.Optimal}
	switch o.result.Status {
	case optimize.Optimal:
	case optimize.Feasible:
		chosen.Proof = plots.Gap
	default:
		chosen.Proof, chosen.Bound, chosen.Label = plots.Misses, 0, "closest plan, misses what is set"
	}
	if l := o.life; l != nil { // the bound is one of cost and energy together
		chosen.Label, chosen.Bound = "this plan, cheapest with its energy", 0
		least := plots.TradePoint{Label: "least purchase", Cost: o.major(l.least.Best.Cost), Bound: o.major(l.least.Bound), Flow: 100 * leastFlow(l.least.States)}
		if l.least.Status != optimize.Optimal {
			least.Proof = plots.Gap
		}
		if l.least.Best.Cost != o.result.Best.Cost {
			d.Points = append(d.Points, least)
		}
	}
	d.Points = append(d.Points, chosen)
	for _, f := range o.front {
		pt := plots.TradePoint{Cost: o.major(f.Plan.Cost), Flow: 100 * f.Flow, Bound: o.major(f.Bound), Proof: plots.Optimal}
		if f.Status != optimize.Optimal {
			pt.Proof = plots.Limited
		}
		d.Points = append(d.Points, pt)
	}
	d.AsFound = &plots.TradePoint{Label: "as found", Flow: 100 * leastFlow(o.before)}
	if d.Holds = o.holdsAsFound(); !d.Holds {
		d.AsFound.Label = "as found (dust may settle)"
	}
	return plots.TradeOff(d)
}

// leastFlow is the least flow / required over states.
func leastFlow(states []optimize.StateResult) float64 {
	least := states[0].Verdict.FlowRatio()
	for _, s := range states {
		least = min(least, s.Verdict.FlowRatio())
	}
	return least
}

// fanFigure draws a collector's fan against the states in which it runs.
func fanFigure(n *network.Network, states []optimize.StateResult, collector int, sys units.System) (*plots.Figure, error) {
	d := plots.FanData{FlowUnit: units.Flow(0).Unit(sys), PressureUnit: units.Pressure(0).Unit(sys), FanLabel: "suction at the inlet, filter loaded", CleanLabel: "filter clean"}
	curve := func(f network.FilterState) []plots.XY {
		var out []plots.XY
		for _, pt := range n.FanLine(collector, f, 60) {
			out = append(out, plots.XY{X: units.Flow(pt[0]).In(sys), Y: units.Pressure(pt[1]).In(sys)})
		}
		return out
	}
	d.Fan = curve(network.Loaded)
	if c := n.Spec().Collectors[collector].Filter; c.Clean != c.Loaded {
		d.Clean = curve(network.Clean)
	}
	for _, s := range states {
		for _, c := range s.Solution.Collectors {
			if c.Collector == collector && c.Flow >= 0 {
				d.Points = append(d.Points, plots.OperatingPoint{State: s.State.Name, Flow: c.Flow.In(sys), Pressure: c.Total.In(sys)})
			}
		}
	}
	return plots.FanChart(d)
}

func (o *outcome) flows() (*plots.Figure, error) {
	d := plots.FlowData{Title: "Flow at the tools, before and after", Unit: units.Flow(0).Unit(o.sys)}
	spec := o.problem.Base.Spec()
	for _, s := range o.result.States {
		for _, tv := range s.Verdict.Tools {
			was, there := o.flowWas(&s, spec.Tools[tv.Tool].ID)
			d.Rows = append(d.Rows, plots.FlowRow{State: o.stateName(&s), Tool: spec.Tools[tv.Tool].ID, After: tv.Flow.In(o.sys), None: !there,
				Before: max(0, was.In(o.sys)), Required: tv.Required.In(o.sys)})
		}
	}
	return plots.FlowBars(d)
}

func (o *outcome) velocities() (*plots.Figure, error) {
	return velocityFigure(o.velocitySets(), o.problem.Limits.Ceiling, o.sys)
}

// velocitySets are the shop after and before.
func (o *outcome) velocitySets() []velocities {
	return []velocities{{"after", o.result.Network, o.result.States}, {"before", o.found.Base, o.before}}
}

// speed is the air speed of a run: in a tree, where air that goes the wrong way
// carries nothing toward the collector, 0 for such air.
func speed(n *network.Network, s *network.Solution, run int) units.Velocity {
	v := s.Runs[run].Slow
	if n.IsTree() {
		return max(0, v)
	}
	return max(v, -v)
}

// velocities are the answers of a shop under a name.
type velocities struct {
	name   string
	n      *network.Network
	states []optimize.StateResult
}

// velocityFigure draws the velocities of shops, the last one first; a run that
// one of them does not have is still there.
func velocityFigure(sets []velocities, ceiling units.Velocity, sys units.System) (*plots.Figure, error) {
	return plots.VelocityMap(velocityData(sets, ceiling, sys))
}

// velocityData are the air speeds of shops, run by state.
func velocityData(sets []velocities, ceiling units.Velocity, sys units.System) plots.VelocityData {
	d := plots.VelocityData{Unit: units.Velocity(0).Unit(sys), Ceiling: ceiling.In(sys)}
	for _, set := range sets {
		for _, r := range set.n.Spec().Runs {
			if !slices.Contains(d.Runs, r.ID) {
				d.Runs = append(d.Runs, r.ID)
			}
		}
	}
	for _, s := range sets[0].states {
		d.States = append(d.States, s.State.Name)
	}
	for _, set := range slices.Backward(sets) {
		cells := make([][]plots.VelocityCell, len(d.Runs))
		for i := range cells {
			r, ok := set.n.RunIndex(d.Runs[i])
			for _, name := range d.States {
				at := slices.IndexFunc(set.states, func(s optimize.StateResult) bool { return s.State.Name == name })
				if !ok || at < 0 {
					cells[i] = append(cells[i], plots.VelocityCell{None: true})
					continue
				}
				s := set.states[at]
				cell := plots.VelocityCell{Speed: speed(set.n, s.Solution, r).In(sys), Dust: s.Solution.Runs[r].Dust}
				for _, v := range s.Verdict.Dust {
					if v.Run == r {
						cell.Limit = v.Limit.In(sys)
					}
				}
				cells[i] = append(cells[i], cell)
			}
		}
		d.Panels = append(d.Panels, plots.VelocityPanel{Name: set.name, Cells: cells})
	}
	return d
}

// planData is the redesigned shop in space; false where no run has
// coordinates.
func (o *outcome) planData() (plots.PlanData, bool) {
	changed := map[int]string{}
	for i, a := range o.result.Best.Pick {
		c := &o.problem.Choices[i]
		if c.Build {
			now := c.Alternatives[a].Pieces
			changed[c.Run] = "new " + now[len(now)-1].Size
			continue
		}
		if a > 0 && c.Run >= 0 {
			was, now := o.problem.Base.Spec().Runs[c.Run].Pieces, c.Alternatives[a].Pieces
			changed[c.Run] = changedSize(was[len(was)-1], now[len(now)-1])
		}
	}
	built := bleedNames(o.p.File.Spec.Bleeds)
	for _, b := range o.p.Edits(o.problem, o.result, "").Bleeds {
		built[b.ID] = true
	}
	d, ok := planData(o.result.Network, changed, built, o.sys)
	d.Ways = o.leftOut()
	for i, a := range o.result.Best.Pick {
		c := &o.problem.Choices[i]
		at := slices.IndexFunc(d.Runs, func(r plots.PlanRun) bool { return r.Name == c.ID })
		if !c.Later || at < 0 {
			continue
		}
		now := c.Alternatives[a].Pieces
		d.Ways = append(d.Ways, plots.PlanWay{Name: "later " + now[len(now)-1].Size, Path: d.Runs[at].Path, Later: true})
		d.Runs = slices.Delete(d.Runs, at, at+1)
	}
	return d, ok
}

func bleedNames(bleeds []network.Bleed) map[string]bool {
	out := map[string]bool{}
	for _, b := range bleeds {
		out[b.ID] = true
	}
	return out
}

// planData is a shop in space; built names the bleeds that are there.
func planData(n *network.Network, changed map[int]string, built map[string]bool, sys units.System) (plots.PlanData, bool) {
	d := plots.PlanData{Unit: units.Length(0).Unit(sys)}
	in := func(v network.Vec) [3]float64 { return drawn(v, sys) }
	spec := n.Spec()
	at := map[string]network.Vec{}
	for _, p := range spec.Points {
		if p.Placed {
			at[p.ID] = p.At
		}
	}
	for i := range spec.Runs {
		w := n.Route(i)
		if !w.Placed || len(w.Path) < 2 {
			d.Undrawn = append(d.Undrawn, spec.Runs[i].ID)
			continue
		}
		last := spec.Runs[i].Pieces[len(spec.Runs[i].Pieces)-1]
		label, isChanged := changed[i]
		r := plots.PlanRun{Name: spec.Runs[i].ID, Diameter: float64(last.Diameter), Hose: last.Make.Hose(), Changed: isChanged, Label: label, Size: last.Size}
		for _, v := range w.Path {
			r.Path = append(r.Path, in(v))
		}
		d.Runs = append(d.Runs, r)
		if v, ok := at[spec.Runs[i].To]; ok {
			d.Joints = append(d.Joints, in(v))
		}
	}
	for _, t := range spec.Tools {
		for k, p := range t.Ports {
			if v, ok := at[p.At]; ok {
				name := t.ID
				if len(t.Ports) > 1 {
					name = fmt.Sprintf("%s %d", t.ID, k+1)
				}
				d.Tools = append(d.Tools, plots.PlanMark{Name: name, At: in(v)})
			}
		}
	}
	for _, b := range spec.Bleeds {
		if v, ok := at[b.At]; ok && built[b.ID] {
			d.Bleeds = append(d.Bleeds, plots.PlanMark{Name: b.ID, At: in(v)})
		}
	}
	v, ok := at[spec.Collectors[0].At]
	d.Collector = plots.PlanMark{Name: spec.Collectors[0].ID, At: in(v)}
	for i := range spec.Collectors {
		c := &spec.Collectors[i]
		if first := slices.IndexFunc(spec.Collectors, func(o network.Collector) bool { return o.At == c.At }); first != i || c.At == spec.Collectors[0].At {
			continue // an alternative at the same place
		}
		if v, placed := at[c.At]; placed {
			d.Others = append(d.Others, plots.PlanMark{Name: c.ID, At: in(v)})
		}
	}
	return d, ok && len(d.Runs) > 0
}
