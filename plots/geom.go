package plots

import "math"

// xy is a position on the page in points, from the lower left corner.
type xy struct{ X, Y float64 }

func (a xy) add(b xy) xy               { return xy{a.X + b.X, a.Y + b.Y} }
func (a xy) sub(b xy) xy               { return xy{a.X - b.X, a.Y - b.Y} }
func (a xy) times(f float64) xy        { return xy{a.X * f, a.Y * f} }
func (a xy) toward(b xy, f float64) xy { return a.add(b.sub(a).times(f)) }
func dist(a, b xy) float64             { return math.Hypot(a.X-b.X, a.Y-b.Y) }

// rect is an upright rectangle on the page.
type rect struct{ x0, y0, x1, y1 float64 }

func (r rect) centre() xy { return xy{(r.x0 + r.x1) / 2, (r.y0 + r.y1) / 2} }

// grow moves every side outward by d.
func (r rect) grow(d float64) rect { return rect{r.x0 - d, r.y0 - d, r.x1 + d, r.y1 + d} }

// hits reports whether the two rectangles share an area.
func (r rect) hits(o rect) bool {
	return r.x0 < o.x1 && o.x0 < r.x1 && r.y0 < o.y1 && o.y0 < r.y1
}

// holds reports whether o lies within r.
func (r rect) holds(o rect) bool {
	return o.x0 >= r.x0 && o.x1 <= r.x1 && o.y0 >= r.y0 && o.y1 <= r.y1
}

// nearest returns the point of the rectangle that is nearest to p.
func (r rect) nearest(p xy) xy {
	return xy{math.Min(math.Max(p.X, r.x0), r.x1), math.Min(math.Max(p.Y, r.y0), r.y1)}
}

// around is the square of half side d about p.
func around(p xy, d float64) rect { return rect{p.X - d, p.Y - d, p.X + d, p.Y + d} }

// segment is a straight line between two points of the page.
type segment struct{ a, b xy }

// clip returns the part of the segment inside the rectangle (the parametric
// clipping of Liang and Barsky 1984, ACM Trans. Graphics 3:1).
func (s segment) clip(r rect) (segment, bool) {
	t0, t1 := 0.0, 1.0
	d := s.b.sub(s.a)
	for _, side := range [4][2]float64{
		{-d.X, s.a.X - r.x0}, {d.X, r.x1 - s.a.X},
		{-d.Y, s.a.Y - r.y0}, {d.Y, r.y1 - s.a.Y},
	} {
		p, q := side[0], side[1]
		switch {
		case p == 0 && q < 0:
			return segment{}, false
		case p < 0:
			t0 = math.Max(t0, q/p)
		case p > 0:
			t1 = math.Min(t1, q/p)
		}
	}
	if t0 > t1 {
		return segment{}, false
	}
	return segment{s.a.toward(s.b, t0), s.a.toward(s.b, t1)}, true
}

// hitsRect reports whether the segment passes through the rectangle.
func (s segment) hitsRect(r rect) bool {
	c, ok := s.clip(r)
	return ok && dist(c.a, c.b) > 1e-9
}

// hitsSegment reports whether the segments cross between their ends.
func (s segment) hitsSegment(o segment) bool {
	side := func(s segment, p xy) float64 {
		return (s.b.X-s.a.X)*(p.Y-s.a.Y) - (s.b.Y-s.a.Y)*(p.X-s.a.X)
	}
	return side(s, o.a)*side(s, o.b) < 0 && side(o, s.a)*side(o, s.b) < 0
}

// segments returns the straight parts of a polyline.
func segments(line []xy) []segment {
	var out []segment
	for i := 1; i < len(line); i++ {
		out = append(out, segment{line[i-1], line[i]})
	}
	return out
}
