package plots

import "math"

// axis is one direction of a frame: the range, rounded to the step, and the
// name with its unit.
type axis struct {
	name   string
	lo, hi float64
	step   float64
}

// named joins the name of a quantity and its unit.
func named(quantity, unit string) string {
	if unit == "" {
		return quantity
	}
	return quantity + ", " + unit
}

// withUnit joins a printed number and its unit.
func withUnit(number, unit string) string {
	if unit == "" {
		return number
	}
	return number + " " + unit
}

// over returns an axis that covers the values, from zero when fromZero is
// set, with at most parts steps.
func over(name string, values []float64, fromZero bool, parts int) axis {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, v := range values {
		lo, hi = math.Min(lo, v), math.Max(hi, v)
	}
	if fromZero {
		lo = math.Min(lo, 0)
		if hi <= 0 && lo == 0 {
			hi = 1
		}
	}
	a := axis{name: name}
	a.lo, a.hi, a.step = span(lo, hi, parts)
	return a
}

// frame is a pair of axes on the page.
type frame struct {
	box  rect
	x, y scale
}

// axes draws grid, ticks and names within the outer box and returns the
// frame that is left for data. The name of the y axis stands above it, level,
// so that it is read without turning the page.
func (p *pen) axes(outer rect, x, y axis) frame {
	yTicks := ticks(y.lo, y.hi, y.step)
	wide := 0.0
	for _, v := range yTicks {
		wide = math.Max(wide, smallText.width(number(v, y.step)))
	}
	f := frame{box: rect{outer.x0 + wide + 8, outer.y0 + 27, outer.x1 - 8, outer.y1 - 16}}
	f.x = scale{x.lo, x.hi, f.box.x0, f.box.x1}
	f.y = scale{y.lo, y.hi, f.box.y0, f.box.y1}
	p.text(smallBold, y.name, xy{outer.x0, outer.y1 - 3}, 0, 1)
	for _, v := range yTicks {
		at := xy{f.box.x0, f.y.at(v)}
		p.line(gridLine, at, xy{f.box.x1, at.Y})
		p.text(smallText, number(v, y.step), at.add(xy{-7, 0}), 1, 0.5)
	}
	free := math.Inf(-1)
	for _, v := range ticks(x.lo, x.hi, x.step) {
		at := xy{f.x.at(v), f.box.y0}
		p.line(gridLine, at, xy{at.X, f.box.y1})
		p.line(axisLine, at, at.add(xy{0, -3}))
		free = p.tickText(number(v, x.step), at, free)
	}
	p.line(axisLine, xy{f.box.x0, f.box.y1}, xy{f.box.x0, f.box.y0}, xy{f.box.x1, f.box.y0})
	if y.lo > 0 {
		p.axisBreak(xy{f.box.x0, f.box.y0 + 6}, xy{0, 1})
	}
	p.text(smallBold, x.name, xy{f.box.x1, outer.y0}, 1, 0)
	return f
}

// axisBreak marks an axis of a direction of length 1 that does not start at
// zero: two short slanted strokes across a gap.
func (p *pen) axisBreak(at, along xy) {
	p.line(stroke{width: 2, color: white}, at.add(along.times(-1.2)), at.add(along.times(1.2)))
	slant := xy{3, 1.5}
	if along.Y == 0 {
		slant = xy{1.5, 3}
	}
	for _, d := range []float64{-1.2, 1.2} {
		m := at.add(along.times(d))
		p.line(axisLine, m.sub(slant), m.add(slant))
	}
}

// tickText sets the number of a tick beneath it, unless it would start before
// free, where the last number ends, or leave the page. It returns where the
// next number may start.
func (p *pen) tickText(text string, tick xy, free float64) float64 {
	half := smallText.width(text) / 2
	if tick.X-half <= free || tick.X+half > p.w {
		return free
	}
	p.text(smallText, text, tick.add(xy{0, -5}), 0.5, 1)
	return tick.X + half + 3
}

// at returns the page position of a data point.
func (f frame) at(x, y float64) xy { return xy{f.x.at(x), f.y.at(y)} }

// curve draws the part of a data line that lies in the frame, and returns it.
func (p *pen) curve(f frame, s stroke, data []XY) []segment {
	line := make([]xy, len(data))
	for i, d := range data {
		line[i] = f.at(d.X, d.Y)
	}
	var shown []segment
	var path []xy
	for _, part := range segments(line) {
		c, ok := part.clip(f.box)
		if !ok {
			continue
		}
		shown = append(shown, c)
		if len(path) == 0 || dist(path[len(path)-1], c.a) > 1e-6 {
			p.line(s, path...)
			path = []xy{c.a}
		}
		path = append(path, c.b)
	}
	p.line(s, path...)
	return shown
}

// XY is a point of a curve, in the units of the picture's axes.
type XY struct{ X, Y float64 }
