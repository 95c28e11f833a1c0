package ui

import (
	"io"
	"strings"
	"unicode"
)

// Column of a Table. Numbers stand at the right, words at the left.
type Column struct {
	Head, Unit string
	Number     bool
}

// Table collects rows and prints them in columns.
type Table struct {
	cols []Column
	rows [][]string
}

// NewTable makes an empty table.
func NewTable(cols ...Column) *Table { return &Table{cols: cols} }

// Num and Word are columns.
func Num(head, unit string) Column { return Column{head, unit, true} }

// Word is a column of text.
func Word(head string) Column { return Column{Head: head} }

// Row adds a row; missing cells are empty.
func (t *Table) Row(cells ...string) {
	row := make([]string, len(t.cols))
	copy(row, cells)
	t.rows = append(t.rows, row)
}

// Width is the number of columns that a text takes on a terminal: marks that
// sit on the letter before take none, letters of East Asia two.
func Width(s string) int {
	n := 0
	for _, r := range s {
		switch {
		case unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf):
		case unicode.In(r, unicode.Han, unicode.Hangul, unicode.Hiragana, unicode.Katakana):
			n += 2
		default:
			n++
		}
	}
	return n
}

// WriteTo prints the table, indented by two spaces.
func (t *Table) WriteTo(w io.Writer) (int64, error) {
	head, unit := make([]string, len(t.cols)), make([]string, len(t.cols))
	width := make([]int, len(t.cols))
	units := false
	for i, c := range t.cols {
		head[i], unit[i] = c.Head, c.Unit
		units = units || c.Unit != ""
	}
	lines := [][]string{head}
	if units {
		lines = append(lines, unit)
	}
	lines = append(lines, t.rows...)
	for _, row := range lines {
		for i, s := range row {
			width[i] = max(width[i], Width(s))
		}
	}
	var b strings.Builder
	for _, row := range lines {
		var line strings.Builder
		for i, s := range row {
			pad := strings.Repeat(" ", width[i]-Width(s))
			if line.WriteString("  "); t.cols[i].Number {
				line.WriteString(pad + s)
			} else {
				line.WriteString(s + pad)
			}
		}
		b.WriteString(strings.TrimRight(line.String(), " ") + "\n")
	}
	n, err := io.WriteString(w, b.String())
	return int64(n), err
}

// Columns are those of the table.
func (t *Table) Columns() []Column { return t.cols }

// Rows are those of the table, each with a cell for every column.
func (t *Table) Rows() [][]string { return t.rows }
