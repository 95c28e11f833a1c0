package plots

// readLayout holds the columns that all panels of a chart of readings share.
type readLayout struct {
	named       bool    // some state has a name: places stand a little to the right
	titled      bool    // several panels, each with its quantity above it
	place, word float64 // widths of the names and of the verdicts
	left, right float64 // room for arrows that leave the axis
}

// Measures of the rows in points.
const (
	readIndent = 8.0
	readTitle  = 20.0 // height of the quantity above a panel
	readGap    = 5.0  // above the first row of a state without a name
	readRim    = 4.0  // between a verdict and the rim of its band
)

func (d ReadData) layout() readLayout {
	l := readLayout{titled: len(d.Panels) > 1, left: 10, right: 10}
	for _, panel := range d.Panels {
		for _, r := range panel.Rows {
			l.named = l.named || r.State != ""
			l.place = max(l.place, widest(smallText, labelMost, r.Place))
			l.word = max(l.word, smallBold.width(r.verdict()))
			switch r.Bound {
			case ReadAtLeast:
				l.right = arrowLong + 8
			case ReadAtMost:
				l.left = arrowLong + 8
			}
		}
	}
	return l
}

// state returns the heading of a state in lines.
func (l readLayout) state(r ReadRow) []string {
	return smallBold.wrap(r.State, pageWidth-2*edge)
}

// opening returns the height of the heading of a state.
func (l readLayout) opening(r ReadRow) float64 {
	if r.State == "" {
		return readGap
	}
	return linesHeight(l.state(r))
}

func (l readLayout) label(r ReadRow) []string { return smallText.wrap(r.Place, labelMost) }

// rows returns the height of all rows of a panel with their headings.
func (l readLayout) rows(panel ReadPanel) float64 {
	high := 0.0
	for i, r := range panel.Rows {
		if panel.opens(i) {
			high += l.opening(r)
		}
		high += linesHeight(l.label(r))
	}
	return high
}

// title returns the height of the quantity above a panel.
func (l readLayout) title() float64 {
	if l.titled {
		return readTitle
	}
	return 0
}

// height returns the height of a panel with its axis.
func (l readLayout) height(panel ReadPanel) float64 {
	return l.title() + l.rows(panel) + axisRoom + 6
}

// draw draws a panel down from the given height.
func (l readLayout) draw(p *pen, panel ReadPanel, top float64) {
	if l.titled {
		p.text(boldText, boldText.fit(panel.Quantity, p.w-2*edge), xy{edge, top - 0.6*readTitle}, 0, 0.5)
		top -= l.title()
	}
	indent := 0.0
	if l.named {
		indent = readIndent
	}
	box := rect{edge + indent + l.place + l.left, top - l.rows(panel), p.w - edge - readRim - l.word - l.right, top}
	s := p.valueAxis(box, over(named(panel.Quantity, panel.Unit), panel.values(), false, 8))
	if s.lo < 0 && s.hi > 0 {
		p.line(axisLine, xy{s.at(0), box.y0}, xy{s.at(0), top})
	}
	for i, r := range panel.Rows {
		if panel.opens(i) {
			l.open(p, r, top)
			top -= l.opening(r)
		}
		label := l.label(r)
		y := top - linesHeight(label)/2
		if r.odd() {
			p.rect(&mist, stroke{}, rect{edge, top - linesHeight(label) + 1, p.w - edge, top - 1})
		}
		p.lines(r.face(smallText), label, xy{edge + indent, y}, 0)
		p.reading(s, r, y)
		p.text(r.face(smallBold), r.verdict(), xy{p.w - edge - readRim - l.word, y}, 0, 0.5)
		top -= linesHeight(label)
	}
}

// open draws the heading of a state, on a ground that keeps the grid off it.
func (l readLayout) open(p *pen, r ReadRow, top float64) {
	lines := l.state(r)
	if len(lines) > 0 {
		p.rect(&white, stroke{}, rect{edge, top - linesHeight(lines) + 1, p.w - edge, top})
		p.lines(smallBold, lines, xy{edge, top - linesHeight(lines)/2 - 0.5}, 0)
	}
	p.line(hairline, xy{edge, top - 0.5}, xy{p.w - edge, top - 0.5})
}
