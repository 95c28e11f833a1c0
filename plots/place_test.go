package plots

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// TestPlacer: labels that are placed never touch each other nor what is
// taken, no leader line runs through a label, and the same calls give the same
// places.
func TestPlacer(t *testing.T) {
	for seed := range uint64(50) {
		place := func() []rect {
			rng := rand.New(rand.NewPCG(seed, 2))
			p := placer{area: rect{0, 0, 400, 300}}
			var places []xy
			for range 25 { // every picture takes its marks before it places labels
				places = append(places, xy{20 + 360*rng.Float64(), 20 + 260*rng.Float64()})
				p.take(around(places[len(places)-1], 3))
			}
			marks := slices.Clone(p.taken)
			var boxes []rect
			for _, at := range places {
				if s, ok := p.put(at, 3, 20+40*rng.Float64(), 8); ok {
					boxes = append(boxes, s.box)
					if !p.area.holds(s.box) {
						t.Fatalf("label %v leaves the page", s.box)
					}
				}
			}
			for i, box := range boxes {
				if slices.ContainsFunc(marks, box.hits) {
					t.Fatalf("label %v covers a mark", box)
				}
				for _, l := range p.leads {
					if l.hitsRect(box.grow(-0.01)) {
						t.Fatalf("leader %v runs through label %d", l, i)
					}
				}
			}
			return boxes
		}
		a, b := place(), place()
		if len(a) < 10 || len(a) != len(b) {
			t.Fatalf("%d and %d labels placed", len(a), len(b))
		}
		for i := range a {
			if a[i] != b[i] {
				t.Fatal("the same calls give other places")
			}
			for k := range i {
				if a[i].hits(a[k]) {
					t.Fatalf("labels %v and %v touch", a[i], a[k])
				}
			}
		}
	}
}

// TestPlacerLines: a label keeps off a line where there is room, stands beside
// the middle of a line of its own, and is refused where there is none.
func TestPlacerLines(t *testing.T) {
	level := []xy{{20, 50}, {180, 50}}
	p := placer{area: rect{0, 0, 200, 100}}
	p.avoid(level)
	s, ok := p.putAny(anchors(level), beside, 2, 40, 8)
	if !ok || s.lead != nil || s.box.centre().X != 100 || s.box.y0 < 52 {
		t.Errorf("label beside a level line at %v, leader %v", s.box, s.lead)
	}
	full := placer{area: rect{0, 0, 200, 100}}
	full.take(full.area)
	if s, ok := full.put(xy{100, 50}, 2, 40, 8); ok {
		t.Errorf("label at %v of a page that is full", s.box)
	}
}
