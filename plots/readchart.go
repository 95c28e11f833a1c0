package plots

// ReadData is what was measured in the shop beside what the fitted model shows
// for the same places and states.
type ReadData struct {
	Title  string // "" prints "Readings and model"
	Panels []ReadPanel
}

// ReadPanel is the readings of one quantity, on an axis of their own.
type ReadPanel struct {
	Quantity string // for example "air speed"; must not be empty
	Unit     string // of Read, Doubt and Model, for example "m/s"
	Rows     []ReadRow
}

// ReadRow is one reading. Rows of one state that follow each other are grouped
// under its name.
type ReadRow struct {
	State string // "" for no heading
	Place string // must not be empty
	Read  float64
	Doubt float64 // one standard deviation; 0 where unknown: no bar, never odd
	Model float64
	// Bound says whether Read is the value or the end of the range of the meter.
	Bound   ReadBound
	LeftOut bool // rejected: the model was not fitted to it
}

// ReadChart draws a row for every reading, one panel per quantity beneath the
// other: a dot at the value read with a bar of two standard deviations to each
// side, and a hollow square at what the model shows. A reading at an end of
// the range of the meter is an arrow from there, to the right where the value
// is at least that much and to the left where it is at most. A reading that was
// left out is crossed out and says so; one that misses by more than three
// standard deviations is filled and says "odd". Long names run on in further
// lines, and the page grows with the rows. It fails on empty or not finite
// data, a doubt below zero, an unknown kind of reading, a panel without a
// quantity and a row without a place.
func ReadChart(d ReadData) (*Figure, error) {
	if d.Title == "" {
		d.Title = "Readings and model"
	}
	if err := d.check(); err != nil {
		return nil, err
	}
	legend := d.legend()
	l := d.layout()
	p := &pen{w: pageWidth, h: 2*edge + 22 + 12*float64(legendRows(legend, pageWidth-2*edge))}
	for _, panel := range d.Panels {
		p.h += l.height(panel)
	}
	top := p.head(d.Title, legend)
	for _, panel := range d.Panels {
		l.draw(p, panel, top)
		top -= l.height(panel)
	}
	return p.figure(d.Title), nil
}

func (d ReadData) check() error {
	c := &check{picture: "ReadChart"}
	c.some(len(d.Panels), "Panels")
	for i, panel := range d.Panels {
		if panel.Quantity == "" {
			c.add(ErrEmpty, "no name", "Panels[%d].Quantity", i)
		}
		if len(panel.Rows) == 0 {
			c.add(ErrEmpty, "nothing to draw", "Panels[%d].Rows", i)
		}
		for k, r := range panel.Rows {
			if r.Place == "" {
				c.add(ErrEmpty, "no name", "Panels[%d].Rows[%d].Place", i, k)
			}
			c.finite(r.Read, "Panels[%d].Rows[%d].Read", i, k)
			c.least(r.Doubt, "Panels[%d].Rows[%d].Doubt", i, k)
			c.finite(r.Model, "Panels[%d].Rows[%d].Model", i, k)
			if r.Bound < 0 || r.Bound >= readBounds {
				c.add(ErrValue, "unknown", "Panels[%d].Rows[%d].Bound", i, k)
			}
		}
	}
	return c.err()
}

// opens reports whether the row is the first of its state.
func (p ReadPanel) opens(i int) bool { return i == 0 || p.Rows[i].State != p.Rows[i-1].State }

// values returns what the axis must cover.
func (p ReadPanel) values() []float64 {
	var out []float64
	for _, r := range p.Rows {
		bar := r.bar()
		out = append(out, r.Read-bar, r.Read+bar, r.Model)
	}
	return out
}
