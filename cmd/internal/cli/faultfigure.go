package cli

import (
	"fmt"
	"slices"

	"wyewright/cmd/internal/project"
	"wyewright/network"
	"wyewright/network/calibrate"
	"wyewright/network/units"
	"wyewright/plots"
)

// faultMapper puts what a fit found onto the plan.
type faultMapper struct {
	n  *network.Network
	at map[string][3]float64 // of the placed points
}

// place is where an explanation stands on the plan; ok is false where it has no
// place there.
func (m *faultMapper) place(p *calibrate.Param) (out plots.FaultPlace, ok bool) {
	s := m.n.Spec()
	point := ""
	switch p.Kind {
	case calibrate.LeakArea:
		point = s.Points[p.Index].ID
	case calibrate.Known:
		point = s.Leaks[p.Index].At
	case calibrate.GateLeft:
		point = s.Tools[p.Index].Ports[p.Port].At
	case calibrate.ExtraLoss:
		return plots.FaultPlace{Kind: plots.FaultLoss, Run: s.Runs[p.Index].ID}, m.n.Route(p.Index).Placed
	default:
		return out, false
	}
	at, ok := m.at[point]
	return plots.FaultPlace{Kind: plots.FaultOpening, At: at}, ok
}

// letter names the faults A to Z, then A2 and on.
func letter(i int) string {
	const letters = 26
	out := string(rune('A' + i%letters))
	if i >= letters {
		out += fmt.Sprint(i/letters + 1)
	}
	return out
}

// faultFigure draws the openings and losses that the fit found, with those of
// the file, on the plan.
func (a *app) faultFigure(p *project.Project, r *calibrate.Report, sys units.System) (*plots.Figure, error) {
	n, err := network.New(p.File.Spec)
	if err != nil {
		return nil, err
	}
	plan, ok := planData(n, nil, bleedNames(p.File.Spec.Bleeds), sys)
	if !ok {
		return nil, errNoPlan()
	}
	m := &faultMapper{n: n, at: map[string][3]float64{}}
	for _, pt := range n.Spec().Points {
		if pt.Placed {
			m.at[pt.ID] = drawn(pt.At, sys)
		}
	}
	d := plots.FaultData{Plan: plan, AreaUnit: units.Area(0).Unit(sys)}
	size := func(e *calibrate.Estimate, x float64) float64 {
		switch e.Kind {
		case calibrate.ExtraLoss:
			return x
		case calibrate.Known:
			x *= float64(n.Spec().Leaks[e.Index].Area)
		}
		return units.Area(x).In(sys)
	}
	add := func(e *calibrate.Estimate, rivals []calibrate.Estimate) {
		place, ok := m.place(&e.Param)
		if !ok || e.Value <= 0 {
			a.note("not on the plan: %s\n", e.Name)
			return
		}
		f := plots.Fault{Letter: letter(len(d.Faults)), Place: place, Size: size(e, e.Value), Doubt: size(e, min(e.Sigma, e.Value))}
		for i := range rivals {
			// A leak at a gate and a gate not shut stand at one place.
			if where, ok := m.place(&rivals[i].Param); ok && where != place && !slices.Contains(f.Rivals, where) {
				f.Rivals = append(f.Rivals, where)
			}
		}
		d.Faults = append(d.Faults, f)
	}
	for i := range r.Findings {
		f := &r.Findings[i]
		switch {
		case f.Reading < 0:
			add(&f.Estimate, f.Rivals)
		case r.Readings[f.Reading].Place == calibrate.AtRun && n.Route(r.Readings[f.Reading].Index).Placed:
			x := &r.Readings[f.Reading]
			d.Faults = append(d.Faults, plots.Fault{Letter: letter(len(d.Faults)), Text: readText(&x.Reading, x.Value, sys) + " in " + x.State.Name,
				Place: plots.FaultPlace{Kind: plots.FaultReading, Run: n.Spec().Runs[x.Index].ID}})
		default:
			a.note("not on the plan: %s\n", f.Name)
		}
	}
	for i := range r.Estimates {
		if e := &r.Estimates[i]; e.Kind == calibrate.Known {
			add(e, nil)
		}
	}
	if len(d.Faults) == 0 {
		return nil, fail(NotMet, fmt.Errorf("nothing to draw: neither the file nor its readings know of a leak or a blockage"), "fit says what the readings show")
	}
	return plots.FaultMap(d)
}

// correlationFigure draws which parameters the readings see only together; those
// that they do not see at all are left out.
func correlationFigure(r *calibrate.Report) (*plots.Figure, error) {
	c := r.Correlations()
	var keep []int
	for i := range r.Estimates {
		if e := &r.Estimates[i]; c != nil && e.AtBound == 0 && !unseen(e) {
			keep = append(keep, i)
		}
	}
	if len(keep) < 2 {
		return nil, fail(NotMet, fmt.Errorf("nothing to draw: the readings see fewer than two parameters"), "fit lists them")
	}
	var d plots.CorrelationData
	for _, i := range keep[:min(len(keep), mostCorrelated)] {
		d.Names = append(d.Names, r.Estimates[i].Name)
		var row []float64
		for _, k := range keep[:min(len(keep), mostCorrelated)] {
			row = append(row, c.At(i, k))
		}
		d.R = append(d.R, row)
	}
	return plots.Correlation(d)
}

// mostCorrelated is how many parameters the picture has room for.
const mostCorrelated = 24
