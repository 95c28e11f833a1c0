package plots

import (
	"fmt"
	"image/color"
	"math"
	"strconv"
	"strings"
)

// VelocityData is the air speed of every run in every state.
type VelocityData struct {
	Title  string   // "" prints "Air speed in the runs"
	Unit   string   // of the speed, for example "m/s"
	Runs   []string // names of the rows, none empty
	States []string // names of the columns, none empty
	Panels []VelocityPanel
	// Ceiling is the speed above which a run is called fast; 0 for none.
	Ceiling float64

	// parts is into how many tables each panel is split; 0 and 1 for none.
	parts int
}

// VelocityPanel is one table, for example "before" or "after".
type VelocityPanel struct {
	Name  string // "" for none
	Cells [][]VelocityCell

	states []string // of a table that shows only some of the states
}

// VelocityCell is one run in one state; Cells holds them by run, then state.
type VelocityCell struct {
	Speed float64 // not below zero
	Limit float64 // least speed that carries the dust; 0 for none
	Dust  bool    // the run carries dust in this state
	None  bool    // there is no such run
}

// grade is what a cell says.
type grade int

const (
	noDust grade = iota
	holds
	slow
	fast
)

func (c VelocityCell) grade(ceiling float64) grade {
	switch {
	case !c.Dust:
		return noDust
	case c.Speed < c.Limit*(1-1e-6):
		return slow
	case ceiling > 0 && c.Speed > ceiling*(1+1e-6):
		return fast
	}
	return holds
}

// Word says how the speed is: "ok", "slow", "fast" above a ceiling (0 for none),
// or "no dust".
func (c VelocityCell) Word(ceiling float64) string {
	return [...]string{noDust: "no dust", holds: "ok", slow: "slow", fast: "fast"}[c.grade(ceiling)]
}

// Measures of the table.
const (
	cellLeast   = 27.0 // narrowest cell in points, side by side
	cellMost    = 54.0
	cellHeight  = 22.0
	cellFlat    = 13.0 // of a long table, where the arrow alone says slow or fast
	longTable   = 26   // rows
	panelGap    = 12.0
	panelTitle  = 16.0
	runNameMost = 110.0
	stateMost   = 130.0 // longest state name that is not cut, in points
)

// VelocityMap draws a table of runs and states for each panel. Every cell
// prints the speed. A run that carries dust too slowly is white on dark with
// "slow" and an arrow down, one above the ceiling is tinted with "fast" and an
// arrow up, one without dust is grey with a dot, and no number where the air
// stands. Panels stand side by side where the cells stay wide enough, otherwise
// one beneath the other; more states than fit a page go into further tables. It
// fails on empty or not finite data, and on a panel of another size than Runs
// by States.
func VelocityMap(d VelocityData) (*Figure, error) {
	if d.Title == "" {
		d.Title = "Air speed in the runs"
	}
	if err := d.check(); err != nil {
		return nil, err
	}
	names := widest(smallText, runNameMost, d.Runs...) + 8
	d = d.split(int((pageWidth - 2*edge - names) / cellLeast))
	across := len(d.Panels)
	if d.parts > 1 {
		across = 1
	}
	cell := func() float64 {
		w := (pageWidth - 2*edge - names - panelGap*float64(across-1)) / float64(across*d.columns())
		return math.Min(w, cellMost)
	}
	if cell() < cellLeast {
		across = 1
	}
	w := cell()
	tall := d.titleHeight() + d.headHeight(w) + d.cellHeight()*float64(len(d.Runs))
	down := (len(d.Panels) + across - 1) / across
	legend := d.legend()
	head := 30 + 12*float64(legendRows(legend, pageWidth-2*edge))
	p := &pen{w: pageWidth, h: 2*edge + head + float64(down)*(tall+panelGap) - panelGap}
	top := p.head(d.Title, legend) - 6
	for i, panel := range d.Panels {
		col, row := i%across, i/across
		x := edge + names + float64(col)*(w*float64(d.columns())+panelGap)
		y := top - float64(row)*(tall+panelGap)
		d.panel(p, panel, xy{x, y}, w)
		if col == 0 {
			first := y - d.titleHeight() - d.headHeight(w)
			for r, run := range d.Runs {
				p.text(smallText, smallText.fit(run, names-8), xy{x - 6, first - (float64(r)+0.5)*d.cellHeight()}, 1, 0.5)
			}
		}
	}
	return p.figure(d.Title), nil
}

func (d VelocityData) check() error {
	c := &check{picture: "VelocityMap"}
	c.names(d.Runs, "Runs")
	c.names(d.States, "States")
	c.some(len(d.Panels), "Panels")
	c.least(d.Ceiling, "Ceiling")
	for i, panel := range d.Panels {
		if len(panel.Cells) != len(d.Runs) {
			c.add(ErrValue, fmt.Sprintf("%d rows for %d runs", len(panel.Cells), len(d.Runs)), "Panels[%d].Cells", i)
		}
		for j, row := range panel.Cells {
			if len(row) != len(d.States) {
				c.add(ErrValue, fmt.Sprintf("%d cells for %d states", len(row), len(d.States)), "Panels[%d].Cells[%d]", i, j)
			}
			for k, v := range row {
				c.least(v.Speed, "Panels[%d].Cells[%d][%d].Speed", i, j, k)
				c.least(v.Limit, "Panels[%d].Cells[%d][%d].Limit", i, j, k)
			}
		}
	}
	return c.err()
}

// names checks a list of names: some, and none empty.
func (c *check) names(list []string, field string) {
	c.some(len(list), field)
	for i, n := range list {
		if n == "" {
			c.add(ErrEmpty, "no name", field+"[%d]", i)
		}
	}
}

// level reports whether the state names fit level above their columns.
func (d VelocityData) level(cell float64) bool { return widest(smallText, cell, d.States...) < cell-3 }

// headHeight is the room of the state names above the table.
func (d VelocityData) headHeight(cell float64) float64 {
	if d.level(cell) {
		return 12
	}
	return widest(smallText, stateMost, d.States...) + 6
}

func (d VelocityData) legend() []entry {
	limit := "slow: dust may settle"
	out := []entry{
		boxEntry(white, hairline, "holds, "+d.Unit),
		arrowEntry(rust, white, -1, limit),
	}
	if d.Ceiling > 0 {
		out = append(out, arrowEntry(sand, ink, 1, "fast: above "+brief(d.Ceiling)+" "+d.Unit))
	}
	return append(out, entry{6, func(p *pen, at xy) {
		p.text(quietText, "·", at, 0.5, 0.5)
	}, "carries no dust"})
}

// panel draws one table from its upper left corner.
func (d VelocityData) panel(p *pen, v VelocityPanel, at xy, cell float64) {
	p.text(boldText, v.Name, xy{at.X, at.Y}, 0, 1)
	top := at.Y - d.titleHeight() - d.headHeight(cell)
	for i, state := range v.states {
		x := at.X + (float64(i)+0.5)*cell
		if d.level(cell) {
			p.text(smallText, state, xy{x, top + 3}, 0.5, 0)
		} else {
			p.upright(smallText, smallText.fit(state, stateMost), xy{x, top + 3})
		}
	}
	// Cells with dust come last, so that their borders are whole.
	for _, dust := range []bool{false, true} {
		for r, row := range v.Cells {
			for i, c := range row {
				x, y := at.X+float64(i)*cell, top-float64(r+1)*d.cellHeight()
				if c.Dust == dust {
					d.cell(p, c, rect{x, y, x + cell, y + d.cellHeight()})
				}
			}
		}
	}
}

// cell draws the speed and, where it is out of bounds, the word.
func (d VelocityData) cell(p *pen, c VelocityCell, box rect) {
	mid := box.centre()
	text := speed(c.Speed)
	word := func(face typeface, w string, sign float64) {
		if d.flat() {
			r := p.text(face, text, mid.add(xy{3, 0}), 0.5, 0.5)
			p.arrow(xy{r.x0 - 4, mid.Y}, 2, sign, face.color)
			return
		}
		p.text(face, text, mid.add(xy{0, 4.2}), 0.5, 0.5)
		low := xy{mid.X + 3, mid.Y - 5}
		r := p.text(face, w, low, 0.5, 0.5)
		p.arrow(xy{r.x0 - 4, low.Y}, 2, sign, face.color)
	}
	edgeLine := stroke{width: 0.5, color: slate}
	switch c.grade(d.Ceiling) {
	case noDust:
		p.rect(&white, stroke{width: 0.5, color: mist}, box)
		if c.None {
			p.text(quietText, "–", mid, 0.5, 0.5)
			return
		}
		if text == speed(0) {
			text = ""
		}
		p.text(quietText, strings.TrimSpace("· "+text), mid, 0.5, 0.5)
	case holds:
		p.rect(&white, edgeLine, box)
		p.text(smallText, text, mid, 0.5, 0.5)
	case slow:
		p.rect(&rust, edgeLine, box)
		face := smallBold
		face.color = white
		word(face, "slow", -1)
	case fast:
		p.rect(&sand, edgeLine, box)
		word(smallBold, "fast", 1)
	}
}

// arrowEntry shows a filled box with an arrow.
func arrowEntry(fill, arrow color.NRGBA, sign float64, text string) entry {
	e := boxEntry(fill, hairline, text)
	box := e.draw
	e.draw = func(p *pen, at xy) {
		box(p, at)
		p.arrow(at, 2, sign, arrow)
	}
	return e
}

// speed prints one decimal below a hundred, none above.
func speed(v float64) string {
	if v < 99.95 {
		return strconv.FormatFloat(v, 'f', 1, 64)
	}
	return strconv.FormatFloat(v, 'f', 0, 64)
}
