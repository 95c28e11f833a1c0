package plots

import "math"

// band holds the names of the stations above the frame of a profile.
type band struct {
	names   []pennant
	upright bool    // the names read upward, side by side
	height  float64 // that the page needs for them
	lift    float64 // of the name of the y axis, which makes way for them
}

// pennant is the name of a station at the upper end of its guide line.
type pennant struct {
	name string
	x    float64 // of the guide line
	row  int     // of a level name, from below
	left bool    // a level name left of its guide line, at the right rim
	col  float64 // of an upright name: its middle
}

// Measures of the band in points.
const (
	mostRows  = 4    // of level names; more are set upright where that fits
	nameRow   = 10.0 // from row to row of level names
	nameGap   = 2.5  // between a guide line and the name to its right
	namePitch = 10.0 // from column to column of upright names, at least
	nameBend  = 20.0 // above the frame, where guide lines lead to their columns
)

// band finds the places of the names for the scale of the frame.
func (d ProfileData) band(p *pen, f frame) band {
	var b band
	for i, s := range d.Stations {
		if s.Name == "" || d.namedBefore(i) {
			continue
		}
		b.names = append(b.names, pennant{name: s.Name, x: f.x.at(s.Distance)})
	}
	if len(b.names) == 0 {
		return b
	}
	left := edge + smallBold.width(d.suction()) + 8
	right := p.w - edge - smallText.height()/2
	b.flip(p.w - edge)
	rows, whole := b.level(p.w - edge)
	if float64(len(b.names)-1)*namePitch <= right-left && (!whole || rows > mostRows) {
		b.turn(left, right)
		return b
	}
	b.height = nameRow * float64(rows)
	b.lift = b.height
	return b
}

// namedBefore reports whether the name of a station stands at its distance
// already.
func (d ProfileData) namedBefore(i int) bool {
	s := d.Stations[i]
	for j := i - 1; j >= 0 && d.Stations[j].Distance == s.Distance; j-- {
		if d.Stations[j].Name == s.Name {
			return true
		}
	}
	return false
}

// flip sets the last name left of its guide line where it finds no room at the
// right and the last but one ends before it.
func (b *band) flip(rim float64) {
	last := &b.names[len(b.names)-1]
	wide := nameGap + smallText.width(last.name)
	if last.x+wide <= rim {
		return
	}
	before := 0.0
	if len(b.names) > 1 {
		g := b.names[len(b.names)-2]
		before = g.x + 2*nameGap + smallText.width(g.name)
	}
	last.left = last.x-wide > before
}

// level sets each name to the right of its guide line, above every name whose
// guide line it would cover. So no line runs through a name. It returns the
// rows, and whether every name is whole at the right rim.
func (b *band) level(rim float64) (rows int, whole bool) {
	whole = true
	for i := len(b.names) - 1; i >= 0; i-- {
		g := &b.names[i]
		end := g.x + nameGap + smallText.width(g.name)
		if g.left {
			end = g.x
		}
		whole = whole && end <= rim
		for _, next := range b.names[i+1:] {
			if next.x < end+nameGap {
				g.row = max(g.row, next.row+1)
			}
		}
		rows = max(rows, g.row+1)
	}
	return rows, whole
}

// turn sets the names upright, each as near to its guide line as the others
// let it.
func (b *band) turn(left, right float64) {
	b.upright = true
	var wanted []float64
	for _, g := range b.names {
		wanted = append(wanted, g.x)
		b.height = math.Max(b.height, nameBend+widest(smallText, labelMost, g.name)-10)
	}
	for i, x := range spread(wanted, namePitch, left, right) {
		b.names[i].col = x
	}
	b.lift = nameBend - 7 // the first guide line may pass below it
}

// draw draws the guide lines and the names.
func (b band) draw(p *pen, f frame) {
	for _, g := range b.names {
		foot, top := xy{g.x, f.box.y0}, xy{g.x, f.box.y1}
		if b.upright {
			to := xy{g.col, f.box.y1 + nameBend}
			p.line(hairline, foot, top, to)
			p.upright(smallText, smallText.fit(g.name, labelMost), to.add(xy{0, 2}))
			continue
		}
		at := top.add(xy{nameGap, 4 + nameRow*float64(g.row)})
		p.line(hairline, foot, xy{g.x, at.Y + smallText.height()})
		if g.left {
			p.text(smallText, g.name, at.add(xy{-2 * nameGap, 0}), 1, 0)
			continue
		}
		p.text(smallText, smallText.fit(g.name, p.w-edge-at.X), at, 0, 0)
	}
}

// spread moves rising positions apart to the pitch, with the least sum of
// squared moves, and keeps them within lo to hi. Positions that are too close
// are pooled about their mean (pooling of adjacent violators; Barlow,
// Bartholomew, Bremner & Brunk 1972, Statistical Inference under Order
// Restrictions; from memory).
func spread(wanted []float64, pitch, lo, hi float64) []float64 {
	type pool struct{ sum, n float64 }
	mean := func(p pool) float64 { return p.sum / p.n }
	var pools []pool
	for i, w := range wanted {
		pools = append(pools, pool{w - pitch*float64(i), 1})
		for k := len(pools) - 1; k > 0 && mean(pools[k]) <= mean(pools[k-1]); k-- {
			pools[k-1].sum += pools[k].sum
			pools[k-1].n += pools[k].n
			pools = pools[:k]
		}
	}
	hi -= pitch * float64(len(wanted)-1)
	var out []float64
	for _, p := range pools {
		at := math.Max(lo, math.Min(hi, mean(p)))
		for range int(p.n) {
			out = append(out, at+pitch*float64(len(out)))
		}
	}
	return out
}
