package plots

import (
	"image/color"
	"math"
)

// shape is the form of a mark. Shape and filling carry the meaning; colour
// only repeats it.
type shape int

const (
	disc shape = iota
	ring
	square
	openSquare
	diamond
	openTriangle
	triangle
	cross
)

// mark draws a mark of the given radius. Open marks are filled with the
// ground so that a line behind them does not show through.
func (p *pen) mark(s shape, at xy, r float64, c color.NRGBA) {
	line := stroke{width: 1.2, color: c}
	corner := func(dx, dy float64) xy { return at.add(xy{dx * r, dy * r}) }
	box := around(at, 0.88*r)
	up := []xy{corner(0, 1.1), corner(-1, -0.75), corner(1, -0.75)}
	switch s {
	case disc:
		p.circle(&c, stroke{}, at, r)
	case ring:
		p.circle(&white, line, at, r)
	case square:
		p.rect(&c, stroke{}, box)
	case openSquare:
		p.rect(&white, line, box)
	case diamond:
		p.polygon(&white, line, corner(0, 1.15), corner(-1.15, 0), corner(0, -1.15), corner(1.15, 0))
	case openTriangle:
		p.polygon(&white, line, up...)
	case triangle:
		p.polygon(&c, stroke{}, up...)
	case cross:
		line.width = 2
		p.line(line, corner(-0.8, -0.8), corner(0.8, 0.8))
		p.line(line, corner(-0.8, 0.8), corner(0.8, -0.8))
	}
}

// arrow draws a filled triangle of height 2r that points up (sign 1) or down
// (sign -1), as a word mark inside tables.
func (p *pen) arrow(at xy, r, sign float64, c color.NRGBA) {
	p.polygon(&c, stroke{}, at.add(xy{0, r * sign}), at.add(xy{-r, -r * sign}), at.add(xy{r, -r * sign}))
}

// entry is one line of a legend: a sample drawn in a box of the given width,
// and what it means.
type entry struct {
	width float64
	draw  func(p *pen, at xy) // at is the middle of the sample
	text  string
}

// markEntry shows a mark.
func markEntry(s shape, c color.NRGBA, text string) entry {
	return entry{8, func(p *pen, at xy) { p.mark(s, at, 3.2, c) }, text}
}

// lineEntry shows a line.
func lineEntry(s stroke, text string) entry {
	return entry{20, func(p *pen, at xy) { p.line(s, at.add(xy{-10, 0}), at.add(xy{10, 0})) }, text}
}

// boxEntry shows a filled box.
func boxEntry(fill color.NRGBA, line stroke, text string) entry {
	return entry{12, func(p *pen, at xy) {
		p.rect(&fill, line, rect{at.X - 6, at.Y - 3.5, at.X + 6, at.Y + 3.5})
	}, text}
}

// legend sets the entries side by side from the top left corner, wrapped to
// the width, and returns the lower edge.
func (p *pen) legend(entries []entry, left, top, width float64) float64 {
	const row, gap = 12.0, 14.0
	x, y := left, top-row/2
	for _, e := range entries {
		need := e.width + 4 + quietText.width(e.text)
		if x > left && x+need > left+width {
			x, y = left, y-row
		}
		e.draw(p, xy{x + e.width/2, y})
		p.text(smallText, smallText.fit(e.text, left+width-x-e.width-4), xy{x + e.width + 4, y}, 0, 0.5)
		x += need + gap
	}
	if len(entries) == 0 {
		return top
	}
	return y - row/2
}

// head sets the title and the legend at the top of the page and returns the
// upper edge of what is left.
func (p *pen) head(title string, entries []entry) float64 {
	top := p.h - edge
	p.text(titleText, titleText.fit(title, p.w-2*edge), xy{edge, top}, 0, 1)
	return p.legend(entries, edge, top-sizeTitle-5, p.w-2*edge) - 4
}

// legendRows returns how many rows the legend needs, to size the page.
func legendRows(entries []entry, width float64) int {
	var trial pen
	bottom := trial.legend(entries, 0, 0, width)
	return int(math.Round(-bottom / 12))
}
