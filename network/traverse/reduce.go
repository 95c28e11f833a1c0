package traverse

import (
	"errors"
	"fmt"
	"math"

	"wyewright/network/units"
)

// Errors of a reduction.
var (
	// ErrNone says that there is no reading.
	ErrNone = errors.New("traverse: no points")
	// ErrUnfit says that too many points read backward air.
	ErrUnfit = errors.New("traverse: plane not fit for a traverse")
	// ErrValue marks a value that is none.
	ErrValue = errors.New("traverse: bad value")
)

// unfit is the share of points below nothing from which a plane is not fit
// (common practice: at most a quarter of the points in slow or backward air).
const unfit = 0.25

// Mean is what the points of a traverse say together.
type Mean struct {
	Speed units.Velocity
	// Highest is the highest point over the mean: above 1.3 or so the air has
	// not straightened out (common practice).
	Highest float64
	// Scatter is the standard deviation of the points over the mean: the
	// profile, not an error.
	Scatter float64
	// Backward counts points that read below nothing. They count as standing
	// air (common practice).
	Backward int
	Points   int
}

// Speeds averages air speeds of equal weight.
func Speeds(points []float64) (Mean, error) {
	if len(points) == 0 {
		return Mean{}, ErrNone
	}
	m := Mean{Points: len(points)}
	sum, highest := 0.0, 0.0
	speeds := make([]float64, len(points))
	for i, v := range points {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return Mean{}, fmt.Errorf("%w: %g", ErrValue, v)
		}
		if v < 0 {
			m.Backward++
			v = 0
		}
		speeds[i] = v
		sum += v
		highest = max(highest, v)
	}
	if float64(m.Backward) > unfit*float64(len(points)) {
		return m, fmt.Errorf("%w: %d of %d points read backward air", ErrUnfit, m.Backward, len(points))
	}
	mean := sum / float64(len(points))
	m.Speed = units.Velocity(mean)
	if mean > 0 {
		squares := 0.0
		for _, v := range speeds {
			squares += (v - mean) * (v - mean)
		}
		m.Highest, m.Scatter = highest/mean, math.Sqrt(squares/float64(len(points)))/mean
	}
	return m, nil
}

// Tube is what a pitot tube reads with: velocity pressure = Square × reading.
// A standard pitot-static tube has 1, an S-type tube about 0.7.
type Tube struct{ Square float64 }

// Standard is the standard pitot-static tube.
var Standard = Tube{Square: 1}

// Speed is that of one reading, m/s: √(2·Square·reading/ρ), Pa and kg/m³; of a
// reading below nothing the negative of that of its size.
func (t Tube) Speed(reading units.Pressure, rho units.Density) units.Velocity {
	return units.Velocity(math.Copysign(math.Sqrt(2*t.Square*math.Abs(float64(reading))/float64(rho)), float64(reading)))
}

// Pressures averages the readings of a pitot tube: by their roots, never
// themselves (AMCA Publication 203 as carried by the field test in the tests).
func (t Tube) Pressures(readings []float64, rho units.Density) (Mean, error) {
	if !(t.Square > 0) || !(rho > 0) {
		return Mean{}, fmt.Errorf("%w: tube %g, density %g", ErrValue, t.Square, float64(rho))
	}
	speeds := make([]float64, len(readings))
	for i, p := range readings {
		speeds[i] = float64(t.Speed(units.Pressure(p), rho))
	}
	return Speeds(speeds)
}
