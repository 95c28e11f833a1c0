package calibrate

import (
	"math"

	"golang.org/x/sync/errgroup"
)

// ninety is the 95 % point of the normal distribution: ± that many standard
// deviations hold 90 %.
const ninety = 1.6448536269514722

// profile replaces the ranges of a fit's estimates by those of the profile
// likelihood: the values of a parameter at which the sum of squares, all other
// parameters fitted anew, is ninety² above its least (the likelihood-ratio
// interval, χ² of one degree of freedom; Wilks 1938, from memory).
func (m *model) profile(f *fitted, es []Estimate) error {
	c, err := m.tangents(f)
	if err != nil {
		return err
	}
	var g errgroup.Group
	g.SetLimit(workers)
	for i := range es {
		g.Go(func() (err error) {
			if es[i].Low, err = c.edge(i, -1, es[i].Sigma); err == nil {
				es[i].High, err = c.edge(i, 1, es[i].Sigma)
			}
			return err
		})
	}
	return g.Wait()
}

// edgeTries bounds the search for an edge; edgeTol is how near to ninety the
// signed root of the rise must come.
const (
	edgeTries = 6
	edgeTol   = 0.03
)

// edge finds one end of a parameter's range by the secant rule on the signed
// root of the rise, which is straight where the model is.
func (c *chord) edge(k int, side, sigma float64) (float64, error) {
	f := c.at
	p := &f.params[k]
	limit := p.Upper
	if side < 0 {
		limit = p.Lower
	}
	if math.IsInf(sigma, 0) || sigma == 0 {
		sigma = p.Scale
	}
	reach := math.Abs(limit - f.x[k])
	if reach == 0 {
		return limit, nil
	}
	x := append([]float64(nil), f.x...)
	inner, root := 0.0, 0.0 // a distance below the edge, and its root
	outer := math.Inf(1)    // one beyond it
	d := min(ninety*sigma, reach)
	for range edgeTries {
		y := append([]float64(nil), x...)
		y[k] = f.x[k] + side*d
		fit, err := c.fit(f.params, y, f.skip, k)
		if err != nil {
			return 0, err
		}
		r := math.Sqrt(max(0, fit.SSR-f.chi2))
		switch {
		case math.Abs(r-ninety) < edgeTol:
			return f.x[k] + side*d, nil
		case r < ninety && d == reach:
			return limit, nil
		case r < ninety:
			inner, root = d, r
			x = fit.X
		default:
			outer = d
		}
		// The straight line through what lies below the edge, kept between.
		next := d * ninety / max(r, 0.1*ninety)
		if r >= ninety && r > root {
			next = inner + (d-inner)*(ninety-root)/(r-root)
		}
		if !math.IsInf(outer, 1) && (next <= inner || next >= outer) {
			next = (inner + outer) / 2
		}
		d = min(next, reach, 4*max(d, sigma))
	}
	return f.x[k] + side*d, nil
}
