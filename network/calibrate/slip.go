package calibrate

import "math"

// slips are units that are taken for one another, with the ratio of what is
// written to what was read (exact factors).
var slips = []struct {
	quantity Quantity
	ratio    float64
	words    string
}{
	{Velocity, 0.3048 / 60, "it fits if the meter showed m/s: written as fpm"},
	{Velocity, 60 / 0.3048, "it fits if the meter showed fpm: written as m/s"},
	{Flow, 0.3048 * 0.3048 * 0.3048 * 60, "it fits if the meter showed m3/h: written as cfm"},
	{Flow, 1 / 3.6, "it fits if the meter showed l/s: written as m3/h"},
	{Flow, 3.6, "it fits if the meter showed m3/h: written as l/s"},
	{Flow, 1 / (0.3048 * 0.3048 * 0.3048 * 60), "it fits if the meter showed cfm: written as m3/h"},
	{Suction, 249.08891, "it fits if the gauge showed Pa: written as in wg"},
	{Suction, 1 / 249.08891, "it fits if the gauge showed in wg: written as Pa"},
	{Suction, 9.80665, "it fits if the gauge showed Pa: written as mm wg"},
	{Suction, 1 / 9.80665, "it fits if the gauge showed mm wg: written as Pa"},
}

// slip says which unit a reading was likely taken for, given what the model
// shows; empty where none fits within two standard deviations.
func (r *Reading) slip(model float64) string {
	if r.Bound != Exact || model <= 0 || r.Value <= 0 {
		return ""
	}
	for _, s := range slips {
		as := *r
		if as.Value = r.Value / s.ratio; s.quantity == r.Quantity && math.Abs(as.miss(model)) < 2 {
			return s.words
		}
	}
	return ""
}
