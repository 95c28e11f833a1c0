package plots

import (
	"math"
	"slices"
)

// ProfileData is how the suction grows on the way of the air from a tool to
// the collector.
type ProfileData struct {
	Title    string // "" prints "Suction along the way"
	Pressure string // unit of the suction, for example "Pa"
	Length   string // unit of the distance, for example "m"
	// Stations run in the order of the air, two at least. Straight lines join
	// them; two stations at one distance make a jump.
	Stations []Station
}

// Station is one place on the way. Suction is above zero where the pressure is
// below that of the room.
type Station struct {
	Name     string  // "" for no label
	Distance float64 // along the way; never less than at the station before
	Total    float64 // total suction
	Static   float64 // static suction
}

// staticLine is the dashed line of the static suction.
var staticLine = cleanLine

// Measures of the profile in points.
const (
	lineEnd   = 12.0 // from the end of a line to its label
	endPitch  = 10.0 // from the middle of one label of a line to the next
	startRoom = 0.02 // share of the way left free before it, for a first jump
)

// PressureProfile draws the suction (y, from zero in the room) against the
// distance along the way (x): the total suction as a solid line, the static one
// as a dashed line, each with its value at the last station. A thin upright
// line marks each station with a name; a name that stands twice at one distance
// is printed once. The names stand above the picture, level in a few rows where
// they find room, else side by side and reading upward, and the page grows with
// them. It fails on fewer than two stations, a distance that falls, and values
// that are not finite.
func PressureProfile(d ProfileData) (*Figure, error) {
	if d.Title == "" {
		d.Title = "Suction along the way"
	}
	if err := d.check(); err != nil {
		return nil, err
	}
	p, f := d.sheet(0) // a trial: the names need the scale of the distance
	b := d.band(p, f)
	p, f = d.sheet(b.height)
	p.text(smallBold, d.suction(), xy{edge, f.box.y1 + 13 + b.lift}, 0, 1)
	b.draw(p, f)
	d.draw(p, f)
	return p.figure(d.Title), nil
}

func (d ProfileData) check() error {
	c := &check{picture: "PressureProfile"}
	if len(d.Stations) < 2 {
		c.add(ErrEmpty, "a way needs two stations", "Stations")
	}
	for i, s := range d.Stations {
		c.finite(s.Distance, "Stations[%d].Distance", i)
		c.finite(s.Total, "Stations[%d].Total", i)
		c.finite(s.Static, "Stations[%d].Static", i)
		if i > 0 && s.Distance < d.Stations[i-1].Distance {
			c.add(ErrValue, "falls", "Stations[%d].Distance", i)
		}
	}
	return c.err()
}

// suction is the name of the y axis.
func (d ProfileData) suction() string { return named("suction", d.Pressure) }

// sheet sets head and axes, with room for the names of the stations above the
// frame and for the labels of the lines at the right.
func (d ProfileData) sheet(band float64) (*pen, frame) {
	p := &pen{w: pageWidth, h: pageHeight + band}
	right := p.w - edge - lineEnd + 8
	for _, e := range d.ends() {
		right = math.Min(right, p.w-edge-lineEnd+8-e.face.width(e.text))
	}
	top := p.head(d.Title, []entry{lineEntry(mainLine, "total suction"), lineEntry(staticLine, "static suction")})
	f := p.axes(rect{edge, edge, right, top - band}, d.way(), over("", d.suctions(), true, 8))
	if f.y.lo < 0 {
		p.line(axisLine, xy{f.box.x0, f.y.at(0)}, xy{f.box.x1, f.y.at(0)})
	}
	return p, f
}

// way is the axis of the distance. It ends with the last station, so that the
// labels of the lines stand at their ends, unless the way has no length.
func (d ProfileData) way() axis {
	first, last := d.Stations[0].Distance, d.last().Distance
	a := over(named("distance along the way", d.Length), []float64{first, last}, false, 8)
	if last-first > a.step {
		a.lo, a.hi = first-startRoom*(last-first), last
	}
	return a
}

func (d ProfileData) last() Station { return d.Stations[len(d.Stations)-1] }

// suctions returns all values of the y axis, and zero for the room.
func (d ProfileData) suctions() []float64 {
	out := []float64{0}
	for _, s := range d.Stations {
		out = append(out, s.Total, s.Static)
	}
	return out
}

// ending is the label of a line at its last station.
type ending struct {
	suction float64
	text    string
	face    typeface
}

// ends returns the labels of the two lines, the lower suction first.
func (d ProfileData) ends() []ending {
	s, step := d.last(), grain(largest(d.suctions()))
	label := func(word string, suction float64, face typeface) ending {
		text := word + " " + withUnit(number(suction, step), d.Pressure)
		return ending{suction, face.fit(text, labelMost), face}
	}
	out := []ending{label("total", s.Total, smallBold), label("static", s.Static, smallText)}
	if s.Static < s.Total {
		slices.Reverse(out)
	}
	return out
}

// draw draws the two lines and the labels at their ends.
func (d ProfileData) draw(p *pen, f frame) {
	var total, static []xy
	for _, s := range d.Stations {
		total = append(total, f.at(s.Distance, s.Total))
		static = append(static, f.at(s.Distance, s.Static))
	}
	p.line(staticLine, static...)
	p.line(mainLine, total...)
	ends := d.ends()
	var heights []float64
	for _, e := range ends {
		heights = append(heights, f.y.at(e.suction))
	}
	from := f.x.at(d.last().Distance)
	for i, y := range spread(heights, endPitch, f.box.y0, f.box.y1) {
		to := xy{f.box.x1 + lineEnd, y}
		p.line(leader, xy{from + 1.5, heights[i]}, to.add(xy{-2, 0}))
		p.text(ends[i].face, ends[i].text, to, 0, 0.5)
	}
}
