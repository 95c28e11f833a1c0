package report

// Table is a table with a head; the first column names the rows.
type Table struct {
	Caption string
	Columns []Column
	Rows    []Row
	// Slim tables have few and short columns and stay tables on a phone; others
	// are set there as one entry below the other.
	Slim bool
}

// Column of a Table. Numbers stand at the right.
type Column struct {
	Name, Unit string
	Number     bool
}

// Row of a Table. Sum marks a total, Group the head of the rows below it, Bad
// what misses its limit: a word in the row must say so too.
type Row struct {
	Cells           []string
	Sum, Group, Bad bool
}

// shortTable is the number of rows up to which a table is printed uncut.
const shortTable = 16

// Whole reports whether the table is printed on one page.
func (t Table) Whole() bool { return len(t.Rows) <= shortTable }

// cell is a cell with its column, for the template.
type cell struct {
	Column
	Text  string
	First bool
}

// cells pairs the cells of a row with their columns; cells without one are
// left out.
func (t Table) cells(r Row) []cell {
	var out []cell
	for i, text := range r.Cells {
		if i < len(t.Columns) {
			out = append(out, cell{t.Columns[i], text, i == 0})
		}
	}
	return out
}
