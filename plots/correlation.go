package plots

import (
	"fmt"
	"math"
)

// CorrelationData is how the errors of fitted parameters hang together.
type CorrelationData struct {
	Title string   // "" prints "What the readings cannot tell apart"
	Names []string // 2 to 24 parameters; none may be empty
	// R is the matrix of correlations, row by row: symmetric, each within −1 to
	// 1, and 1 of a parameter with itself.
	R [][]float64
}

// Limits of the picture of correlations.
const (
	correlatedFrom = 0.3  // from here on the sign is printed [our choice]
	correlateMost  = 24   // more cells could not be read on the page
	roundedOff     = 1e-6 // what a matrix may miss its symmetry by
)

// Correlation draws the lower triangle of the matrix: a row for every parameter
// with its number and name, and a square for every pair, whose area is the size
// of the correlation. A square is filled where both errors go the same way and
// open where they go opposite ways, and prints + or − from 0.3 on; where there
// is room the number stands beneath. Columns go by the numbers on the diagonal
// and beneath. Long names run on in further lines. It fails on fewer than 2 and
// more than 24 parameters, one without a name, a matrix of another size, and
// values that are not finite, beyond 1, not symmetric, or not 1 on the diagonal.
func Correlation(d CorrelationData) (*Figure, error) {
	if d.Title == "" {
		d.Title = "What the readings cannot tell apart"
	}
	if err := d.check(); err != nil {
		return nil, err
	}
	g := d.grid()
	legend, hint := d.legend(), quietText.wrap(correlationHint, pageWidth-2*edge)
	p := &pen{w: pageWidth, h: 2*edge + 24 + 12*float64(legendRows(legend, pageWidth-2*edge)) + linesHeight(hint) + numberRoom}
	for i := range d.Names {
		p.h += g.height(i)
	}
	top := p.head(d.Title, legend)
	p.lines(quietText, hint, xy{edge, top - linesHeight(hint)/2}, 0)
	g.draw(p, top-linesHeight(hint)-2)
	return p.figure(d.Title), nil
}

// correlationHint says how to read the picture.
const correlationHint = "The larger the square of two, the less the readings can tell one from the other; a square that fills its cell: not at all."

func (d CorrelationData) check() error {
	c := &check{picture: "Correlation"}
	n := len(d.Names)
	switch {
	case n < 2:
		c.add(ErrEmpty, "correlation needs two parameters", "Names")
	case n > correlateMost:
		c.add(ErrValue, fmt.Sprintf("%d parameters, at most %d can be read", n, correlateMost), "Names")
	}
	for i, name := range d.Names {
		if name == "" {
			c.add(ErrEmpty, "no name", "Names[%d]", i)
		}
	}
	if len(d.R) != n {
		c.add(ErrValue, fmt.Sprintf("%d rows for %d parameters", len(d.R), n), "R")
	}
	for i, row := range d.R {
		if len(row) != n {
			c.add(ErrValue, fmt.Sprintf("%d values for %d parameters", len(row), n), "R[%d]", i)
		}
	}
	if len(c.faults) == 0 {
		d.checkValues(c)
	}
	return c.err()
}

// checkValues looks at the values of a matrix that has the right size. Each pair
// is told once, at its place in the lower triangle.
func (d CorrelationData) checkValues(c *check) {
	for i, row := range d.R {
		for k, r := range row {
			before := len(c.faults)
			c.finite(r, "R[%d][%d]", i, k)
			switch {
			case len(c.faults) > before:
			case math.Abs(r) > 1+roundedOff:
				c.add(ErrValue, fmt.Sprintf("%v is not within -1 to 1", r), "R[%d][%d]", i, k)
			case i == k && math.Abs(r-1) > roundedOff:
				c.add(ErrValue, fmt.Sprintf("%v of a parameter with itself, not 1", r), "R[%d][%d]", i, k)
			case k < i && math.Abs(r-d.R[k][i]) > roundedOff:
				c.add(ErrValue, fmt.Sprintf("%v, but %v the other way round", r, d.R[k][i]), "R[%d][%d]", i, k)
			}
		}
	}
}

// legend shows both signs and three sizes.
func (d CorrelationData) legend() []entry {
	sample := func(r float64, text string) entry {
		return entry{12, func(p *pen, at xy) { p.correlated(at, 11, r) }, text}
	}
	return []entry{
		sample(0.7, "filled, +: both too high at once"), sample(-0.7, "open, −: one too high, the other too low"),
		sample(0.1, "0.1"), sample(0.5, "0.5"), sample(1, "1"),
	}
}
