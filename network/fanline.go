package network

// FanLine samples the total suction at the inlet against flow, {m³/s, Pa},
// for a collector and filter, up to the flow at which nothing is left.
func (n *Network) FanLine(collector int, filter FilterState, samples int) [][2]float64 {
	m := n.mover(&Case{Collector: collector, Filter: filter})
	if m.fixed {
		return [][2]float64{{m.fixedFlow, 0}}
	}
	_, hi := m.curve.Range()
	var out [][2]float64
	for i := range samples + 1 {
		q := hi * float64(i) / float64(samples)
		h, _ := m.suction(q)
		if h < 0 {
			if k := len(out) - 1; k >= 0 { // where the last step crosses nothing left
				at := out[k][1] / (out[k][1] - h)
				out = append(out, [2]float64{out[k][0] + at*(q-out[k][0]), 0})
			}
			break
		}
		out = append(out, [2]float64{q, h})
	}
	return out
}
