package loss

// A point is one printed pair of a table: the argument and the value there.
type point struct{ x, y float64 }

// A table is a printed list of values over one argument with its source.
// The points ascend in x.
type table struct {
	points []point
	source Source
}

// at returns the piecewise linear value at x. Beyond either end the end value
// is held and outside is true.
func (t *table) at(x float64) (y float64, outside bool) {
	p := t.points
	if !(x >= p[0].x) {
		return p[0].y, true
	}
	for i := 1; i < len(p); i++ {
		if x <= p[i].x {
			w := (x - p[i-1].x) / (p[i].x - p[i-1].x)
			return (1-w)*p[i-1].y + w*p[i].y, false
		}
	}
	return p[len(p)-1].y, true
}
