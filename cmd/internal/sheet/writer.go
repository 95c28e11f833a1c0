package sheet

import (
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"wyewright/network/units"
	"wyewright/optimize/price"
)

// Write writes the workbook. An error is one of writing; a Book that has no
// bill is a programmer's error.
func Write(out io.Writer, b *Book) error {
	if len(b.Bills) == 0 {
		panic("sheet: a book without a bill")
	}
	w := &writer{file: excelize.NewFile(), book: b, styles: map[styled]int{}}
	w.file.SetZipWriter(newOrdered)
	for _, write := range w.sheets() {
		if err := write(w); err != nil {
			return fmt.Errorf("sheet: %w", err)
		}
	}
	if err := w.finish(); err != nil {
		return fmt.Errorf("sheet: %w", err)
	}
	if _, err := w.file.WriteTo(out); err != nil {
		return fmt.Errorf("sheet: write workbook: %w", err)
	}
	return w.file.Close()
}

// writer is a workbook that is being written.
type writer struct {
	file   *excelize.File
	book   *Book
	count  int
	styles map[styled]int
}

// styled is a look with what may be changed.
type styled struct {
	look  look
	input bool
}

// style makes each style once.
func (w *writer) style(k styled) (int, error) {
	if id, ok := w.styles[k]; ok {
		return id, nil
	}
	id, err := w.file.NewStyle(k.look.style(w.book.Currency.Digits, k.input))
	w.styles[k] = id
	return id, err
}

// page is a sheet that is being written, row by row. The first error stays.
type page struct {
	w      *writer
	stream *excelize.StreamWriter
	err    error
}

// sheet writes one sheet: columns of those widths, the rows down to frozen
// always in sight and on every printed page, none where it is 0.
func (w *writer) sheet(name string, widths []float64, frozen int, fill func(*page)) error {
	if err := w.setUp(name, frozen); err != nil {
		return err
	}
	s, err := w.file.NewStreamWriter(name)
	if err != nil {
		return err
	}
	for i, width := range widths {
		if err := s.SetColWidth(i+1, i+1, width); err != nil {
			return err
		}
	}
	if frozen > 0 {
		if err := s.SetPanes(&excelize.Panes{Freeze: true, YSplit: frozen, TopLeftCell: fmt.Sprintf("A%d", frozen+1), ActivePane: "bottomLeft"}); err != nil {
			return err
		}
	}
	p := &page{w: w, stream: s}
	if fill(p); p.err != nil {
		return p.err
	}
	return s.Flush()
}

// Paper sizes as the format numbers them (ECMA-376 part 1, 18.3.1.63).
const (
	letter = 1
	a4     = 9
)

// onePage is how many bills are summed up on one page of paper.
const onePage = 5

// setUp adds a sheet, to be printed across, as wide as the paper; one without a
// table as high too.
func (w *writer) setUp(name string, frozen int) error {
	var err error
	if w.count++; w.count == 1 {
		err = w.file.SetSheetName(w.file.GetSheetName(0), name)
	} else {
		_, err = w.file.NewSheet(name)
	}
	if err != nil {
		return err
	}
	paper, across, wide, high, fit := a4, "landscape", 1, 0, true
	if frozen == 0 && len(w.book.Bills) <= onePage {
		high = 1
	}
	if w.book.System == units.US {
		paper = letter
	}
	if err := w.file.SetSheetProps(name, &excelize.SheetPropsOptions{FitToPage: &fit}); err != nil {
		return err
	}
	if err := w.file.SetPageLayout(name, &excelize.PageLayoutOptions{Size: &paper, Orientation: &across, FitToWidth: &wide, FitToHeight: &high}); err != nil {
		return err
	}
	if err := w.file.SetHeaderFooter(name, &excelize.HeaderFooterOptions{OddFooter: "&L&8&A&R&8&P / &N"}); err != nil {
		return err
	}
	if frozen == 0 {
		return nil
	}
	return w.file.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", RefersTo: fmt.Sprintf("%s!$%d:$%d", name, frozen, frozen), Scope: name})
}

// cell is a value with its look; a live one is a formula.
func (p *page) cell(l look, input bool, v any) excelize.Cell {
	id, err := p.w.style(styled{l, input})
	if p.err == nil {
		p.err = err
	}
	c := excelize.Cell{StyleID: id, Value: v}
	if f, ok := v.(live); ok {
		c.Formula, c.Value = f.formula, f.value
	}
	switch x := c.Value.(type) {
	case price.Money:
		c.Value = p.w.amount(x)
	case float64:
		c.Value = math.Round(x*fine) / fine
	}
	return c
}

// fine is what is kept of a fraction: what lies beyond is noise, which would
// show as 3.59999999999999 and is far below what a cent depends on.
const fine = 1e12

// amount is money as a number.
func (w *writer) amount(m price.Money) float64 { return float64(m) / w.minor() }

// minor is the number of minor units in one of the currency.
func (w *writer) minor() float64 {
	out := 1.0
	for range w.book.Currency.Digits {
		out *= 10
	}
	return out
}

// lines is how many lines a text takes in a column. A column's width counts
// digits: a letter is a little narrower, which leaves room for lines that break
// early, and the indent takes two.
func lines(text string, width float64) int {
	const letters = 1.25
	return max(1, int(math.Ceil(float64(utf8.RuneCountInString(text))/(letters*(width-2)))))
}

// row writes a row of one line, tall one of several.
func (p *page) row(n int, cells ...any) { p.tall(n, 1, cells...) }

func (p *page) tall(n, lines int, cells ...any) {
	if p.err == nil {
		p.err = p.stream.SetRow(fmt.Sprintf("A%d", n), cells, excelize.RowOpts{Height: 3 + lineHeight*float64(lines)})
	}
}

// lineHeight is that of the text size, points.
const lineHeight = 12.75

// finish says whose the file is and asks for a full calculation when it is
// opened. It bears no date: the same bill is the same file.
func (w *writer) finish() error {
	yes := true
	if err := w.file.SetCalcProps(&excelize.CalcPropsOptions{FullCalcOnLoad: &yes}); err != nil {
		return err
	}
	if err := w.file.SetAppProps(&excelize.AppProperties{Application: "wyewright"}); err != nil {
		return err
	}
	core, err := xml.Marshal(&coreProperties{CP: "http://schemas.openxmlformats.org/package/2006/metadata/core-properties",
		DC: "http://purl.org/dc/elements/1.1/", Title: w.book.Title, Creator: "wyewright"})
	if err != nil {
		return err
	}
	w.file.Pkg.Store("docProps/core.xml", append([]byte(xml.Header), core...))
	w.file.SetActiveSheet(0)
	return nil
}

// coreProperties are those of the Open Packaging Conventions (ECMA-376 part 2,
// 11), without the dates that the library would put in.
type coreProperties struct {
	XMLName xml.Name `xml:"cp:coreProperties"`
	CP      string   `xml:"xmlns:cp,attr"`
	DC      string   `xml:"xmlns:dc,attr"`
	Title   string   `xml:"dc:title"`
	Creator string   `xml:"dc:creator"`
}
