package plots

import (
	"slices"
)

// FlowData is the flow of every running tool in every state.
type FlowData struct {
	Title string // "" prints "Flow at the tools"
	Unit  string // of the flow, for example "m3/h"
	Rows  []FlowRow
	// NoBefore leaves out the flow before, for a shop that is shown as it is.
	NoBefore bool
}

// FlowRow is one tool in one state. Rows of one state that follow each other
// are grouped under its name.
type FlowRow struct {
	State, Tool             string
	None                    bool    // there was no flow before: the tool is still to come
	Before, After, Required float64 // in Unit, not below zero; Required 0 means none
	// Verdict is the word at the end of the row. "" prints "meets" when After
	// reaches Required (within a millionth), else "short" and by how much.
	Verdict string
	Short   bool // with Verdict: print it as a shortfall
}

// FlowBars draws a row for every tool in every state: a larger hollow mark for the
// flow before, a filled one for the flow after, an upright stroke for what the
// tool needs, and the verdict in words. The page grows with the rows. It fails
// on empty or not finite data and on a row without a tool.
func FlowBars(d FlowData) (*Figure, error) {
	if d.Title == "" {
		d.Title = "Flow at the tools"
	}
	if err := d.check(); err != nil {
		return nil, err
	}
	legend := d.legend()
	groups := 0
	for i := range d.Rows {
		if d.opens(i) {
			groups++
		}
	}
	rows := float64(len(d.Rows)) * rowHeight
	head := 22 + 12*float64(legendRows(legend, pageWidth-2*edge))
	p := &pen{w: pageWidth, h: edge*2 + head + axisRoom + rows + 5*float64(groups)}
	top := p.head(d.Title, legend)

	state := widest(smallBold, 120, d.texts(func(r FlowRow) string { return r.State })...)
	tool := widest(smallText, 100, d.texts(func(r FlowRow) string { return r.Tool })...)
	word := widest(smallBold, 90, d.texts(func(r FlowRow) string { w, _ := r.verdict(); return w })...)
	box := rect{edge + state + tool + 22, edge + axisRoom, p.w - edge - word - 18, top}
	values := []float64{0}
	for _, r := range d.Rows {
		values = append(values, r.After, r.Required)
		if !d.NoBefore {
			values = append(values, r.Before)
		}
	}
	values = append(values, 1.02*slices.Max(values))
	s := p.valueAxis(box, over(named("flow", d.Unit), values, true, 7))
	y := top
	for i, r := range d.Rows {
		if d.opens(i) {
			p.line(hairline, xy{edge, y - 1}, xy{p.w - edge, y - 1})
			y -= 5
			p.text(smallBold, smallBold.fit(r.State, state), xy{edge, y - rowHeight/2}, 0, 0.5)
		}
		mid := y - rowHeight/2
		p.text(smallText, smallText.fit(r.Tool, tool), xy{edge + state + 10, mid}, 0, 0.5)
		d.row(p, s, r, mid)
		d.word(p, r, xy{box.x1 + 10, mid}, word)
		y -= rowHeight
	}
	return p.figure(d.Title), nil
}

func (d FlowData) check() error {
	c := &check{picture: "FlowBars"}
	c.some(len(d.Rows), "Rows")
	for i, r := range d.Rows {
		if r.Tool == "" {
			c.add(ErrEmpty, "no name", "Rows[%d].Tool", i)
		}
		if !d.NoBefore {
			c.least(r.Before, "Rows[%d].Before", i)
		}
		c.least(r.After, "Rows[%d].After", i)
		c.least(r.Required, "Rows[%d].Required", i)
	}
	return c.err()
}

// opens reports whether the row is the first of its state.
func (d FlowData) opens(i int) bool { return i == 0 || d.Rows[i].State != d.Rows[i-1].State }

func (d FlowData) texts(of func(FlowRow) string) []string {
	out := make([]string, len(d.Rows))
	for i, r := range d.Rows {
		out[i] = of(r)
	}
	return out
}

// verdict returns the word at the end of the row, and whether it reports a
// shortfall.
func (r FlowRow) verdict() (word string, short bool) {
	switch {
	case r.Verdict != "":
		return r.Verdict, r.Short
	case r.Required == 0:
		return "", false
	case r.After >= r.Required*(1-1e-6):
		return "meets", false
	}
	return "short " + number(100*(1-r.After/r.Required), 0.1) + " %", true
}

var needLine = stroke{width: 2, color: ink}

func (d FlowData) legend() []entry {
	after := "after"
	var out []entry
	if d.NoBefore {
		after = "flow"
	} else {
		out = append(out, entry{9, func(p *pen, at xy) { p.mark(ring, at, 4.4, quiet) }, "before"})
	}
	return append(out, markEntry(disc, navy, after+", meets"), markEntry(square, rust, after+", short"),
		entry{6, func(p *pen, at xy) { p.line(needLine, at.add(xy{0, -4.5}), at.add(xy{0, 4.5})) }, "required"})
}

// row draws the marks of one tool.
func (d FlowData) row(p *pen, s scale, r FlowRow, y float64) {
	after := xy{s.at(r.After), y}
	_, short := r.verdict()
	p.line(gridLine, xy{s.p0, y}, xy{s.p1, y})
	if r.Required > 0 {
		x := s.at(r.Required)
		p.line(needLine, xy{x, y - 5}, xy{x, y + 5})
	}
	if !d.NoBefore && !r.None {
		before := xy{s.at(r.Before), y}
		p.line(stroke{width: 1.2, color: slate}, before, after)
		p.mark(ring, before, 4.4, quiet)
	}
	if short {
		p.mark(square, after, 3.6, rust)
	} else {
		p.mark(disc, after, 3.4, navy)
	}
}

// word sets the verdict; a shortfall is bold and has an arrow.
func (d FlowData) word(p *pen, r FlowRow, at xy, width float64) {
	word, short := r.verdict()
	if !short {
		p.text(smallText, smallText.fit(word, width), at, 0, 0.5)
		return
	}
	p.arrow(at.add(xy{-4, 0}), 2.4, -1, rust)
	face := smallBold
	face.color = rust
	p.text(face, face.fit(word, width), at.add(xy{1, 0}), 0, 0.5)
}
