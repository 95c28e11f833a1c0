package shopfile

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"wyewright/network/units"
)

// sheet is a file of rows that the shop file names.
type sheet struct {
	name  string
	lines []string
}

func (s *sheet) text(line int) string {
	if line < 1 || line > len(s.lines) {
		return ""
	}
	return s.lines[line-1]
}

// column is one that a table may have. Of a number the decimal comma is read
// where commas do not divide the cells; of a quantity the head may hold the unit.
type column struct {
	key      string
	number   bool
	needed   bool
	quantity func(string) error
}

// row holds the cells of one line that are not empty, by the key of their column.
type row struct {
	at    *node
	cells map[string]*node
}

// table reads the rows of a file as spreadsheets export them: cells divided by
// commas, semicolons or tabs, whichever the first line has; a byte order mark, a
// line such as "sep=;", empty lines and empty columns at the end do not matter,
// and lines that start with # are comments. The first line names the columns.
type table struct {
	d       *decoder
	in      *sheet
	what    string
	columns []column
	comma   rune
	// heads and units are the key and the unit of each column, bare tells where
	// numbers without a unit were reported.
	heads, units []string
	bare         map[string]bool
}

// open reads the table that a node of the shop file names; ok is false where
// nothing can be said of its rows.
func (t *table) open(n *node) (rows []row, ok bool) {
	d, name := t.d, path.Clean(filepath.ToSlash(n.text))
	if !fs.ValidPath(name) {
		d.fault(n, "put the table beside the shop file, or in a folder there, and write its name: "+t.what+": "+path.Base(name), "%s: %q does not lie beside the shop file", t.what, n.text)
		return nil, false
	}
	if d.beside == nil {
		d.fault(n, "", "%s: the file %q cannot be read from here", t.what, n.text)
		return nil, false
	}
	src, err := fs.ReadFile(d.beside, name)
	var pe *fs.PathError
	switch {
	case errors.As(err, &pe):
		d.fault(n, "it is looked for beside the shop file; write its name with the ending, such as ducts.csv", "%s: cannot read %q: %v", t.what, n.text, pe.Err)
		return nil, false
	case err != nil:
		d.fault(n, "", "%s: cannot read %q: %v", t.what, n.text, err)
		return nil, false
	}
	src = bytes.TrimPrefix(src, []byte("\ufeff"))
	t.in = &sheet{name: filepath.ToSlash(filepath.Join(filepath.Dir(d.name), name)), lines: strings.Split(strings.ReplaceAll(string(src), "\r\n", "\n"), "\n")}
	if len(src) > maxSize {
		d.fault(t.node(1, 1), "", "the table is larger than %d kB", maxSize>>10)
		return nil, false
	}
	for i, line := range t.in.lines {
		if !utf8.ValidString(line) {
			d.fault(t.node(i+1, badByte(line)), `save the sheet as "CSV UTF-8"`, "not UTF-8 text")
			return nil, false
		}
	}
	return t.read(src)
}

func (t *table) node(line, col int) *node {
	return &node{kind: scalar, line: line, col: col, endLine: line, endCol: col, in: t.in}
}

// divider is what divides the cells: what the first line has most of.
func (t *table) divider() rune {
	for _, line := range t.in.lines {
		line = strings.TrimSpace(line)
		if mark, ok := strings.CutPrefix(line, "sep="); ok && mark != "" {
			r, _ := utf8.DecodeRuneInString(mark)
			if strings.ContainsRune(",;\t", r) {
				return r
			}
		}
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		best := ','
		for _, r := range ";\t" {
			if strings.Count(line, string(r)) > strings.Count(line, string(best)) {
				best = r
			}
		}
		return best
	}
	return ','
}

// read walks the rows.
func (t *table) read(src []byte) (rows []row, ok bool) {
	t.comma, t.bare = t.divider(), map[string]bool{}
	r := csv.NewReader(bytes.NewReader(src))
	r.Comma, r.Comment, r.FieldsPerRecord, r.TrimLeadingSpace = t.comma, '#', -1, t.comma != '\t'
	for {
		record, err := r.Read()
		var pe *csv.ParseError
		switch {
		case err == io.EOF:
			if t.heads == nil {
				t.d.fault(t.node(1, 1), "the first line names the columns: "+list(t.keys(), 12), "no %s: the table is empty", t.what)
			}
			return rows, t.heads != nil
		case errors.As(err, &pe):
			hint := "put a cell that holds a comma in quotes"
			if errors.Is(err, csv.ErrBareQuote) || errors.Is(err, csv.ErrQuote) {
				hint = `write 4 in, not 4"; a quotation mark within a cell in quotes is doubled`
			}
			t.d.fault(t.node(pe.Line, max(1, pe.Column)), hint, "not a row of cells: %v", pe.Err)
			if t.d.partial = true; t.heads == nil {
				return nil, false
			}
		case err != nil:
			return rows, false
		case !slices.ContainsFunc(record, func(s string) bool { return strings.TrimSpace(s) != "" }):
		case strings.HasPrefix(record[0], "sep=") && t.heads == nil:
		case t.heads == nil:
			if !t.head(r, record) {
				return nil, false
			}
		default:
			if one, ok := t.row(r, record); ok {
				rows = append(rows, one)
			} else {
				t.d.partial = true
			}
		}
	}
}

// cell is the node of a cell: its line, and the column in characters.
func (t *table) cell(r *csv.Reader, i int, text string) *node {
	line, col := r.FieldPos(i)
	before := t.in.text(line)
	n := t.node(line, utf8.RuneCountInString(before[:min(col-1, len(before))])+1)
	n.text = strings.TrimSpace(text)
	n.endCol = n.col + utf8.RuneCountInString(n.text)
	return n
}

func (t *table) keys() []string {
	var out []string
	for _, c := range t.columns {
		out = append(out, c.key)
	}
	return out
}

func (t *table) column(key string) *column {
	return &t.columns[slices.IndexFunc(t.columns, func(c column) bool { return c.key == key })]
}

// head reads the names of the columns: "length", or "length m" for numbers in
// metres.
func (t *table) head(r *csv.Reader, record []string) bool {
	before := len(t.d.faults)
	t.heads, t.units = make([]string, len(record)), make([]string, len(record))
	for i, text := range record {
		n := t.cell(r, i, text)
		if n.text == "" {
			continue
		}
		key, unit := t.split(n.text)
		switch {
		case !slices.Contains(t.keys(), key):
			t.d.fault(n, t.hint(key), "unknown column %q", n.text)
		case slices.Contains(t.heads[:i], key):
			t.d.fault(n, "", "column %q is repeated", key)
		case unit != "":
			var pe *units.ParseError
			if err := t.column(key).quantity("1 " + unit); errors.As(err, &pe) {
				t.d.fault(n, pe.Hint(), "column %q: %s", n.text, pe.Reason)
			}
		}
		t.heads[i], t.units[i] = key, unit
	}
	for _, c := range t.columns {
		if c.needed && !slices.Contains(t.heads, c.key) {
			t.d.fault(t.cell(r, 0, ""), "the first line names the columns: "+list(t.keys(), 12), "column %q is missing", c.key)
		}
	}
	return len(t.d.faults) == before
}

// split divides a head into the key and the unit: "length m", "Length (m)".
func (t *table) split(text string) (key, unit string) {
	text = strings.Join(strings.Fields(text), " ")
	low := strings.ToLower(text)
	if slices.Contains(t.keys(), low) {
		return low, ""
	}
	for _, c := range t.columns {
		if rest, ok := strings.CutPrefix(low, c.key); ok && c.quantity != nil && strings.ContainsAny(rest[:min(1, len(rest))], " ([,") && len(low) == len(text) {
			return c.key, strings.Trim(text[len(c.key):], " ()[],")
		}
	}
	return low, ""
}

// hint offers the column that was meant.
func (t *table) hint(key string) string {
	if key == "name" {
		return fmt.Sprintf("did you mean %q?", t.columns[0].key)
	}
	if k := "k " + key; slices.Contains(t.keys(), k) {
		return fmt.Sprintf("did you mean %q? It is a coefficient, not a count: bends are counted along the way", k)
	}
	return didYouMean(key, t.keys())
}

// row reads the cells of a line.
func (t *table) row(r *csv.Reader, record []string) (row, bool) {
	out := row{t.cell(r, 0, record[0]), map[string]*node{}}
	out.at.label = "the row"
	good := true
	for i, text := range record {
		n := t.cell(r, i, text)
		switch {
		case n.text == "":
		case i >= len(t.heads):
			hint := "put a cell that holds the mark between cells in quotes"
			if t.comma == ',' {
				hint = "a comma divides cells here: write 3.5, not 3,5, and put text that holds a comma in quotes; or export the sheet with semicolons"
			}
			t.d.fault(n, hint, "the row has %d cells for %d columns", len(record), len(t.heads))
			return out, false
		case t.heads[i] == "":
			t.d.fault(n, "name the column in the first line, or empty the cell", "%q stands in a column without a name", n.text)
			good = false
		default:
			n.label, n.path = t.heads[i], t.what+"."+t.heads[i]
			t.value(n, t.column(t.heads[i]), t.units[i])
			out.cells[t.heads[i]] = n
		}
	}
	return out, good
}

// value makes of the text of a cell what would stand in the shop file: a point
// for the decimal comma, and the unit of the head behind the number.
func (t *table) value(n *node, c *column, unit string) {
	if !c.number && c.quantity == nil {
		return
	}
	text := n.text
	if t.comma != ',' && strings.Count(text, ",") == 1 && !strings.Contains(text, ".") {
		text = strings.Replace(text, ",", ".", 1)
	}
	_, err := strconv.ParseFloat(text, 64)
	switch bare := err == nil; {
	case c.quantity == nil:
	case bare && unit != "":
		text += " " + unit
	case bare && text != "0":
		t.unitless(n, c)
	case unit != "" && !bare && c.quantity(text) == nil:
		t.d.fault(n, "write bare numbers below it, or take the unit out of the head", "%s %q: the head of the column has the unit %s already", c.key, n.text, unit)
		n.refused = true
	}
	n.text = text
}

// unitless reports the first number of a column that has no unit, here or in the
// head.
func (t *table) unitless(n *node, c *column) {
	n.refused = true
	if t.bare[c.key] {
		return
	}
	t.bare[c.key] = true
	unit, other := "mm", "in"
	if c.key == "length" {
		unit, other = "m", "ft"
	}
	if c.quantity("1 mm") != nil {
		unit, other = "cm2", "in2"
	}
	t.d.fault(n, fmt.Sprintf("write %s %s, or put the unit into the head of the column: %s %s (or %s)", n.text, unit, c.key, unit, other), "%s %q: a number without its unit", c.key, n.text)
}
