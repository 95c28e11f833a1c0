package plots

import (
	"math"
	"slices"
	"strings"
)

// columns is where the first of so many panels begins, and how wide each is.
func (d CompareData) columns(per int) (left, wide float64) {
	name := widest(smallText, labelMost, append(d.Tools[:len(d.Tools):len(d.Tools)], slowestRow)...)
	left = edge + math.Max(name, smallBold.width(slowestRow)) + 8
	return left, (pageWidth - edge - left - compareGap*float64(per-1)) / float64(per)
}

// nameLines is the name of an option in one line or two, which may part at
// hyphens too.
func nameLines(name string, wide float64) []string {
	lines := boldText.wrap(strings.ReplaceAll(name, "-", "- "), wide)
	for i := range lines {
		lines[i] = strings.ReplaceAll(lines[i], "- ", "-")
	}
	if len(lines) > 2 {
		lines = []string{lines[0], boldText.fit(lines[1]+" "+lines[2], wide)}
	}
	return lines
}

// head is the height above the panels.
func (d CompareData) head(wide float64) float64 {
	most := 1
	for _, o := range d.Options {
		most = max(most, len(nameLines(o.Name, wide)))
	}
	return compareHead + compareName*float64(most)
}

// under is the height between the last row and the axis.
func (d CompareData) under() float64 {
	if slices.ContainsFunc(d.Options, func(o CompareOption) bool { return o.Note != "" }) {
		return compareUnder + compareName
	}
	return compareUnder
}

// band draws panels side by side, down from a height.
func (d CompareData) band(p *pen, options []CompareOption, left, wide, top float64) {
	name := left - edge - 8
	first := top - d.head(wide)
	last := first - rowHeight*float64(len(d.Tools)+1)
	right := left + wide*float64(len(options)) + compareGap*float64(len(options)-1)
	for k, tool := range d.Tools {
		y := first - rowHeight*(float64(k)+0.5)
		p.text(smallText, smallText.fit(tool, name), xy{edge, y}, 0, 0.5)
	}
	p.text(smallBold, slowestRow, xy{edge, last + rowHeight/2}, 0, 0.5)
	p.line(hairline, xy{edge, first}, xy{right, first})
	p.line(hairline, xy{edge, last + rowHeight}, xy{right, last + rowHeight})
	p.text(quietText, "share, %", xy{edge, last - d.under() - 5}, 0, 1)
	for i, o := range options {
		x := left + (wide+compareGap)*float64(i)
		d.panel(p, o, rect{x, last, x + wide, first})
	}
}

// panel draws one option.
func (d CompareData) panel(p *pen, o CompareOption, box rect) {
	face := smallText
	if !o.Meets {
		face = smallBold
		face.color = rust
	}
	wide := box.x1 - box.x0
	lines := nameLines(o.Name, wide)
	for i, line := range lines {
		p.text(boldText, line, xy{box.x0, box.y1 + 26 + compareName*float64(len(lines)-1-i)}, 0, 0.5)
	}
	p.text(face, face.fit(o.Verdict, wide), xy{box.x0, box.y1 + 15}, 0, 0.5)
	p.text(smallText, smallText.fit(o.Cost, wide), xy{box.x0, box.y1 + 6}, 0, 0.5)
	a := d.axis()
	s := scale{a.lo, a.hi, box.x0 + 3, box.x1 - compareWord}
	if s.p1-s.p0 < 60 {
		a.step = 100 // the numbers of more would cover each other
	}
	free := math.Inf(-1)
	foot := box.y0 - d.under()
	for _, v := range ticks(a.lo, a.hi, a.step) {
		x := s.at(v)
		p.line(gridLine, xy{x, box.y1}, xy{x, foot})
		p.line(axisLine, xy{x, foot}, xy{x, foot - 3})
		free = p.tickText(number(v, 1), xy{x, foot}, free)
	}
	p.line(axisLine, xy{s.p0, foot}, xy{s.p1, foot})
	p.line(limitRow, xy{s.at(100), box.y1}, xy{s.at(100), foot})
	for k, share := range o.Shares {
		d.share(p, s, share, box.y1-rowHeight*(float64(k)+0.5), disc, square)
	}
	d.share(p, s, o.Slowest, box.y0+rowHeight/2, openTriangle, triangle)
	beneath := func(face typeface, text string, down float64) {
		text = face.fit(text, wide)
		p.rect(&white, stroke{}, rect{box.x0, box.y0 - down - 5, box.x0 + face.width(text) + 1, box.y0 - down + 4})
		p.text(face, text, xy{box.x0, box.y0 - down}, 0, 0.5)
	}
	if !o.Slowest.None {
		beneath(quietText, o.Run, 5)
	}
	if o.Note != "" {
		face = smallBold
		face.color = rust
		beneath(face, o.Note, 5+compareName)
	}
}

// share draws one share: a line from what was set to the mark, and the number.
func (d CompareData) share(p *pen, s scale, c CompareShare, y float64, good, bad shape) {
	face, at := smallText, xy{s.p1 + compareWord, y}
	if c.None {
		p.text(quietText, c.text(), at, 1, 0.5)
		return
	}
	x := s.at(math.Min(c.Percent, s.hi))
	m, tone := good, navy
	if !c.meets() {
		face, m, tone = smallBold, bad, rust
		face.color = rust
	}
	p.line(stroke{width: 1.2, color: slate}, xy{s.at(100), y}, xy{x, y})
	p.mark(m, xy{x, y}, 3.2, tone)
	if c.Percent > s.hi {
		tip := x + 8
		p.polygon(&tone, stroke{}, xy{tip, y}, xy{tip - 4, y + 2.4}, xy{tip - 4, y - 2.4})
	}
	p.text(face, c.text(), at, 1, 0.5)
}
