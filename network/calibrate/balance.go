package calibrate

import (
	"math"
	"slices"

	"wyewright/network"
)

// Clash is a pair of readings of the same thing in the same state that differ
// by more than both doubts allow.
type Clash struct {
	A, B   int // indices of readings
	Sigmas float64
}

// clash is the difference in standard deviations from which two readings of the
// same thing cannot both be right.
const clash = 3.5

// clashes lists them.
func clashes(rs []Reading) []Clash {
	var out []Clash
	for i := range rs {
		for k := i + 1; k < len(rs); k++ {
			a, b := &rs[i], &rs[k]
			if a.Bound != Exact || b.Bound != Exact || !sameShop(a, b) || a.Date != b.Date || a.Place != b.Place || a.Index != b.Index ||
				a.Port != b.Port || a.Fan != b.Fan || a.Quantity != b.Quantity || a.Centre != b.Centre || a.Along != b.Along || a.Distance != b.Distance {
				continue
			}
			if z := math.Abs(a.Value-b.Value) / math.Hypot(a.Sigma(), b.Sigma()); z > clash {
				out = append(out, Clash{i, k, z})
			}
		}
	}
	return out
}

// Gain is the air that comes in between readings: the flow below less the flows
// above it, in one state.
type Gain struct {
	// Below is the reading nearer to the fan, Above those farther from it;
	// with none above all air comes in by leaks and shut gates.
	Below int
	Above []int
	// Flow is the gain and Sigma its standard deviation, m³/s, by the readings
	// alone; Believed is what the shop as the file has it would let in there.
	Flow, Sigma, Believed float64
}

// gains weighs the readings of air against each other along the ducts of a
// tree. A stretch whose upper end is open and was not read is left out, and so
// are bounds and readings that were found wrong.
func (r *Report) gains() ([]Gain, error) {
	m := r.m
	if n, err := network.New(*m.base); err != nil || !n.IsTree() {
		return nil, err
	}
	probe, doubt := CentreFactor, CentreDoubt
	for _, e := range r.Estimates {
		if e.Kind == Probe && !math.IsInf(e.Sigma, 0) {
			probe, doubt = e.Value, e.Sigma
		}
	}
	var out []Gain
	believed := map[int]float64{}
	err := r.eachState(r.first, func(st *network.State, n *network.Network, sol *network.Solution) {
		for i := range m.readings {
			if o := &m.readings[i]; o.State.Name == st.Name && o.State.Collector == st.Collector && o.Place == AtRun {
				believed[i] = float64(sol.Runs[o.Index].Flow)
			} else if o.State.Name == st.Name && o.Place == AtPort {
				believed[i] = float64(sol.Tools[o.Index].Ports[o.Port])
			}
		}
	})
	if err != nil {
		return nil, err
	}
	for i := range m.readings {
		below := &m.readings[i]
		if below.Place != AtRun || !r.weighs(i) {
			continue
		}
		above, whole := r.above(below)
		if !whole {
			continue
		}
		q, sigma, centre := flowOf(m.base, below, probe)
		g := Gain{Below: i, Above: above, Flow: q, Believed: believed[i]}
		variance, common := sigma*sigma, centre
		for _, k := range above {
			q, sigma, centre := flowOf(m.base, &m.readings[k], probe)
			g.Flow -= q
			g.Believed -= believed[k]
			variance += sigma * sigma
			common -= centre
		}
		// The probe factor errs for all of them at once.
		g.Sigma = math.Sqrt(variance + common*common*doubt*doubt/probe/probe)
		out = append(out, g)
	}
	return out, nil
}

// weighs reports whether a reading is air that can be weighed.
func (r *Report) weighs(i int) bool {
	o := &r.m.readings[i]
	return o.Bound == Exact && !o.OpenEnd && (o.Quantity == Velocity || o.Quantity == Flow) && !r.Readings[i].Rejected
}

// above finds the readings that bound a stretch from above; whole is false
// where air enters unread.
func (r *Report) above(below *Reading) (out []int, whole bool) {
	s := r.m.base
	whole = true
	var climb func(point string)
	climb = func(point string) {
		for t, tool := range s.Tools {
			for p, port := range tool.Ports {
				open := port.Gate == nil || slices.Contains(below.State.Running, tool.ID) || slices.Contains(below.State.Open, tool.ID)
				if port.At != point || !open {
					continue
				}
				if k := r.readAt(below, AtPort, t, p); k >= 0 {
					out = append(out, k)
				} else {
					whole = false
				}
			}
		}
		for _, b := range s.Bleeds {
			whole = whole && (b.At != point || !slices.Contains(below.State.Open, b.ID))
		}
		for i, run := range s.Runs {
			if run.To != point {
				continue
			}
			if k := r.readAt(below, AtRun, i, 0); k >= 0 {
				out = append(out, k)
				continue
			}
			climb(run.From)
		}
	}
	climb(s.Runs[below.Index].From)
	return out, whole
}

// readAt is the reading of air at a place in the state of another, −1 if none.
func (r *Report) readAt(like *Reading, place Place, index, port int) int {
	for i := range r.m.readings {
		o := &r.m.readings[i]
		if o.Place == place && o.Index == index && (place != AtPort || o.Port == port) && sameState(o, like) && o.Date == like.Date && r.weighs(i) {
			return i
		}
	}
	return -1
}

// flowOf is the flow that a reading of air stands for and its standard
// deviation, m³/s; centre is the part of the flow that hangs on the probe
// factor.
func flowOf(s *network.Spec, r *Reading, probe float64) (q, sigma, centre float64) {
	q, sigma = r.Value, r.Sigma()
	if r.Quantity == Flow {
		return q, sigma, 0
	}
	var area float64
	switch {
	case r.Place == AtPort:
		area = circle(float64(s.Tools[r.Index].Ports[r.Port].Diameter))
	case r.Along:
		area = circle(boreAt(&s.Runs[r.Index], r.Distance))
	default:
		least := math.Inf(1)
		for _, p := range s.Runs[r.Index].Pieces {
			least = min(least, float64(p.Diameter))
		}
		area = circle(least)
	}
	q, sigma = q*area, sigma*area
	if r.Centre {
		q, sigma = q*probe, sigma*probe
		centre = q
	}
	return q, sigma, centre
}
