package plots

import "image/color"

// Measures of the marks of a reading in points.
const (
	arrowLong = 16.0 // from an end of the range to the tip of the arrow
	arrowHalf = 3.2  // half the height of its head
	readEnd   = 3.0  // half the height of the ends of a bar
	readDot   = 2.6
	oddDot    = 3.6
	modelBox  = 4.0
	strikeOut = 4.5 // half the side of the cross over a reading that was left out
)

// barSides is how many standard deviations a bar reaches to each side.
const barSides = 2

// bar returns how far the bar of the reading reaches to each side.
func (r ReadRow) bar() float64 {
	if r.Bound != ReadExact {
		return 0
	}
	return barSides * r.Doubt
}

// color returns the colour of the mark of the reading.
func (r ReadRow) color() color.NRGBA {
	switch {
	case r.LeftOut:
		return slate
	case r.odd():
		return rust
	}
	return navy
}

// face returns the style of a text beside the reading: quiet where it was left
// out, and a verdict in the colour of an odd one.
func (r ReadRow) face(t typeface) typeface {
	switch {
	case r.LeftOut:
		return quietText
	case t.bold && r.odd():
		t.color = rust
	}
	return t
}

// reading draws the marks of one row: the model beneath, so that the smaller
// dot stands out where both agree.
func (p *pen) reading(s scale, r ReadRow, y float64) {
	p.line(gridLine, xy{s.p0, y}, xy{s.p1, y})
	p.mark(openSquare, xy{s.at(r.Model), y}, modelBox, ink)
	at := xy{s.at(r.Read), y}
	switch r.Bound {
	case ReadAtLeast:
		p.beyond(at, 1, r.color())
	case ReadAtMost:
		p.beyond(at, -1, r.color())
	default:
		if r.Doubt > 0 {
			p.errorBar(s.at(r.Read-r.bar()), s.at(r.Read+r.bar()), y, r.color())
		}
		p.dot(at, r)
	}
	if r.LeftOut {
		p.strike(at)
	}
}

// strike crosses out a reading, thinly, so that its mark still shows.
func (p *pen) strike(at xy) {
	line, c := stroke{width: 1.1, color: ink}, strikeOut
	p.line(line, at.add(xy{-c, -c}), at.add(xy{c, c}))
	p.line(line, at.add(xy{-c, c}), at.add(xy{c, -c}))
}

func (p *pen) dot(at xy, r ReadRow) {
	fill := r.color()
	if r.odd() {
		p.circle(&fill, stroke{width: 0.8, color: ink}, at, oddDot)
		return
	}
	p.circle(&fill, stroke{}, at, readDot)
}

// errorBar draws a level bar with upright ends.
func (p *pen) errorBar(x0, x1, y float64, c color.NRGBA) {
	line := stroke{width: 1.2, color: c}
	p.line(line, xy{x0, y}, xy{x1, y})
	for _, x := range []float64{x0, x1} {
		p.line(line, xy{x, y - readEnd}, xy{x, y + readEnd})
	}
}

// beyond draws an arrow from an end of the range of the meter to the right
// (sign 1) or to the left (sign -1).
func (p *pen) beyond(at xy, sign float64, c color.NRGBA) {
	tip, neck := at.add(xy{sign * arrowLong, 0}), at.add(xy{sign * (arrowLong - 2*arrowHalf), 0})
	p.line(stroke{width: 2, color: c}, at.add(xy{0, -4.5}), at.add(xy{0, 4.5}))
	p.line(stroke{width: 1.6, color: c}, at, neck)
	p.polygon(&c, stroke{}, tip, neck.add(xy{0, arrowHalf}), neck.add(xy{0, -arrowHalf}))
}

// legend shows the marks in use.
func (d ReadData) legend() []entry {
	var used [readBounds]bool
	var bars, left, odd bool
	for _, panel := range d.Panels {
		for _, r := range panel.Rows {
			used[r.Bound] = true
			bars, left, odd = bars || r.bar() > 0, left || r.LeftOut, odd || r.odd()
		}
	}
	var out []entry
	add := func(use bool, width float64, text string, draw func(p *pen, at xy)) {
		if use {
			out = append(out, entry{width, draw, text})
		}
	}
	exact := used[ReadExact]
	add(exact && bars, 20, "read, ± 2 standard deviations", func(p *pen, at xy) {
		p.errorBar(at.X-10, at.X+10, at.Y, navy)
		p.dot(at, ReadRow{})
	})
	add(exact && !bars, 6, ReadExact.String(), func(p *pen, at xy) { p.dot(at, ReadRow{}) })
	add(true, 8, "model", func(p *pen, at xy) { p.mark(openSquare, at, modelBox, ink) })
	add(used[ReadAtLeast], arrowLong, ReadAtLeast.String(), func(p *pen, at xy) { p.beyond(at.add(xy{-arrowLong / 2, 0}), 1, navy) })
	add(used[ReadAtMost], arrowLong, ReadAtMost.String(), func(p *pen, at xy) { p.beyond(at.add(xy{arrowLong / 2, 0}), -1, navy) })
	add(left, 10, "left out", func(p *pen, at xy) {
		p.dot(at, ReadRow{LeftOut: true})
		p.strike(at)
	})
	add(odd, 12, "odd: misses by more than 3 standard deviations", func(p *pen, at xy) {
		p.rect(&mist, stroke{}, rect{at.X - 6, at.Y - 5, at.X + 6, at.Y + 5})
		p.dot(at, ReadRow{Read: 2 * oddFrom, Doubt: 1})
	})
	return out
}
