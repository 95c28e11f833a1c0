package fan

import "wyewright/network/units"

// Motor is the motor of the fan, with what is known of its load. Points are those
// of the fan curve, where they carry power; Efficiency is that of fan and drive
// together, from shaft to air, on the pressure that the curve means.
type Motor struct {
	Rating     units.Power
	Efficiency units.Ratio
	Points     []Point // by increasing flow
}

// Load returns the shaft power at flow q and pressure p. Between two points with
// power it is interpolated linearly in the flow; otherwise it is Q·p/Efficiency.
// It reports false where it cannot be checked: q outside of the power points (or
// none there) and no efficiency in (0, 1], or a flow or a pressure that is not
// positive, where an efficiency says nothing.
//
// The power of an extrapolated point is never guessed: radial fans draw more
// power the less they are throttled, just where the points end.
func (m Motor) Load(q units.Flow, p units.Pressure) (units.Power, bool) {
	if load, ok := m.interpolate(q); ok {
		return load, true
	}
	if !(m.Efficiency > 0 && m.Efficiency <= 1 && q > 0 && p > 0) {
		return 0, false
	}
	return units.Power(float64(q) * float64(p) / float64(m.Efficiency)), true
}

// interpolate returns the power between the two neighbours of q, if both have
// a power.
func (m Motor) interpolate(q units.Flow) (units.Power, bool) {
	for i := 1; i < len(m.Points); i++ {
		a, b := m.Points[i-1], m.Points[i]
		if q < a.Flow || q > b.Flow || a.Power <= 0 || b.Power <= 0 || a.Flow >= b.Flow {
			continue
		}
		t := float64(q-a.Flow) / float64(b.Flow-a.Flow)
		return a.Power + units.Power(t)*(b.Power-a.Power), true
	}
	return 0, false
}
