package network

import (
	"context"
	"math"
)

const (
	// pressureScale and massScale make the two kinds of residual comparable
	// in the merit function.
	pressureScale, massScale = 100.0, 0.01
	// leastPivot keeps an elimination step away from zero where a joint's
	// slope is negative.
	leastPivot = 0.05
)

// merit is the sum of scaled squared residuals at a point; it also notes the
// largest pressure and mass residual and where the former is.
func (s *Solver) merit(q, p, in []float64) float64 {
	n := s.n
	last := len(n.parent) - 1
	s.worst, s.mass, s.worstNode = 0, 0, last
	total := 0.0
	note := func(i int, r float64) {
		if a := math.Abs(r); a > s.worst || math.IsNaN(r) {
			s.worst, s.worstNode = a, i
		}
		total += r / pressureScale * r / pressureScale
	}
	for _, i := range s.order {
		s.sum[i] = 0
	}
	for _, i := range s.order {
		inflow, _, _ := s.leaksAt(i, p[i], q[i])
		inflow += s.sum[i]
		for _, k := range n.inletsAt[i] {
			if !s.run.Open[k] {
				continue
			}
			inflow += in[k]
			dp, _ := n.inletLoss(k, in[k])
			note(i, -p[i]-dp)
		}
		m := q[i] - inflow
		s.mass = max(s.mass, math.Abs(m))
		total += m / massScale * m / massScale
		if i == last {
			break
		}
		up := n.parent[i]
		s.sum[up] += q[i]
		dp, d, e := s.link(i, q[i], q[up])
		s.rp[i], s.slopeQ[i], s.slopeC[i] = p[i]-p[up]-dp, d, e
		note(i, s.rp[i])
	}
	if s.m.fixed {
		m := q[last] - s.m.fixedFlow
		s.mass = max(s.mass, math.Abs(m))
		total += m / massScale * m / massScale
	} else {
		h, _ := s.m.suction(q[last])
		note(last, p[last]+h)
	}
	return total
}

// iterate runs Newton's method from the point in s.q, s.p, s.in.
func (s *Solver) iterate(ctx context.Context) Status {
	s.iterations = 0
	merit := s.merit(s.q, s.p, s.in)
	for {
		if s.worst <= s.set.PressureTol && s.mass <= s.set.MassTol {
			return Converged
		}
		if s.iterations >= s.set.MaxIterations {
			return IterationLimit
		}
		if ctx.Err() != nil {
			return Interrupted
		}
		s.iterations++
		s.step()
		next, ok := s.search(merit)
		if !ok {
			s.merit(s.q, s.p, s.in)
			return Stalled
		}
		merit = next
	}
}

// search takes the longest of the steps 1, ½, ¼ … that lowers the merit.
func (s *Solver) search(merit float64) (float64, bool) {
	t := 1.0
	for range maxHalvings {
		for _, i := range s.order {
			s.tq[i] = s.q[i] + t*s.dq[i]
			s.tp[i] = s.p[i] + t*s.dp[i]
		}
		for k := range s.in {
			s.tin[k] = s.in[k] + t*s.din[k]
		}
		next := s.merit(s.tq, s.tp, s.tin)
		if next < merit*(1-1e-4*t) || (s.worst <= s.set.PressureTol && s.mass <= s.set.MassTol) {
			s.q, s.tq = s.tq, s.q
			s.p, s.tp = s.tp, s.p
			s.in, s.tin = s.tin, s.in
			return next, true
		}
		t /= 2
	}
	return merit, false
}

// step solves the linearised equations. Going down the tree, the flow of each
// link becomes affine in the pressure and flow of the node it enters; coming
// back, the changes are substituted.
//
// For a node with own law dQ = A + B·dP and a link of slopes D (own flow) and
// E (common flow) with pressure residual r = P − P' − Δp:
//
//	dP = dP' + D·dQ + E·dQ' − r
//	dQ·(1 − B·D) = A − B·r + B·dP' + B·E·dQ'
func (s *Solver) step() {
	n := s.n
	last := len(n.parent) - 1
	for _, i := range s.order {
		// a, b collect the inflows; slopeC of the inflows collects in sum.
		s.a[i], s.b[i], s.sum[i] = -s.q[i], 0, 0
	}
	for _, i := range s.order {
		for _, k := range n.inletsAt[i] {
			if !s.run.Open[k] {
				continue
			}
			dp, slope := n.inletLoss(k, s.in[k])
			s.a[i] += s.in[k] + (-s.p[i]-dp)/slope
			s.b[i] -= 1 / slope
		}
		leak, byP, byQ := s.leaksAt(i, s.p[i], s.q[i])
		a, b := s.a[i]+leak, s.b[i]+byP
		if pivot := 1 - s.sum[i] - byQ; pivot != 1 {
			over := 1 / max(leastPivot, pivot)
			a, b = a*over, b*over
		}
		s.a[i], s.b[i] = a, b // dQ = a + b·dP of this node
		if i == last {
			break
		}
		up := n.parent[i]
		r, d, e := s.rp[i], s.slopeQ[i], s.slopeC[i]
		if 1-b*d < leastPivot {
			d = 0
		}
		s.rp[i], s.slopeQ[i], s.slopeC[i] = r, d, e
		over := 1 / (1 - b*d)
		s.over[i] = over
		b *= over
		s.a[up] += s.q[i] + a*over - b*r
		s.b[up] += b
		s.sum[up] += b * e
	}
	h, dh := s.m.suction(s.q[last])
	if s.m.fixed {
		s.dp[last] = 0
		if s.b[last] != 0 {
			s.dp[last] = (s.m.fixedFlow - s.q[last] - s.a[last]) / s.b[last]
		}
	} else {
		// P + H(Q) = 0; a rising branch of the curve is taken as flat.
		dh = min(dh, 0)
		s.dp[last] = (-(s.p[last] + h) - dh*s.a[last]) / (1 + dh*s.b[last])
	}
	s.dq[last] = s.a[last] + s.b[last]*s.dp[last]
	for o := len(s.order) - 2; o >= 0; o-- {
		i := s.order[o]
		up := n.parent[i]
		a, b, d, e := s.a[i], s.b[i], s.slopeQ[i], s.slopeC[i]
		rest := s.dp[up] + e*s.dq[up] - s.rp[i]
		s.dq[i] = (a + b*rest) * s.over[i]
		s.dp[i] = rest + d*s.dq[i]
	}
	for k := range n.inlets {
		s.din[k] = 0
		if i := n.inlets[k].node; s.run.Open[k] && s.active[i] {
			dp, slope := n.inletLoss(k, s.in[k])
			s.din[k] = (-s.p[i] - dp - s.dp[i]) / slope
		}
	}
}
