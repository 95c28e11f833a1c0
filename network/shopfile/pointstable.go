package shopfile

// pointColumns are the columns of a table of points.
var pointColumns = []column{{key: "point", needed: true}, {key: "x", number: true, needed: true}, {key: "y", number: true, needed: true},
	{key: "z", number: true, needed: true}, {key: "note"}}

// pointsTable reads coordinates from the table that the shop file names, one
// point a row, in the unit that the section points gives for all. It returns nil
// where nothing can be said of them.
func (d *decoder) pointsTable(n *node) *node {
	d.file.PointsPath = n.text
	t := &table{d: d, what: "points", columns: pointColumns}
	rows, ok := t.open(n)
	if !ok {
		return nil
	}
	out := &node{kind: mapping, label: "at", path: "points.at", line: 1, col: 1, in: t.in}
	for _, r := range rows {
		name := r.cells["point"]
		if name == nil {
			d.fault(r.at, "write its name in the column point", "a row without the name of its point")
			continue
		}
		place := &node{kind: sequence, label: name.text, path: "points." + name.text, line: name.line, col: name.col, endLine: name.line, in: t.in}
		for _, key := range []string{"x", "y", "z"} {
			c := r.cells[key]
			if c == nil {
				d.fault(name, "fill in x, y and z; z is the height", "point %q has no %s", name.text, key)
				place.refused = true
				continue
			}
			place.items = append(place.items, c)
		}
		if c := r.cells["note"]; c != nil {
			place.note = c.text
		}
		out.entries = append(out.entries, entry{name, place})
	}
	d.file.tables = append(d.file.tables, inlined{n, out, d.file.root.child("points").flow})
	return out
}
