package network

import "math"

// Ease lowers what Limits ask for, for questions of the kind "what if less
// were asked". Shares are of what is asked: 1 is all of it, 0 nothing. That air
// runs toward the collector is asked all the same.
type Ease struct {
	// Flow is, per tool, the share of the required flow and of the least flows
	// of its ports.
	Flow []float64
	// Transport is the share of every transport velocity.
	Transport float64
}

// flowShare is the share of a tool's flows that is asked for.
func (l *Limits) flowShare(tool int) float64 {
	if l.Ease == nil {
		return 1
	}
	return l.Ease.Flow[tool]
}

// transportShare is the share of the transport velocities that is asked for.
func (l *Limits) transportShare() float64 {
	if l.Ease == nil {
		return 1
	}
	return l.Ease.Transport
}

// ratio is what is there over what is asked: +Inf where nothing is asked.
func ratio(have, ask float64) float64 {
	if ask <= 0 {
		return math.Inf(1)
	}
	return have / ask
}
