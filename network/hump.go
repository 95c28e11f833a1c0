package network

import "context"

// riseSamples is how finely a curve is looked at for a rising part.
const riseSamples = 200

// rises finds, for each collector, the flow up to which its curve rises
// somewhere; 0 where it falls from its first point on.
func rises(s *Spec) []float64 {
	out := make([]float64, len(s.Collectors))
	for i := range s.Collectors {
		curve := s.Collectors[i].Curve
		h, ok := curve.(interface{ Humps() bool })
		if !ok || !h.Humps() {
			continue
		}
		lo, hi := curve.Range()
		before, _ := curve.Pressure(lo)
		for k := 1; k <= riseSamples; k++ {
			q := lo + (hi-lo)*float64(k)/riseSamples
			p, _ := curve.Pressure(q)
			if p > before {
				out[i] = q
			}
			before = p
		}
	}
	return out
}

// climbSteps is how many flows between an answer and the end of the curve's
// rising part are tried for a better one.
const climbSteps = 24

// climb looks for a steady point with more flow than the one just found, where
// the curve still rises behind it: a humped curve can cross the system's more
// than once, and the crossing with the most flow lasts. The ducts are solved at
// flows given from outside; where the fan holds more there than they ask for,
// the crossing lies above.
func (s *Solver) climb(ctx context.Context) Status {
	own := s.m
	found, top := s.Total(), s.n.rise[s.run.Collector]
	steps, asked, tried := s.iterations, s.TotalSuction(), false
	for k := climbSteps; k > 0; k-- {
		q := found + (top-found)*float64(k)/climbSteps
		if h, _ := own.suction(q); h <= asked*q/max(found, stillFlow) {
			continue // every law of the ducts rises with the flow at least in proportion
		}
		tried = true
		s.m.fixed, s.m.fixedFlow = true, q
		s.guess(&s.run)
		status := s.iterate(ctx)
		steps += s.iterations
		s.m = own
		if status == Interrupted {
			return status
		}
		h, _ := own.suction(q)
		if status != Converged || h <= s.TotalSuction() {
			continue
		}
		status = s.iterate(ctx)
		steps += s.iterations
		if status == Converged && s.Total() >= q {
			s.iterations = steps
			return status
		}
	}
	if !tried {
		return Converged
	}
	// Nothing above: back to the one found.
	s.guess(&s.run)
	status := s.iterate(ctx)
	s.iterations += steps
	return status
}

// climb is the same for one fan of a network of any shape, the others staying as
// they are. It keeps the answer that was found where there is none above.
func (g *general) climb(ctx context.Context, fan int, top float64) Status {
	link := g.n.web.fans[fan]
	at := g.n.web.from[link]
	own := &g.movers[fan]
	found, asked := g.fan(fan)
	if found >= top || own.fixed {
		return g.solver.Status()
	}
	g.keep()
	for k := climbSteps; k > 0; k-- {
		q := found + (top-found)*float64(k)/climbSteps
		h, _ := own.suction(q)
		if h <= asked*q/max(found, stillFlow) {
			continue
		}
		g.mask.Links[link], g.net.Demand[at] = false, q
		status := g.solver.Again(ctx, g.mask)
		p, _ := g.solver.Pressure(at)
		start, end := g.wyes(link)
		g.mask.Links[link], g.net.Demand[at] = true, 0
		if status == Interrupted {
			return status
		}
		if status != Converged || h <= start+end-p {
			continue
		}
		for i := range g.flows {
			g.flows[i] = g.solver.Flow(i)
		}
		g.flows[link] = q
		for i := range g.pressures {
			g.pressures[i], _ = g.solver.Pressure(i)
		}
		if status = g.solver.From(ctx, g.mask, g.flows, g.pressures); status == Converged {
			if now, _ := g.fan(fan); now >= q {
				return status
			}
		}
	}
	return g.solver.From(ctx, g.mask, g.kept, g.keptAt)
}

// keep notes the answer found.
func (g *general) keep() {
	links, nodes := len(g.net.Links), g.net.Nodes
	g.kept, g.flows = resize(g.kept, links), resize(g.flows, links)
	g.keptAt, g.pressures = resize(g.keptAt, nodes), resize(g.pressures, nodes)
	for i := range g.kept {
		g.kept[i] = g.solver.Flow(i)
	}
	for i := range g.keptAt {
		g.keptAt[i], _ = g.solver.Pressure(i)
	}
}
