package cli

import (
	"slices"

	"wyewright/network"
	"wyewright/network/shopfile"
	"wyewright/network/units"
	"wyewright/plots"
)

// ways are the corridors of a shop in space, those whose two ends have
// coordinates.
func ways(f *shopfile.File, sys units.System) []plots.PlanWay {
	at := map[string]network.Vec{}
	for _, p := range slices.Concat(f.Spec.Points, f.CorridorPoints) {
		if p.Placed {
			at[p.ID] = p.At
		}
	}
	var out []plots.PlanWay
	for _, c := range f.Corridors {
		from, ok1 := at[c.From]
		to, ok2 := at[c.To]
		if !ok1 || !ok2 {
			continue
		}
		w := plots.PlanWay{Name: c.ID}
		for _, v := range network.RouteOf(from, to, c.Via).Path {
			w.Path = append(w.Path, drawn(v, sys))
		}
		if len(w.Path) > 1 {
			out = append(out, w)
		}
	}
	return out
}

// comingWays are the runs that come later, in space: those of them whose two ends
// have coordinates.
func comingWays(f *shopfile.File, sys units.System) []plots.PlanWay {
	var out []plots.PlanWay
	for _, r := range f.Coming() {
		w := plots.PlanWay{Name: r.Name + " (later)", Later: true}
		for _, v := range network.RouteOf(r.From, r.To, r.Via).Path {
			w.Path = append(w.Path, drawn(v, sys))
		}
		if len(w.Path) > 1 {
			out = append(out, w)
		}
	}
	return out
}

// comes reports whether a run comes later; behind the cap of a wye that is there
// it stands in the model as a dead end.
func comes(f *shopfile.File, run string) bool {
	return slices.ContainsFunc(f.Coming(), func(c shopfile.Coming) bool { return c.Name == run })
}

// leftOut are the ducts that a plan leaves out, in space.
func (o *outcome) leftOut() []plots.PlanWay {
	var out []plots.PlanWay
	for _, l := range o.problem.Taken.Left {
		i, _ := o.found.Base.RunIndex(l.ID)
		way := o.found.Base.Route(i)
		if !way.Placed || len(way.Path) < 2 {
			continue
		}
		w := plots.PlanWay{Name: l.ID, Old: true}
		for _, v := range way.Path {
			w.Path = append(w.Path, drawn(v, o.sys))
		}
		out = append(out, w)
	}
	return out
}

// drawn is a place in the unit of a picture.
func drawn(v network.Vec, sys units.System) [3]float64 {
	in := func(x float64) float64 { return units.Length(x).In(sys) }
	return [3]float64{in(v.X), in(v.Y), in(v.Z)}
}
