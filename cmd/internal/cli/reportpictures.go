package cli

import (
	"fmt"
	"math"
	"slices"

	"wyewright/cmd/internal/report"
	"wyewright/network"
	"wyewright/network/units"
	"wyewright/optimize"
	"wyewright/plots"
)

// figureOf is a picture for the page, with words for those who do not see it.
func figureOf(fig *plots.Figure, alt, caption string) (report.Figure, error) {
	svg, err := fig.SVG()
	return report.Figure{Alt: alt, Caption: caption, SVG: svg}, err
}

// views are the plan and the isometric view, none where nothing has a place.
func (o *outcome) views() ([]report.Figure, error) {
	d, ok := o.planData()
	if !ok {
		return nil, nil
	}
	var out []report.Figure
	how := ""
	if len(o.changes) > 0 {
		how = " Changed runs are dark and bear their new size."
	}
	for _, v := range []struct {
		draw    func(plots.PlanData) (*plots.Figure, error)
		caption string
	}{{plots.PlanView, "From above."}, {plots.Isometric, "From the side and above."}} {
		fig, err := v.draw(d)
		if err != nil {
			return nil, err
		}
		f, err := figureOf(fig, fig.Title()+", changed runs marked; the list of changes says the same in words", v.caption+how)
		if err != nil {
			return nil, err
		}
		out = append(out, f)
	}
	return out, nil
}

// tightest is the tool with the least margin, and the state in which it has it;
// −1 where no tool runs.
func (o *outcome) tightest() (state, tool int) {
	least := math.Inf(1)
	state, tool = -1, -1
	for i, s := range o.result.States {
		if r := s.Verdict.FlowRatio(); r < least {
			least, state, tool = r, i, worst(s)
		}
	}
	return state, tool
}

// pressureRows say where the pressure goes at the tool with the least margin.
func (o *outcome) pressureRows() (*report.Pressure, error) {
	i, tool := o.tightest()
	if tool < 0 {
		return nil, nil
	}
	name, state := o.result.Network.Spec().Tools[tool].ID, o.result.States[i].State.Name
	now := pressurePath(o.result.Network, o.result.States[i].Solution, tool)
	if len(now) == 0 {
		return nil, nil // no air goes in
	}
	shops := []velocities{{"After", o.result.Network, o.result.States}}
	var was []step
	if k, found := stateNamed(o.before, state), o.found.Base.Spec(); k >= 0 {
		if old := slices.IndexFunc(found.Tools, func(t network.Tool) bool { return t.ID == name }); old >= 0 {
			was = pressurePath(o.found.Base, o.before[k].Solution, old)
			shops = append(shops, velocities{"Before", o.found.Base, o.before})
		}
	}
	p := &report.Pressure{Unit: units.Pressure(0).Unit(o.sys), Steps: o.pressureSteps(was, now),
		Lead: fmt.Sprintf("The way of the air from %s, the tool with the least to spare, in %q, its worst state. The parts add up to the pressure of the fan.", name, state)}
	for _, s := range shops {
		fig, err := lossFigure(s.n, s.states[stateNamed(s.states, state)], name, s.name, o.sys)
		if err != nil {
			continue // no air goes in at that tool
		}
		f, err := figureOf(fig, fig.Title(), s.name+" the work, every bend, wye and hose for itself.")
		if err != nil {
			return nil, err
		}
		p.Figures = append(p.Figures, f)
	}
	return p, nil
}

// stateNamed is the index of the state of that name, −1 where there is none.
func stateNamed(states []optimize.StateResult, name string) int {
	return slices.IndexFunc(states, func(s optimize.StateResult) bool { return s.State.Name == name })
}

// pressureSteps sets the parts of a way before and after side by side, in the
// order of the air; a part that only one of them has has no number in the other.
func (o *outcome) pressureSteps(was, now []step) []report.PressureStep {
	find := func(all []step, name string) int {
		return slices.IndexFunc(all, func(s step) bool { return s.name == name })
	}
	was, now = summed(was), summed(now)
	var out []report.PressureStep
	var before, after units.Pressure
	text := func(p units.Pressure) string { return pressure(p, o.sys) }
	old := func(s step) {
		before += s.loss
		out = append(out, report.PressureStep{Name: s.name, Before: s.loss.In(o.sys), BeforeText: text(s.loss)})
	}
	k := 0
	for _, s := range now {
		row := report.PressureStep{Name: s.name, After: s.loss.In(o.sys), AfterText: text(s.loss)}
		if j := find(was, s.name); j >= k { // what only the old way has comes before
			for ; k < j; k++ {
				if find(now, was[k].name) < 0 {
					old(was[k])
				}
			}
			k = j + 1
			row.Before, row.BeforeText = was[j].loss.In(o.sys), text(was[j].loss)
			before += was[j].loss
		}
		after += s.loss
		out = append(out, row)
	}
	for ; k < len(was); k++ {
		if find(now, was[k].name) < 0 {
			old(was[k])
		}
	}
	sum := report.PressureStep{Name: "together", After: after.In(o.sys), AfterText: text(after), Sum: true}
	if len(was) > 0 {
		sum.Before, sum.BeforeText = before.In(o.sys), text(before)
	}
	return append(out, sum)
}

// summed adds up the parts of a way that have the same name.
func summed(steps []step) []step {
	var out []step
	for _, s := range steps {
		if i := slices.IndexFunc(out, func(t step) bool { return t.name == s.name }); i >= 0 {
			out[i].loss += s.loss
			continue
		}
		out = append(out, s)
	}
	return out
}

// speedTables are the air speeds after and before, run by state.
func (o *outcome) speedTables() *report.Speeds {
	ceiling := o.problem.Limits.Ceiling
	d := velocityData(o.velocitySets(), ceiling, o.sys)
	if len(d.Runs) == 0 || len(d.States) == 0 {
		return nil
	}
	out := &report.Speeds{Unit: d.Unit, Lead: "The speed in the widest part of each run, " + d.Unit + ", in every state; " + limitLine(o.result.Network, o.problem.Limits.Transport, ceiling, o.sys) + "."}
	for _, panel := range slices.Backward(d.Panels) { // what will be goes first
		set := report.SpeedSet{Name: map[string]string{"after": "After the work", "before": "As found"}[panel.Name], Runs: d.Runs, States: d.States}
		for _, row := range panel.Cells {
			var cells []report.Speed
			for _, c := range row {
				cells = append(cells, speedCell(c, d.Ceiling, o.sys))
			}
			set.Cells = append(set.Cells, cells)
		}
		out.Sets = append(out.Sets, set)
	}
	return out
}

// speedCell is a speed with its word.
func speedCell(c plots.VelocityCell, ceiling float64, sys units.System) report.Speed {
	if c.None {
		return report.Speed{Mark: report.NoRun}
	}
	digits := 1
	if sys == units.US {
		digits = 0
	}
	s := report.Speed{Text: number(c.Speed, digits), Mark: report.Mark(c.Word(ceiling))}
	if s.Mark == report.NoDust && s.Text == number(0, digits) {
		s.Mark = report.Still
	}
	return s
}

// limitLine says within what bounds dust is carried.
func limitLine(n *network.Network, transport, ceiling units.Velocity, sys units.System) string {
	low, high := transport, transport
	if transport == 0 {
		low = units.Velocity(math.Inf(1))
		for _, t := range n.Spec().Tools {
			low, high = min(low, t.Transport), max(high, t.Transport)
		}
	}
	out := "dust needs " + low.Text(sys)
	if low != high {
		out = fmt.Sprintf("dust needs %s to %s, by its kind", low.Text(sys), high.Text(sys))
	}
	if ceiling > 0 {
		out += ", and more than " + ceiling.Text(sys) + " is too fast"
	}
	return out
}
