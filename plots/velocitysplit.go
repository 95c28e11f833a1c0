package plots

// split cuts the panels into tables of at most so many states, of about the same
// width, those of a panel one after the other.
func (d VelocityData) split(most int) VelocityData {
	d.parts = (len(d.States) + most - 1) / most
	wide := (len(d.States) + d.parts - 1) / d.parts
	var out []VelocityPanel
	for _, panel := range d.Panels {
		for from := 0; from < len(d.States); from += wide {
			to := min(from+wide, len(d.States))
			part := VelocityPanel{Name: panel.Name, states: d.States[from:to]}
			if from > 0 && panel.Name != "" {
				part.Name += ", continued"
			}
			for _, row := range panel.Cells {
				part.Cells = append(part.Cells, row[from:to])
			}
			out = append(out, part)
		}
	}
	d.Panels = out
	return d
}

// columns is the greatest number of states in a table.
func (d VelocityData) columns() int {
	most := 0
	for _, p := range d.Panels {
		most = max(most, len(p.states))
	}
	return most
}

// titleHeight is the room of the names of the panels.
func (d VelocityData) titleHeight() float64 {
	for _, p := range d.Panels {
		if p.Name != "" {
			return panelTitle
		}
	}
	return 2
}

// flat reports whether the rows are low, so that a long table stays a picture.
func (d VelocityData) flat() bool {
	return len(d.Runs)*len(d.Panels) > longTable && d.parts > 1 || len(d.Runs) > longTable
}

// cellHeight is the height of a row.
func (d VelocityData) cellHeight() float64 {
	if d.flat() {
		return cellFlat
	}
	return cellHeight
}
