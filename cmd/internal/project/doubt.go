package project

import (
	"fmt"
	"slices"

	"wyewright/network"
	"wyewright/network/calibrate"
	"wyewright/network/shopfile"
	"wyewright/network/units"
	"wyewright/optimize"
)

// Calibrated is the project of the shop as a fit has it, as FitEdits would write
// it, and what of the fit is no matter of the file.
func (p *Project) Calibrated(r *calibrate.Report) (*Project, []string, error) {
	e, notes := p.FitEdits(r, "")
	text, err := p.File.Rewrite(e)
	if err != nil {
		return nil, nil, err
	}
	f, err := shopfile.Decode(p.File.Path(), text, p.Catalog)
	if err != nil {
		return nil, nil, err
	}
	if p.File.Today() == p.File { // the shop of today, or one in which nothing comes later
		f = f.Today()
	}
	out, err := New(f, p.Catalog, p.Folder)
	return out, notes, err
}

// Doubt is a redesign of now, which is Calibrated of p, in shops drawn from the
// doubt of the fit. The same seed draws the same shops.
func (p *Project) Doubt(now *Project, redesign *optimize.Problem, r *calibrate.Report, shops int, seed uint64, share float64) (*optimize.Doubt, error) {
	draws, err := r.Draws(shops, seed)
	if err != nil {
		return nil, err
	}
	out := &optimize.Doubt{Share: share}
	for _, d := range draws {
		f := *now.File
		p.drawn(&f, r, &d)
		q := *now // prices are the same
		q.File = &f
		if err := q.network(); err != nil {
			return nil, err
		}
		problem, err := redesign.In(q.Network, func(x network.Piece) network.Piece {
			if y, err := f.Piece(x.Make.Family, x.Size, x.Length); err == nil {
				y.Make.Elbow, y.Make.ElbowRD = x.Make.Elbow, x.Make.ElbowRD
				return y
			}
			return x
		})
		if err != nil {
			return nil, err
		}
		out.Problems = append(out.Problems, problem)
	}
	return out, nil
}

// drawn makes of the calibrated file f the one of a draw: the same parts with
// the same names, of other sizes. An opening that the draw explains otherwise has
// no area; a gate that does not shut is taken as shut again, as it is in f.
func (p *Project) drawn(f *shopfile.File, r *calibrate.Report, d *calibrate.Draw) {
	base := &p.File.Spec
	t := calibrate.Factors(base, d.Params, d.X, "")
	f.Fitted = p.File.Fitted.Times(&t)
	spec := t.Apply(*base)
	openings := f.Spec.Leaks[len(base.Leaks):]
	for _, x := range slotted(r) {
		slot := slices.IndexFunc(r.Estimates, func(e calibrate.Estimate) bool { return e.Kind.Fault() && e.Name == x.Name })
		if x.Reading >= 0 || slot < 0 {
			continue
		}
		own, v := &d.Params[slot], d.X[slot]
		if x.Kind == calibrate.LeakArea {
			l := network.Leak{ID: openings[0].ID, At: openings[0].At}
			openings = openings[1:]
			if own.Kind == calibrate.LeakArea {
				l.At, l.Area = base.Points[own.Index].ID, units.Area(v)
			}
			spec.Leaks = append(spec.Leaks, l)
		}
		if own.Kind != calibrate.GateLeft {
			own.Mar(&spec, v)
		}
	}
	if len(spec.Leaks) != len(f.Spec.Leaks) {
		panic(fmt.Sprintf("project: %d leaks drawn, the file has %d", len(spec.Leaks), len(f.Spec.Leaks)))
	}
	f.Spec = spec
}
