package calibrate

import (
	"context"
	"fmt"
	"math"
	"slices"

	"wyewright/network"
	"wyewright/network/loss"
	"wyewright/network/units"
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
	probe, amps := 1.0, map[int]float64{}
	for i := range ps {
		switch ps[i].Kind {
		case Probe:
			probe = x[i]
		case Amps:
			amps[ps[i].Index] = x[i]
		}
	}
	dated := slices.ContainsFunc(ps, func(p Param) bool { return p.Date != "" })
	var date string
	var spec network.Spec
	var whole *network.Network
	done := make([]bool, len(m.readings))
	for i := range m.readings {
		if done[i] {
			continue
		}
		r := &m.readings[i]
		var err error
		if whole == nil || dated && r.Date != date {
			date = r.Date
			spec = apply(m.base, ps, x, date)
			if whole, err = network.New(spec); err != nil {
				return err
			}
		}
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
			if done[k] || !sameShop(r, o) || dated && o.Date != r.Date {
				continue
			}
			done[k] = true
			out[k] = shown(n, sol, o)
			switch {
			case o.Centre:
				out[k] /= probe
			case o.Quantity == Current:
				out[k] *= amps[atFan(sol, o).Collector]
			case o.Quantity == Flow:
				out[k] *= factor(ps, x, o)
			}
		}
	}
	return nil
}

// factor is what a flow was multiplied by as it was worked out.
func factor(ps []Param, x []float64, r *Reading) float64 {
	for i := range ps {
		p := &ps[i]
		if p.Kind == Reckoned && p.Index == r.Index && (r.Place == AtRun && p.Port < 0 || r.Place == AtPort && p.Port == r.Port) {
			return x[i]
		}
	}
	return 1
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

// shown is a reading's quantity in a solution; of a current the shaft power, W.
// A meter does not know which way is meant: speeds and flows of runs and ports
// are without sign.
func shown(n *network.Network, sol *network.Solution, r *Reading) float64 {
	s := n.Spec()
	switch r.Place {
	case AtRun:
		return inRun(n, sol, r)
	case AtPort:
		q := math.Abs(float64(sol.Tools[r.Index].Ports[r.Port]))
		speed := q / circle(float64(s.Tools[r.Index].Ports[r.Port].Diameter))
		switch r.Quantity {
		case Flow:
			return q
		case Suction:
			// Hood static pressure, (1+Fh)·½ρV², between the machine and its gate.
			return (1 + s.Tools[r.Index].Ports[r.Port].Entry) * float64(s.Air.Density) / 2 * speed * speed
		}
		return speed
	case AtPoint:
		return -float64(sol.Points[r.Index].Static)
	}
	c := atFan(sol, r)
	switch r.Quantity {
	case Flow:
		return float64(c.Flow)
	case Suction:
		return float64(c.Static)
	case Current:
		return float64(n.Motor(c).Load)
	}
	return float64(c.Flow) / circle(float64(s.Collectors[c.Collector].Inlet))
}

// atFan is the collector that a reading at one is about.
func atFan(sol *network.Solution, r *Reading) *network.CollectorResult {
	for i := range sol.Collectors {
		if sol.Collectors[i].ID == r.Fan {
			return &sol.Collectors[i]
		}
	}
	return &sol.Collector
}

// inRun is what a reading in a run shows. A meter says how fast the air runs and
// not which way: in a ring it may run against the run's direction.
func inRun(n *network.Network, sol *network.Solution, r *Reading) float64 {
	s, res := n.Spec(), &sol.Runs[r.Index]
	switch {
	case r.Quantity == Flow:
		return math.Abs(float64(res.Flow))
	case r.Quantity == Suction:
		at := r.Distance
		if !r.Along {
			at = length(&s.Runs[r.Index]) / 2
		}
		return float64(n.SuctionIn(sol, r.Index, units.Length(at)))
	case r.Along:
		return math.Abs(float64(res.Flow)) / circle(boreAt(&s.Runs[r.Index], r.Distance))
	}
	return math.Abs(float64(res.Fast))
}

// length is that of a run.
func length(r *network.Run) float64 {
	sum := 0.0
	for _, p := range r.Pieces {
		sum += float64(p.Length)
	}
	return sum
}

// boreAt is the inner diameter at a distance from the upstream end of a run.
func boreAt(r *network.Run, distance float64) float64 {
	for _, p := range r.Pieces {
		if distance -= float64(p.Length); distance <= 0 {
			return float64(p.Diameter)
		}
	}
	return float64(r.Pieces[len(r.Pieces)-1].Diameter)
}

func circle(d float64) float64 { return math.Pi / 4 * d * d }

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

// slope is the derivative of miss by what the model shows.
func (r *Reading) slope(shown float64) float64 {
	sigma := r.Sigma()
	if r.Bound == Exact {
		return 1 / sigma
	}
	h := 1e-4 * sigma
	return (r.miss(shown+h) - r.miss(shown-h)) / (2 * h)
}

// logPhi is ln of the normal distribution function, also far out.
func logPhi(z float64) float64 {
	if z > -8 {
		return math.Log(0.5 * math.Erfc(-z/math.Sqrt2))
	}
	// Asymptotic: φ(z)/|z|·(1 − 1/z²).
	return -z*z/2 - math.Log(-z*math.Sqrt(2*math.Pi)) + math.Log1p(-1/(z*z))
}

// residuals turns predictions into weighted residuals: readings first, then
// priors. skip leaves readings out.
func (m *model) residuals(ps []Param, x, pred []float64, skip []bool, out []float64) {
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
}

// predictions are what a point predicts, and the weighted residuals there.
func (m *model) predictions(ps []Param, x []float64, skip []bool, out []float64) error {
	pred := make([]float64, len(m.readings))
	if err := m.predict(ps, x, pred); err != nil {
		return fmt.Errorf("calibrate: %w", err)
	}
	m.residuals(ps, x, pred, skip, out)
	return nil
}
