package calibrate

import (
	"context"
	"fmt"
	"math"
	"slices"

	"wyewright/network"
	"wyewright/network/loss"
)

// model predicts readings.
type model struct {
	ctx      context.Context
	base     *network.Spec
	readings []Reading
}

// plainEnd is the entry loss of the end of a hose; its source stands with it.
var plainEnd, _ = loss.Entry("plain end")

// predict computes what each reading would show, before the doubt of the meter.
// Readings of one state share a solve.
func (m *model) predict(ps []Param, x []float64, out []float64) error {
	spec := apply(m.base, ps, x)
	probe := 1.0
	for i := range ps {
		if ps[i].Kind == Probe {
			probe = x[i]
		}
	}
	whole, err := network.New(spec)
	if err != nil {
		return err
	}
	done := make([]bool, len(m.readings))
	for i := range m.readings {
		if done[i] {
			continue
		}
		r := &m.readings[i]
		n := whole
		if r.OpenEnd {
			if n, err = network.New(unplugged(spec, r)); err != nil {
				return err
			}
		}
		sol, err := network.Solve(m.ctx, n, r.State)
		if err != nil {
			return err
		}
		for k := i; k < len(m.readings); k++ {
			o := &m.readings[k]
			if done[k] || !sameShop(r, o) {
				continue
			}
			done[k] = true
			out[k] = shown(&spec, sol, o)
			if o.Centre {
				out[k] /= probe
			}
		}
	}
	return nil
}

// sameShop reports whether two readings were taken of the same shop. A state's
// name says what runs and stands open in it; a reading may set the collector.
func sameShop(a, b *Reading) bool {
	return a.State.Name == b.State.Name && a.State.Collector == b.State.Collector && a.State.Filter == b.State.Filter &&
		a.OpenEnd == b.OpenEnd && (!a.OpenEnd || a.Index == b.Index && a.Port == b.Port)
}

// unplugged is the shop with the hose off one port.
func unplugged(s network.Spec, r *Reading) network.Spec {
	s.Tools = slices.Clone(s.Tools)
	t := &s.Tools[r.Index]
	t.Ports = slices.Clone(t.Ports)
	t.Ports[r.Port].Entry = plainEnd
	return s
}

// shown is a reading's quantity in a solution.
func shown(s *network.Spec, sol *network.Solution, r *Reading) float64 {
	switch r.Place {
	case AtRun:
		res := &sol.Runs[r.Index]
		if r.Quantity == Flow {
			return float64(res.Flow)
		}
		return float64(res.Fast)
	case AtPort:
		q := float64(sol.Tools[r.Index].Ports[r.Port])
		if r.Quantity == Flow {
			return q
		}
		d := float64(s.Tools[r.Index].Ports[r.Port].Diameter)
		return q / (math.Pi / 4 * d * d)
	case AtPoint:
		return -float64(sol.Points[r.Index].Static)
	}
	switch r.Quantity {
	case Flow:
		return float64(sol.Collector.Flow)
	case Suction:
		return float64(sol.Collector.Static)
	}
	d := float64(s.Collectors[inPlace(s, r.State)].Inlet)
	return float64(sol.Collector.Flow) / (math.Pi / 4 * d * d)
}

// miss is the weighted residual of one reading against what the model shows; of
// a bound the square root of twice the negative log-likelihood, 0 where it holds
// by far.
func (r *Reading) miss(shown float64) float64 {
	z := (shown - r.Value) / r.Sigma()
	switch r.Bound {
	case AtLeast:
		return math.Sqrt(max(0, -2*logPhi(z)))
	case AtMost:
		return math.Sqrt(max(0, -2*logPhi(-z)))
	}
	return z
}

// residuals fills the weighted residuals: readings first, then priors. skip
// leaves readings out.
func (m *model) residuals(ps []Param, x []float64, skip []bool, out []float64) error {
	pred := make([]float64, len(m.readings))
	if err := m.predict(ps, x, pred); err != nil {
		return fmt.Errorf("calibrate: %w", err)
	}
	for i := range m.readings {
		out[i] = 0
		if skip == nil || !skip[i] {
			out[i] = m.readings[i].miss(pred[i])
		}
	}
	for i := range ps {
		out[len(m.readings)+i] = 0
		if ps[i].Doubt > 0 {
			out[len(m.readings)+i] = (x[i] - ps[i].Prior) / ps[i].Doubt
		}
	}
	return nil
}
