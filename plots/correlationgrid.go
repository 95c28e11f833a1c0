package plots

import (
	"math"
	"strconv"
)

// correlationGrid holds the measures of the triangle.
type correlationGrid struct {
	CorrelationData
	labels [][]string
	number float64 // width of the numbers of the rows
	label  float64 // width of the names
	cell   float64 // side of a cell
}

// Measures of the triangle in points.
const (
	pairMost    = 34.0 // a cell is not wider
	pairNumbers = 28.0 // from here on a cell has room for a number beneath
	pairText    = 9.5  // height of that number
	pairRim     = 1.5  // between a square and the lines about its cell
	numberRoom  = 14.0 // beneath the triangle, for the numbers of the columns
)

func (d CorrelationData) grid() correlationGrid {
	g := correlationGrid{CorrelationData: d, label: widest(smallText, labelMost, d.Names...)}
	g.number = smallBold.width(strconv.Itoa(len(d.Names))) + 5
	for _, name := range d.Names {
		g.labels = append(g.labels, smallText.wrap(name, labelMost))
	}
	room := pageWidth - 2*edge - g.number - g.label - 6
	g.cell = math.Min(pairMost, math.Floor(room/float64(len(d.Names))*10)/10)
	return g
}

// height is that of a row: a cell, or more where the name has many lines.
func (g correlationGrid) height(i int) float64 {
	return math.Max(g.cell, labelLine*float64(len(g.labels[i]))+2)
}

// draw draws the triangle down from the given height.
func (g correlationGrid) draw(p *pen, top float64) {
	left := edge + g.number + g.label + 6
	column := func(k int) float64 { return left + g.cell*float64(k) }
	y := top
	for i := range g.Names {
		high := g.height(i)
		mid := y - high/2
		p.text(smallBold, strconv.Itoa(i+1), xy{edge + g.number - 5, mid}, 1, 0.5)
		p.lines(smallText, g.labels[i], xy{edge + g.number, mid}, 0)
		for k := range i {
			g.pair(p, rect{column(k), y - high, column(k + 1), y}, g.R[i][k])
		}
		own := rect{column(i), y - high, column(i + 1), y}
		p.rect(&mist, gridLine, own)
		p.text(smallBold, strconv.Itoa(i+1), own.centre(), 0.5, 0.5)
		y -= high
	}
	for k := range len(g.Names) - 1 {
		p.text(smallBold, strconv.Itoa(k+1), xy{column(k) + g.cell/2, y - 4}, 0.5, 1)
	}
}

// pair draws the cell of two parameters.
func (g correlationGrid) pair(p *pen, box rect, r float64) {
	p.rect(&white, gridLine, box)
	at, side := box.centre(), g.cell
	if g.cell >= pairNumbers {
		at.Y += pairText / 2
		side -= pairText
		if math.Abs(r) >= correlatedFrom {
			text := number(math.Abs(r), 0.01)
			p.text(typeface{size: sizeSmall, color: ink}, sign(r)+text, xy{at.X, box.y0 + 2}, 0.5, 0)
		}
	}
	p.correlated(at, side, r)
}

// sign is the sign of a correlation as it is printed.
func sign(r float64) string {
	if r < 0 {
		return "−"
	}
	return "+"
}

// correlated draws the square of a correlation in a cell of the given side.
func (p *pen) correlated(at xy, side, r float64) {
	half := (side/2 - pairRim) * math.Sqrt(math.Min(1, math.Abs(r)))
	if half < 0.05 { // less than a hundredth of the cell's side shows nothing
		return
	}
	face := typeface{size: sizeSmall, bold: true, color: white}
	if r < 0 {
		line := math.Min(1.2, half)
		p.rect(&white, stroke{width: line, color: rust}, around(at, half-line/2))
		face.color = ink
	} else {
		p.rect(&navy, stroke{}, around(at, half))
	}
	if math.Abs(r) >= correlatedFrom {
		p.text(face, sign(r), at, 0.5, 0.5)
	}
}
