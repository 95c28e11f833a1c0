package plots

import "math"

// A crossing is where one duct passes before another on the page.
const (
	crossGap  = 1.6 // white on either side of the nearer duct, points
	crossEnds = 3.0 // a crossing this near to an end is no crossing but a joint
)

// leg is a straight part of a run, on the page and in depth.
type leg struct {
	segment
	near [2]float64 // at either end
	line stroke
}

// legs lists the straight parts of all runs.
func (s *shop) legs() []leg {
	var out []leg
	for _, r := range s.Runs {
		for i, part := range segments(s.line(r.Path)) {
			out = append(out, leg{part, [2]float64{s.view.near(r.Path[i]), s.view.near(r.Path[i+1])}, s.stroke(r)})
		}
	}
	return out
}

// cross returns the shares of the two legs at which they cross on the page, away
// from their ends; false where they do not.
func (l leg) cross(o leg) (t, u float64, ok bool) {
	if !l.hitsSegment(o.segment) {
		return 0, 0, false
	}
	d, e, f := l.b.sub(l.a), o.b.sub(o.a), o.a.sub(l.a)
	det := d.X*e.Y - d.Y*e.X
	t, u = (f.X*e.Y-f.Y*e.X)/det, (f.X*d.Y-f.Y*d.X)/det
	inner := func(share float64, s segment) bool {
		return math.Min(share, 1-share)*dist(s.a, s.b) > crossEnds
	}
	return t, u, inner(t, l.segment) && inner(u, o.segment)
}

// at is the nearness of a place on the leg.
func (l leg) at(share float64) float64 { return l.near[0] + share*(l.near[1]-l.near[0]) }

// depth draws the nearer of two ducts that cross without meeting over a gap in
// the farther one.
func (s *shop) depth() {
	legs := s.legs()
	for i, a := range legs {
		for _, b := range legs[i+1:] {
			t, u, ok := a.cross(b)
			if !ok || math.Abs(a.at(t)-b.at(u))*s.scale < 1 {
				continue // they meet
			}
			front, back, share := a, b, t
			if b.at(u) > a.at(t) {
				front, back, share = b, a, u
			}
			s.over(front, back, share)
		}
	}
}

// over draws a leg anew where it passes before another.
func (s *shop) over(front, back leg, share float64) {
	long := dist(front.a, front.b)
	sine := math.Abs(front.b.sub(front.a).times(1 / long).turn(back.b.sub(back.a).times(1 / dist(back.a, back.b))))
	half := (back.line.width/2 + 0.8) / sine
	part := func(half float64) []xy {
		return []xy{front.a.toward(front.b, math.Max(0, share-half/long)), front.a.toward(front.b, math.Min(1, share+half/long))}
	}
	line := front.line
	s.pen.line(stroke{width: line.width + 2*crossGap, color: white}, part(half)...)
	line.dash = nil
	s.pen.line(line, part(half+1.5)...) // longer, to leave no seam
}

// turn is the sine of the angle between two directions of length 1.
func (a xy) turn(b xy) float64 { return a.X*b.Y - a.Y*b.X }
