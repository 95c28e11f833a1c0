package plots

import "math"

// sizeNear is the price above which a size is left out rather than set farther
// away.
const sizeNear = 12.5

// sizes sets the sizes of runs without a label close beside them, each where
// there is room.
func (s *shop) sizes() {
	for i, r := range s.Runs {
		if r.Label != "" || r.Size == "" {
			continue
		}
		for _, at := range anchors(s.line(r.Path)) {
			if s.shared(at, i) {
				continue
			}
			box, cost := s.seek.search(at, beside, s.stroke(r).width/2, quietText.width(r.Size), quietText.height(), sizeNear)
			if !math.IsInf(cost, 1) {
				s.seek.take(box.box)
				s.setLabel(quietText, box, r.Size)
				break
			}
		}
	}
}

// shared reports whether a place lies on another run than the given one as well,
// so that a size there could belong to either.
func (s *shop) shared(at xy, run int) bool {
	for i, r := range s.Runs {
		for _, part := range segments(s.line(r.Path)) {
			if i != run && part.hitsRect(around(at, 1)) {
				return true
			}
		}
	}
	return false
}
