package calibrate

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"wyewright/network"
)

// Flowing is what the fitted shop lets flow in one run or tool in one state.
type Flowing struct {
	State string
	// Run or Tool is an index into the shop, the other −1. Running says of a
	// tool that it runs; Dust of a run that it carries the dust of one.
	Run, Tool     int
	Running, Dust bool
	// Flow, m³/s, with its standard deviation. Low and High hold it with
	// 90 %, over all explanations that the readings cannot tell apart.
	Flow, Sigma, Low, High float64
	// Speed is that in the narrowest piece, Slow that in the widest, m/s;
	// the same for a tool: 0.
	Speed, Slow float64

	slope []float64
}

// Predict foretells the flows in states, with what the readings leave in doubt:
// the covariance of the fit carried through the model's slopes, widened by what
// rival explanations foretell.
func (r *Report) Predict(states []network.State) ([]Flowing, error) {
	out, err := r.flows(states)
	if err != nil {
		return nil, err
	}
	for i := range out {
		out[i].Low, out[i].High = out[i].Flow-ninety*out[i].Sigma, out[i].Flow+ninety*out[i].Sigma
	}
	for i := range r.Findings {
		f := &r.Findings[i]
		if len(f.Rivals) == 0 {
			continue
		}
		own, err := r.m.flows(f.fits[0], f.fits[0].x, states)
		if err != nil {
			return nil, err
		}
		for _, fit := range f.fits[1:] {
			other, err := r.m.flows(fit, fit.x, states)
			if err != nil {
				return nil, err
			}
			for k := range out {
				shift := other[k].Flow - own[k].Flow
				out[k].Low = min(out[k].Low, out[k].Flow+shift-ninety*out[k].Sigma)
				out[k].High = max(out[k].High, out[k].Flow+shift+ninety*out[k].Sigma)
			}
		}
	}
	return out, nil
}

// flows foretells flows with the doubt of the fit itself.
func (r *Report) flows(states []network.State) ([]Flowing, error) {
	f := r.final
	out, err := r.m.flows(f, f.x, states)
	if err != nil || f.cov == nil {
		return out, err
	}
	for i := range out {
		out[i].slope = make([]float64, len(f.x))
	}
	for j := range f.params {
		h := step(&f.params[j], f.x[j])
		x := append([]float64(nil), f.x...)
		x[j] += h
		moved, err := r.m.flows(f, x, states)
		if err != nil {
			return nil, err
		}
		for i := range out {
			out[i].slope[j] = (moved[i].Flow - out[i].Flow) / h
		}
	}
	for i := range out {
		out[i].Sigma = math.Sqrt(max(0, bilinear(f.cov, out[i].slope, out[i].slope)))
	}
	return out, nil
}

// flows solves a fit's shop at a point in states.
func (m *model) flows(f *fitted, x []float64, states []network.State) ([]Flowing, error) {
	n, err := network.New(apply(m.base, f.params, x, ""))
	if err != nil {
		return nil, err
	}
	var out []Flowing
	for _, st := range states {
		sol, err := network.Solve(m.ctx, n, st)
		if err != nil {
			return nil, err
		}
		for k := range sol.Runs {
			res := &sol.Runs[k]
			out = append(out, Flowing{State: st.Name, Run: k, Tool: -1, Dust: res.Dust, Flow: float64(res.Flow), Speed: float64(res.Fast), Slow: float64(res.Slow)})
		}
		for k := range sol.Tools {
			out = append(out, Flowing{State: st.Name, Run: -1, Tool: k, Running: sol.Tools[k].Running, Flow: float64(sol.Tools[k].Flow)})
		}
	}
	return out, nil
}

// Correlations are those of the estimates, in their order, with ones on the
// diagonal; nil where the readings leave a direction quite open.
func (r *Report) Correlations() *mat.SymDense {
	c := r.final.cov
	if c == nil {
		return nil
	}
	n := len(r.final.x)
	out := mat.NewSymDense(n, nil)
	for i := range n {
		out.SetSym(i, i, 1)
		for j := range i {
			if a, b := c.At(i, i), c.At(j, j); a > 0 && b > 0 {
				out.SetSym(i, j, c.At(i, j)/math.Sqrt(a*b))
			}
		}
	}
	return out
}
