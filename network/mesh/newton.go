package mesh

import (
	"context"
	"math"
)

// evaluate computes residuals and slopes at a point and returns the merit:
// the sum of scaled squared residuals.
func (s *Solver) evaluate(q, p []float64) float64 {
	n, l := s.net, len(s.net.Links)
	s.worst, s.mass, s.worstLink = 0, 0, 0
	for j := range s.net1 {
		s.net1[j] = 0
		if n.Demand != nil {
			s.net1[j] = n.Demand[j]
		}
	}
	for i := range n.Links {
		if !s.live[i] {
			continue
		}
		link := &n.Links[i]
		dp, slope := link.Law.Loss(q[i])
		s.fall[i], s.slope[i] = dp, slope+creep
		if link.From != Room {
			s.net1[link.From] += q[i]
		}
		if link.To != Room {
			s.net1[link.To] -= q[i]
		}
	}
	for k := range n.Pairs {
		pair := &n.Pairs[k]
		s.byC[k] = 0
		if !s.live[pair.Link] {
			continue
		}
		own, common := q[pair.Link], 0.0
		if s.live[pair.Common] {
			common = q[pair.Common]
		}
		so, sc := sign(pair.Back), sign(pair.CommonBack)
		dp, byQ, byC := pair.Law.Loss(so*own, sc*common)
		s.fall[pair.Link] += so * dp
		s.slope[pair.Link] += byQ
		s.byC[k] = so * sc * byC
	}
	for k := range n.Seeps {
		seep := &n.Seeps[k]
		s.seepBy[k] = 0
		if s.mask.seep(k) {
			in, slope := seep.Law.Inflow(s.static(seep, q, p))
			s.net1[seep.Node] -= in
			s.seepBy[k] = slope
		}
	}
	total := 0.0
	for i := range n.Links {
		if !s.live[i] {
			continue
		}
		r := at(p, n.Links[i].From) - at(p, n.Links[i].To) - s.fall[i]
		if a := math.Abs(r); a > s.worst || math.IsNaN(a) {
			s.worst, s.worstLink = a, i
		}
		total += r / pressureScale * r / pressureScale
	}
	for j, m := range s.net1 {
		if s.live[l+j] {
			s.mass = max(s.mass, math.Abs(m))
			total += m / massScale * m / massScale
		} else if n.Demand != nil {
			// Nothing can feed it: no step will help, and the answer is none.
			s.mass = max(s.mass, math.Abs(n.Demand[j]))
		}
	}
	return total
}

func sign(back bool) float64 {
	if back {
		return -1
	}
	return 1
}

// at is the pressure of a node or of the room.
func at(p []float64, node int) float64 {
	if node == Room {
		return 0
	}
	return p[node]
}

// assemble writes the matrix of a Newton step at the last evaluated point. A
// link's row is its pressure equation, a node's row its balance with the signs
// turned, so that the matrix is symmetric but for the pairs, links negative
// and nodes positive on the diagonal. lag is the weight of the links' inertia.
// Without full, the pairs' cross slopes are left out and every own slope is
// held above 0.
func (s *Solver) assemble(full bool, lag float64) {
	n, m := s.net, s.mat
	m.clear()
	for i := range n.Links {
		link := &n.Links[i]
		if !s.live[i] {
			m.add(s.own[i], -1)
			continue
		}
		slope := s.slope[i]
		if !full {
			slope = max(slope, creep)
		}
		m.add(s.own[i], -slope-lag*s.inertia[i])
		if link.From != Room {
			m.add(s.fromAt[i], 1)
			m.add(s.fromOf[i], 1)
		}
		if link.To != Room {
			m.add(s.toAt[i], -1)
			m.add(s.toOf[i], -1)
		}
	}
	if full {
		for k := range n.Pairs {
			if s.live[n.Pairs[k].Link] && s.live[n.Pairs[k].Common] {
				m.add(s.pairAt[k], -s.byC[k])
			}
		}
	}
	for k := range n.Seeps {
		seep := &n.Seeps[k]
		if s.seepBy[k] == 0 {
			continue
		}
		m.add(s.seepP[k], -s.seepBy[k])
		if full && seep.Link != Room && s.live[seep.Link] {
			m.add(s.seepQ[k], 2*s.seepBy[k]*seep.C*math.Abs(s.q[seep.Link]))
		}
	}
	for j := range s.node {
		if !s.live[len(n.Links)+j] {
			m.add(s.node[j], 1)
		}
	}
}

// direction puts the Newton step at the last evaluated point into x.
func (s *Solver) direction() {
	n, l := s.net, len(s.net.Links)
	for i := range n.Links {
		s.x[s.mat.place[i]] = 0
		if s.live[i] {
			s.x[s.mat.place[i]] = s.fall[i] - at(s.p, n.Links[i].From) + at(s.p, n.Links[i].To)
		}
	}
	for j := range s.net1 {
		s.x[s.mat.place[l+j]] = 0
		if s.live[l+j] {
			s.x[s.mat.place[l+j]] = -s.net1[j]
		}
	}
	s.mat.solve(s.x)
}

// iterate runs Newton's method from the point in q and p.
func (s *Solver) iterate(ctx context.Context) Status {
	s.iterations = 0
	s.status = s.newton(ctx)
	s.asked = false
	return s.status
}

// newton takes full steps as long as they lead downhill; where they do not, it
// starts again and lets the flow settle in time.
func (s *Solver) newton(ctx context.Context) Status {
	merit := s.evaluate(s.q, s.p)
	for !s.settled() {
		if s.iterations >= s.set.MaxIterations {
			return s.settle(ctx)
		}
		if ctx.Err() != nil {
			return Interrupted
		}
		s.iterations++
		// Pivots with other signs are those of a point that cannot last.
		s.assemble(true, 0)
		ok := s.mat.factor() == s.net.Nodes
		if ok {
			s.direction()
			merit, ok = s.search(merit)
		}
		if !ok {
			return s.settle(ctx)
		}
	}
	return Converged
}

// settle follows the flow in time from the first point, with the inertia of the
// air in every link, in steps that grow as the residuals fall (pseudo-transient
// continuation, Kelley & Keyes 1998, from memory). It comes to rest only at a
// point that lasts; the last attempt takes what it finds.
func (s *Solver) settle(ctx context.Context) Status {
	s.spare = false
	for k, lag := range [...]float64{1, 30, 1} {
		s.start()
		merit := s.evaluate(s.q, s.p)
		near := nearEnough
		for range s.set.MaxIterations {
			if s.settled() {
				return Converged
			}
			if s.worst < near {
				if s.polish(ctx, merit) {
					return Converged
				}
				near = s.worst / 10
			}
			if ctx.Err() != nil {
				return Interrupted
			}
			s.iterations++
			s.assemble(true, lag)
			if s.mat.factor() != s.net.Nodes && k < 2 {
				lag *= 8 // too long a step for a flow that runs away
				continue
			}
			s.direction()
			s.advance(s.leash())
			next := s.evaluate(s.tq, s.tp)
			if !(next < 100*merit) {
				lag *= 8
				s.evaluate(s.q, s.p)
				continue
			}
			s.accept()
			lag *= min(1.5, max(0.1, 0.8*math.Sqrt(next/merit)))
			merit = next
		}
	}
	if s.spare {
		copy(s.q, s.q1)
		copy(s.p, s.p1)
	}
	if s.evaluate(s.q, s.p); s.spare {
		return Converged
	}
	return Stalled
}

func (s *Solver) settled() bool { return s.worst <= s.set.PressureTol && s.mass <= s.set.MassTol }

// search takes the longest of the steps 1, ½, ¼ … that lowers the merit.
func (s *Solver) search(merit float64) (float64, bool) {
	t := 1.0
	for range maxHalvings {
		s.advance(t)
		next := s.evaluate(s.tq, s.tp)
		if next < merit*(1-1e-4*t) || s.settled() {
			s.accept()
			return next, true
		}
		t /= 2
	}
	return merit, false
}

// nearEnough is the pressure residual, Pa, below which a flow that settles is
// tried for its end at once.
const nearEnough = 200.0

// polish takes full steps toward the end, whatever the signs of the pivots, and
// goes back where they do not arrive, or arrive where the flow cannot last: such
// a point is kept in case there is no other.
func (s *Solver) polish(ctx context.Context, merit float64) bool {
	copy(s.q0, s.q)
	copy(s.p0, s.p)
	for range maxPolish {
		if ctx.Err() != nil {
			break
		}
		s.iterations++
		s.assemble(true, 0)
		s.mat.factor()
		s.direction()
		var ok bool
		if merit, ok = s.search(merit); !ok {
			break
		}
		if s.settled() {
			s.asked = false
			if s.Stable() {
				return true
			}
			copy(s.q1, s.q)
			copy(s.p1, s.p)
			s.spare = true
			break
		}
	}
	copy(s.q, s.q0)
	copy(s.p, s.p0)
	s.evaluate(s.q, s.p)
	return false
}

// leash is the share of the step that moves no flow by more than a few times
// the largest usual one.
func (s *Solver) leash() float64 {
	far, widest := 0.0, 0.0
	for i := range s.q {
		far = max(far, math.Abs(s.x[s.mat.place[i]]))
		widest = max(widest, s.net.Links[i].usual())
	}
	return min(1, 3*widest/far)
}

// advance makes the trial point at a share of the step.
func (s *Solver) advance(t float64) {
	for i := range s.q {
		s.tq[i] = s.q[i] + t*s.x[s.mat.place[i]]
	}
	for j := range s.p {
		s.tp[j] = s.p[j] + t*s.x[s.mat.place[len(s.q)+j]]
	}
}

// accept takes the trial point.
func (s *Solver) accept() {
	s.q, s.tq = s.tq, s.q
	s.p, s.tp = s.tp, s.p
}

// Stable reports whether the last answer would last: whether a small push of
// any flow dies away. That is so where the slopes of the links, the rising
// branches of fans among them, add up to a resistance against every way the
// flow can turn; the signs of the pivots tell (Sylvester's law of inertia).
func (s *Solver) Stable() bool {
	if !s.asked {
		s.asked = true
		s.evaluate(s.q, s.p)
		s.assemble(true, 0)
		s.stable = s.mat.factor() == s.net.Nodes
	}
	return s.stable
}
