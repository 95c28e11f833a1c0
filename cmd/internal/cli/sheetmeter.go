package cli

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"wyewright/network"
	"wyewright/network/calibrate"
	"wyewright/network/traverse"
	"wyewright/network/units"
)

// meter is the range of an air-speed meter, and the units of the form.
type meter struct {
	low, high   units.Velocity
	least, most string // in words
	sys         units.System
}

// usualMeter is the range of a small vane or hot wire meter (common practice).
const usualMeter = "0.3 m/s to 30 m/s"

// parseMeter reads a range such as usualMeter.
func parseMeter(text string) (*meter, error) {
	const hint = `write both ends with their units: --meter "` + usualMeter + `"`
	least, most, two := strings.Cut(text, " to ")
	if !two {
		return nil, fail(Usage, fmt.Errorf("--meter: %q is no range", text), hint)
	}
	m := meter{least: strings.TrimSpace(least), most: strings.TrimSpace(most)}
	var low, high error
	m.low, low = units.ParseVelocity(m.least)
	m.high, high = units.ParseVelocity(m.most)
	if err := errors.Join(low, high); err != nil {
		return nil, fail(Usage, fmt.Errorf("--meter: %w", err), hint)
	}
	if m.low < 0 || m.high <= m.low {
		return nil, fail(Usage, fmt.Errorf("--meter: no meter reads from %s to %s", m.least, m.most), "the second speed must lie above the first, and neither below 0")
	}
	return &m, nil
}

// sheetSides is how many standard deviations the range of an expected value
// reaches to each side. It is the doubt of the reading, not that of the model.
const sheetSides = 2

// still is the air speed that prints as nothing.
const still units.Velocity = 0.005

// speedRow is a reading of air speed on the centre line, which is the mean over
// the probe factor. The doubts of factor and reading are independent.
func (m *meter) speedRow(n *network.Network, s *network.Solution, run int) sheetRow {
	const factor, doubt = calibrate.CentreFactor, calibrate.CentreDoubt
	mean := s.Runs[run].Fast
	backward := mean < 0
	if backward {
		mean = -mean
	}
	x := calibrate.Reading{Quantity: calibrate.Velocity, Centre: true, Value: float64(mean) / factor}
	v, reach := units.Velocity(x.Value), units.Velocity(sheetSides*math.Hypot(x.Value*doubt/factor, x.Sigma()))
	low, high := max(0, v-reach), v+reach
	pitot := units.Pressure(float64(n.Spec().Air.Density) / 2 * x.Value * x.Value).Text(m.sys)
	var marks []string
	switch {
	case mean < still:
		marks = append(marks, "no air here by the file: any speed shows a leak")
	case v < m.low:
		marks = append(marks, "under range: write <"+m.least)
	case v > m.high:
		marks = append(marks, "over range: read in a wider run, or with a pitot tube: "+pitot)
	case high > m.high:
		marks = append(marks, "may be over range: then pitot tube, "+pitot)
	}
	if backward {
		marks = append(marks, "runs backward, by the model")
	}
	row := sheetRow{Place: n.Spec().Runs[run].ID, Quantity: "velocity", Value: float64(v), Low: float64(low), High: float64(high),
		Expected: fmt.Sprintf("%s (%s to %s) %s", velocity(v, m.sys), velocity(low, m.sys), velocity(high, m.sys), v.Unit(m.sys)),
		Mark:     strings.Join(marks, "; ")}
	if len(s.Collectors) > 0 {
		row.Collector = s.Collector.ID
	}
	return row
}

// suctionRow is a reading of the suction at a collector's inlet.
func (m *meter) suctionRow(c *network.CollectorResult) sheetRow {
	p := c.Static
	x := calibrate.Reading{Quantity: calibrate.Suction, Value: math.Abs(float64(p))}
	reach := units.Pressure(sheetSides * x.Sigma())
	return sheetRow{Place: "collector", Quantity: "suction", Value: float64(p), Low: float64(p - reach), High: float64(p + reach), Collector: c.ID,
		Expected: fmt.Sprintf("%s (%s to %s) %s", pressure(p, m.sys), pressure(p-reach, m.sys), pressure(p+reach, m.sys), p.Unit(m.sys))}
}

// traverseDepths are the depths from the wall at which a traverse of a round
// duct reads: 6 points on a diameter below 200 mm, else 8 (common practice), at
// the middles of rings of equal area.
func traverseDepths(d units.Length) []units.Length {
	n := 6
	if d >= 0.2 {
		n = 8
	}
	out, err := traverse.Depths(traverse.EqualArea, n, d)
	if err != nil {
		panic(err) // 6 and 8 are numbers that the rule has
	}
	return out
}
