package calibrate

import (
	"math"
	"math/rand/v2"
	"slices"
)

// swap is the last fit with one finding explained by a rival instead.
type swap struct {
	slot  int // of the parameter that gives way
	param Param
	x     []float64
	// weight is the likelihood over that of the finding itself.
	weight float64
}

// swaps fits every finding's rivals in its place, the other findings staying.
// Rivals that are no fault of the ducts (a wrong reading, a prior released) are
// not among them, nor those whose size is of another kind, an opening against a
// coefficient: their scatter is not that of the finding.
func (r *Report) swaps() ([][]swap, error) {
	var out [][]swap
	for i := range r.Findings {
		f := &r.Findings[i]
		slot := slices.IndexFunc(r.final.params, func(p Param) bool { return f.Reading < 0 && p.Name == f.Name && p.Kind.Fault() })
		if slot < 0 {
			continue
		}
		var list []swap
		for _, e := range f.Rivals {
			if !e.Kind.Fault() || e.Kind.opening() != f.Kind.opening() || !f.Kind.opening() && e.Kind != f.Kind || slices.ContainsFunc(r.final.params, func(p Param) bool { return p.Name == e.Name }) {
				continue
			}
			ps := slices.Clone(r.final.params)
			ps[slot] = e.Param
			x := slices.Clone(r.final.x)
			x[slot] = e.Value
			fit, err := r.m.fit(ps, x, r.final.skip)
			if err != nil {
				return nil, err
			}
			list = append(list, swap{slot, e.Param, fit.x, math.Exp((r.final.chi2 - fit.chi2) / 2)})
		}
		if len(list) > 0 {
			out = append(out, list)
		}
	}
	return out, nil
}

// pick draws which explanation of each finding holds, by likelihood: it returns
// the parameters and the point about which they scatter.
func (f *fitted) pick(all [][]swap, rng *rand.Rand) ([]Param, []float64) {
	ps, x := f.params, slices.Clone(f.x)
	for _, list := range all {
		sum := 1.0
		for _, s := range list {
			sum += s.weight
		}
		at := rng.Float64()*sum - 1
		for k := range list {
			if at < 0 {
				break
			}
			s := &list[k]
			if at -= s.weight; at >= 0 {
				continue
			}
			if &ps[0] == &f.params[0] {
				ps = slices.Clone(ps)
			}
			for j := range x {
				x[j] += s.x[j] - f.x[j]
			}
			ps[s.slot], x[s.slot] = s.param, s.x[s.slot]
		}
	}
	return ps, x
}
