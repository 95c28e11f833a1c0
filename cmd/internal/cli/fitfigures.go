package cli

import (
	"strings"

	"wyewright/network/calibrate"
	"wyewright/network/units"
	"wyewright/plots"
)

// readFigure draws the readings against the model fitted to them.
func readFigure(r *calibrate.Report, name string, sys units.System) (*plots.Figure, error) {
	d := plots.ReadData{Title: "Readings and model: " + name}
	for _, q := range []struct {
		is    calibrate.Quantity
		panel plots.ReadPanel
		in    func(x float64) float64
	}{
		{calibrate.Velocity, plots.ReadPanel{Quantity: "air speed", Unit: units.Velocity(0).Unit(sys)}, func(x float64) float64 { return units.Velocity(x).In(sys) }},
		{calibrate.Flow, plots.ReadPanel{Quantity: "flow", Unit: units.Flow(0).Unit(sys)}, func(x float64) float64 { return units.Flow(x).In(sys) }},
		{calibrate.Suction, plots.ReadPanel{Quantity: "suction", Unit: units.Pressure(0).Unit(sys)}, func(x float64) float64 { return units.Pressure(x).In(sys) }},
		{calibrate.Current, plots.ReadPanel{Quantity: "motor current", Unit: "A"}, func(x float64) float64 { return x }},
	} {
		for i := range r.Readings {
			x := &r.Readings[i]
			if x.Quantity != q.is {
				continue
			}
			place, _ := strings.CutSuffix(x.Name, " in "+x.State.Name)
			q.panel.Rows = append(q.panel.Rows, plots.ReadRow{State: x.State.Name, Place: place, Read: q.in(x.Value), Doubt: q.in(x.Sigma()), Model: q.in(x.Model),
				LeftOut: x.Rejected, Bound: map[calibrate.Bound]plots.ReadBound{calibrate.AtLeast: plots.ReadAtLeast, calibrate.AtMost: plots.ReadAtMost}[x.Bound]})
		}
		if len(q.panel.Rows) > 0 {
			d.Panels = append(d.Panels, q.panel)
		}
	}
	return plots.ReadChart(d)
}
