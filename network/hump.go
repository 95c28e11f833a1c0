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
const climbSteps = 12

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
		if h, _ := own.suction(q); h <= asked {
			continue // more flow never asks for less
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
