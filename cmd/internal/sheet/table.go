package sheet

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"
)

// Where the rows of a table are on its sheet: a title, a hint, the header, and
// then the rows.
const (
	titleRow = 1
	hintRow  = 2
	headRow  = 4
	firstRow = headRow + 1
)

// column is one column of a table.
type column struct {
	key, head string
	width     float64 // characters
	look      look
	// input says that its cells are there to be changed.
	input bool
}

// live is a formula with its value at the time of writing. In the formula
// {key} stands for the cell of that column in the same row.
type live struct {
	formula string
	value   any
}

// seen is a value with a look of its own in place of the column's.
type seen struct {
	look  look
	value any
}

// amount shows a quantity: what is counted without decimals.
func amount(v any, unit string) seen {
	if unit == "m" || unit == "ft" {
		return seen{amountLook, v}
	}
	return seen{countLook, v}
}

// table is a sheet of rows under one header.
type table struct {
	name, title, hint string
	cols              []column
	rows              [][]any
	// sums are the columns that a last row adds up.
	sums map[string]float64
}

// add adds a row, one value for each column.
func (t *table) add(values ...any) { t.rows = append(t.rows, values) }

// end is the last row of what is summed and looked up: an empty one after the
// rows, so that rows can be inserted above it.
func (t *table) end() int { return firstRow + len(t.rows) }

// index is the place of a column.
func (t *table) index(key string) int {
	i := slices.IndexFunc(t.cols, func(c column) bool { return c.key == key })
	if i < 0 {
		panic("sheet: no column " + key)
	}
	return i
}

// letter is the letter of a column.
func (t *table) letter(key string) string {
	name, _ := excelize.ColumnNumberToName(t.index(key) + 1) // fails for no column that there is
	return name
}

// span is the range of a column, for formulas on any sheet.
func (t *table) span(key string) string {
	c := t.letter(key)
	return fmt.Sprintf("%s!$%s$%d:$%s$%d", t.name, c, firstRow, c, t.end())
}

// formula puts the cells of a row in for the keys.
func (t *table) formula(text string, row int) string {
	for _, c := range t.cols {
		text = strings.ReplaceAll(text, "{"+c.key+"}", fmt.Sprintf("%s%d", t.letter(c.key), row))
	}
	return text
}

// text is what stands above a column: the word marks what may be changed also
// where colour does not show.
func (c *column) text() string {
	if c.input {
		return c.head + "\n(change)"
	}
	return c.head
}

// write puts the table on its sheet.
func (t *table) write(w *writer) error {
	t.fit()
	return w.sheet(t.name, t.widths(), headRow, func(p *page) {
		p.row(titleRow, p.cell(titleLook, false, t.title))
		p.row(hintRow, p.cell(hintLook, false, t.hint))
		var head []any
		for i := range t.cols {
			head = append(head, p.cell(t.cols[i].look.head(), false, t.cols[i].text()))
		}
		p.tall(headRow, 2, head...)
		for n, r := range t.rows {
			row, cells := firstRow+n, []any{}
			for i, v := range r {
				l := t.cols[i].look
				if own, ok := v.(seen); ok {
					l, v = own.look, own.value
				}
				if f, ok := v.(live); ok {
					v = live{t.formula(f.formula, row), f.value}
				}
				cells = append(cells, p.cell(l, t.cols[i].input, v))
			}
			p.tall(row, t.lines(r), cells...)
		}
		if t.lives() {
			p.row(t.end(), p.cell(hintLook, false, "Insert rows above this line and copy the formulas down."))
		}
		if len(t.sums) > 0 {
			p.row(t.end()+1, t.total(p)...)
		}
	})
}

// lives reports whether rows hold formulas.
func (t *table) lives() bool {
	return len(t.rows) > 0 && slices.ContainsFunc(t.rows[0], func(v any) bool {
		_, ok := v.(live)
		return ok
	})
}

// total is the row of sums.
func (t *table) total(p *page) []any {
	var cells []any
	for i := range t.cols {
		c := &t.cols[i]
		switch v, ok := t.sums[c.key]; {
		case ok:
			l := t.letter(c.key)
			cells = append(cells, p.cell(c.look.sum(), false, live{fmt.Sprintf("SUM(%s%d:%s%d)", l, firstRow, l, t.end()), v}))
		case i == 0:
			cells = append(cells, p.cell(wordLook.sum(), false, "Sum"))
		default:
			cells = append(cells, p.cell(wordLook.sum(), false, ""))
		}
	}
	return cells
}

// lines is how many lines the texts of a row take, reckoned with letters of
// mean width, since a row keeps the height that the file gives it.
func (t *table) lines(row []any) int {
	most := 1
	for i, v := range row {
		if text, ok := v.(string); ok {
			most = max(most, lines(text, t.cols[i].width))
		}
	}
	return most
}

// fit makes columns of text no wider than what they hold.
func (t *table) fit() {
	for i := range t.cols {
		c := &t.cols[i]
		if c.look != wordLook {
			continue
		}
		longest := utf8.RuneCountInString(c.head)
		for _, r := range t.rows {
			if text, ok := r[i].(string); ok {
				longest = max(longest, utf8.RuneCountInString(text))
			}
		}
		c.width = min(c.width, float64(longest+3))
	}
}

func (t *table) widths() []float64 {
	var out []float64
	for _, c := range t.cols {
		out = append(out, c.width)
	}
	return out
}
