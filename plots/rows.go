package plots

import "math"

// rowHeight is the height of a row in pictures that list rows.
const rowHeight = 14.0

// widest returns the width that the texts need, up to a limit.
func widest(face typeface, most float64, texts ...string) float64 {
	wide := 0.0
	for _, t := range texts {
		wide = math.Max(wide, face.width(t))
	}
	return math.Min(wide, most)
}

// valueAxis draws a level axis with its grid beneath rows that fill the box.
func (p *pen) valueAxis(box rect, a axis) scale {
	s, free := scale{a.lo, a.hi, box.x0, box.x1}, math.Inf(-1)
	for _, v := range ticks(a.lo, a.hi, a.step) {
		x := s.at(v)
		p.line(gridLine, xy{x, box.y0}, xy{x, box.y1})
		p.line(axisLine, xy{x, box.y0}, xy{x, box.y0 - 3})
		free = p.tickText(number(v, a.step), xy{x, box.y0}, free)
	}
	p.line(axisLine, xy{box.x0, box.y0}, xy{box.x1, box.y0})
	if a.lo > 0 {
		p.axisBreak(xy{box.x0 + 6, box.y0}, xy{1, 0})
	}
	p.text(smallBold, a.name, xy{(box.x0 + box.x1) / 2, box.y0 - 15}, 0.5, 1)
	return s
}

// axisRoom is the height that valueAxis needs beneath the rows.
const axisRoom = 24.0

// barHalf is half the height of a bar in a row.
const barHalf = 5.0

// barBox is the box of a level bar between two values, about the height y.
func barBox(s scale, from, to, y float64) rect {
	a, b := s.at(from), s.at(to)
	return rect{math.Min(a, b), y - barHalf, math.Max(a, b), y + barHalf}
}

// grounded sets a text that starts at the place, on a ground of its own, so
// that no line runs through.
func (p *pen) grounded(face typeface, text string, at xy) {
	p.rect(&white, stroke{}, rect{at.X - 1, at.Y - 4.5, at.X + face.width(text) + 1, at.Y + 4.5})
	p.text(face, text, at, 0, 0.5)
}

// linesHeight is the height of a row that a text of several lines needs.
func linesHeight(lines []string) float64 {
	return math.Max(rowHeight, labelLine*float64(len(lines))+bandGap)
}

// lines sets a text of several lines with its middle at the height of the
// place. The share is that of text.
func (p *pen) lines(face typeface, lines []string, at xy, shareX float64) {
	first := at.Y + labelLine*float64(len(lines)-1)/2
	for i, line := range lines {
		p.text(face, line, xy{at.X, first - labelLine*float64(i)}, shareX, 0.5)
	}
}
