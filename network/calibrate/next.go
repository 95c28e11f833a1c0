package calibrate

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"wyewright/network"
)

// Proposal is a reading worth taking.
type Proposal struct {
	Reading
	// Under is what each explanation predicts there; of a proposal that would
	// settle a tool's flow the one explanation there is.
	Under []Prediction
	// Power is the largest difference between two explanations in standard
	// deviations of the reading; Parts counts the pairs of explanations that it
	// would tell apart.
	Power float64
	Parts int
	// Tool and For name the tool and the state whose flow it would settle, From
	// and To the standard deviation of that flow now and after, m³/s; empty
	// for a proposal that tells explanations apart.
	Tool, For string
	From, To  float64
}

// Prediction is what one explanation predicts for a proposed reading; a zero
// Param is the fit as it stands.
type Prediction struct {
	Param
	Value float64
}

const (
	// leastPower is the difference in standard deviations below which a
	// reading would not tell anything.
	leastPower = 1.5
	// mostNext bounds the proposals of each kind.
	mostNext = 5
	// leastCut is the share by which a reading must cut a doubt to be worth
	// the hole in the duct.
	leastCut = 0.1
)

// propose ranks readings by how many of the rival explanations of the findings
// they would tell apart, then by how much they would cut the doubt of flows.
func (r *Report) propose(need Need) error {
	could := r.m.couldRead()
	var out []Proposal
	for i := range r.Findings {
		if f := &r.Findings[i]; len(f.Rivals) > 0 {
			list, err := r.m.tell(f, could)
			if err != nil {
				return err
			}
			out = append(out, list...)
		}
	}
	slices.SortStableFunc(out, func(a, b Proposal) int {
		return cmp.Or(cmp.Compare(b.Parts, a.Parts), cmp.Compare(b.Power, a.Power))
	})
	r.Next = places(out)
	settle, err := r.settle(need, could)
	r.Next = append(r.Next, settle...)
	return err
}

// couldRead lists the readings that could be taken in the states of those that
// were: air speed in every run not read yet, suction at every point.
func (m *model) couldRead() []Reading {
	var could, seen []Reading
	for i := range m.readings {
		r := &m.readings[i]
		if r.OpenEnd || slices.ContainsFunc(seen, func(o Reading) bool { return sameState(&o, r) }) {
			continue
		}
		seen = append(seen, *r)
		for k, run := range m.base.Runs {
			if slices.ContainsFunc(m.readings, func(o Reading) bool { return sameState(&o, r) && o.Place == AtRun && o.Index == k }) {
				continue
			}
			could = append(could, Reading{Name: "velocity in " + run.ID, State: r.State, Place: AtRun, Index: k, Centre: true})
		}
		for k, p := range m.base.Points {
			could = append(could, Reading{Name: "suction at " + p.ID, State: r.State, Place: AtPoint, Index: k, Quantity: Suction})
		}
	}
	return could
}

// tell finds the readings that part a finding from its rivals.
func (m *model) tell(f *Finding, could []Reading) ([]Proposal, error) {
	probe := &model{ctx: m.ctx, base: m.base, readings: could}
	values := make([][]float64, len(f.fits))
	for i, fit := range f.fits {
		values[i] = make([]float64, len(could))
		if err := probe.predict(fit.params, fit.x, values[i]); err != nil {
			return nil, err
		}
	}
	var out []Proposal
	for k := range could {
		lo, hi := values[0][k], values[0][k]
		p := Proposal{Reading: could[k]}
		for i := range f.fits {
			lo, hi = min(lo, values[i][k]), max(hi, values[i][k])
			is := f.Param
			if i > 0 {
				is = f.Rivals[i-1].Param
			}
			p.Under = append(p.Under, Prediction{is, values[i][k]})
		}
		p.Value = (lo + hi) / 2
		for i := range f.fits {
			for j := range i {
				if d := values[i][k] - values[j][k]; math.Abs(d) > leastPower*p.Sigma() {
					p.Parts++
				}
			}
		}
		if p.Power = (hi - lo) / p.Sigma(); p.Parts > 0 {
			out = append(out, p)
		}
	}
	return out, nil
}

// settle finds the readings that would cut the doubt of flows which may meet
// the need or miss it: by the linear picture a reading of standard deviation s
// takes (gᵀCh)²/(s²+hᵀCh) off the variance gᵀCg of a flow, where g and h are
// the slopes of the flow and of the reading and C is the covariance of the fit
// (the update of Bayes for a normal linear model).
func (r *Report) settle(need Need, could []Reading) ([]Proposal, error) {
	if r.final.cov == nil || len(need.States) == 0 {
		return nil, nil
	}
	flows, err := r.flows(need.States)
	if err != nil {
		return nil, err
	}
	n, err := network.New(*r.m.base)
	if err != nil {
		return nil, err
	}
	var open []Flowing
	for _, f := range flows {
		if f.Run >= 0 || !f.Running {
			continue
		}
		if gap := math.Abs(f.Flow - n.Required(f.Tool, &need.Limits)); gap < ninety*f.Sigma {
			open = append(open, f)
		}
	}
	if len(open) == 0 {
		return nil, nil
	}
	probe := &model{ctx: r.m.ctx, base: r.m.base, readings: could}
	at := &fitted{params: r.final.params, x: r.final.x}
	if err := probe.show(at); err != nil {
		return nil, err
	}
	c, err := probe.tangents(at)
	if err != nil {
		return nil, err
	}
	var out []Proposal
	for k := range could {
		h := c.jac.RawRowView(k)
		own := could[k]
		own.Value = at.pred[k]
		best := Proposal{Reading: own, Under: []Prediction{{Value: own.Value}}}
		cut := 0.0
		for _, f := range open {
			cross := bilinear(r.final.cov, f.slope, h)
			less := cross * cross / (own.Sigma()*own.Sigma() + bilinear(r.final.cov, h, h))
			to := math.Sqrt(max(0, f.Sigma*f.Sigma-less))
			if share := 1 - to/f.Sigma; share > cut {
				cut = share
				best.Tool, best.For, best.From, best.To = r.m.base.Tools[f.Tool].ID, f.State, f.Sigma, to
			}
		}
		if best.Power = cut; cut >= leastCut {
			out = append(out, best)
		}
	}
	slices.SortStableFunc(out, func(a, b Proposal) int { return cmp.Compare(b.Power, a.Power) })
	return places(out), nil
}

// places keeps the best proposal of each place, the first of them.
func places(all []Proposal) []Proposal {
	var out []Proposal
	for _, p := range all {
		same := func(o Proposal) bool { return o.Place == p.Place && o.Index == p.Index && o.Quantity == p.Quantity }
		if len(out) < mostNext && !slices.ContainsFunc(out, same) {
			out = append(out, p)
		}
	}
	return out
}

// bilinear is aᵀ·C·b.
func bilinear(c *mat.SymDense, a, b []float64) float64 {
	return mat.Inner(mat.NewVecDense(len(a), a), c, mat.NewVecDense(len(b), b))
}
