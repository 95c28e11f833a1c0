package network

import "math"

// moverKey names a fan side.
type moverKey struct {
	collector int
	filter    FilterState
}

// envelope bounds the suction of a fan side: most falls with flow and lies on
// or above the curve, so that a hump does not spoil a proof.
type envelope struct {
	m     mover
	fixed bool
	flow  float64
	free  float64 // flow above which there is no suction
	step  float64
	peak  []float64 // highest suction at or beyond i·step
	humps bool
}

// envelopeSteps is the number of samples of a curve.
const envelopeSteps = 512

func (b *Box) envelope(c *Case) *envelope {
	key := moverKey{c.Collector, c.Filter}
	if e, ok := b.envelopes[key]; ok {
		return e
	}
	e := &envelope{m: b.n.mover(c)}
	b.envelopes[key] = e
	if e.m.fixed {
		e.fixed, e.flow, e.free = true, e.m.fixedFlow, e.m.fixedFlow
		return e
	}
	_, hi := e.m.curve.Range()
	e.free = max(hi, 1e-3)
	for range 60 {
		if h, _ := e.m.suction(e.free); h <= 0 {
			break
		}
		e.free *= 1.25
	}
	e.step = e.free / envelopeSteps
	e.peak = make([]float64, envelopeSteps+2)
	slope := 0.0
	for i := envelopeSteps; i >= 0; i-- {
		h, dh := e.m.suction(float64(i) * e.step)
		slope = max(slope, dh)
		e.peak[i] = max(e.peak[i+1], h)
	}
	e.humps = slope > 0
	for i := range e.peak { // between samples a rise is at most slope·step
		e.peak[i] += 2 * slope * e.step
	}
	return e
}

// most is the highest suction at any flow of q or more.
func (e *envelope) most(q float64) float64 {
	if e.humps {
		return e.peak[max(0, min(int(q/e.step), envelopeSteps))]
	}
	h, _ := e.m.suction(q)
	return max(h, 0)
}

// least is a suction that the fan holds at q or less: nothing is promised on
// a humped curve.
func (e *envelope) least(q float64) float64 {
	if e.humps {
		return 0
	}
	h, _ := e.m.suction(q)
	return max(h, 0)
}

// flowAt is the largest flow at which the fan may hold suction s.
func (e *envelope) flowAt(s float64) float64 {
	if s <= 0 {
		return e.free
	}
	lo, hi := 0.0, e.free
	if e.most(0) < s {
		return math.Nextafter(0, 1)
	}
	for range 50 {
		if mid := (lo + hi) / 2; e.most(mid) >= s {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi + e.step*1e-9
}
