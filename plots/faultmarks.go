package plots

import (
	"math"
	"strings"
)

// Measures of the marks of faults in points.
const (
	openingMost = 17.0 // radius of the largest opening
	rivalRing   = 7.0
	runStep     = 18.0 // between marks on the same run
	lossArm     = 8.0  // half the length of a bar
	gaugeRing   = 7.0  // with the line that strikes it out
)

// faultPen draws faults on a shop.
type faultPen struct {
	*shop
	FaultData
	used []faultMark // marks drawn so far
	at   []faultMark // of each fault
}

// faultMark is a mark that is drawn.
type faultMark struct {
	at     xy
	radius float64
	run    string // that it stands on; "" for an opening
}

// radius of an opening: its area is in proportion to that of the fault, the
// largest being the same on every plan.
func (d FaultData) radius(size float64) float64 {
	return openingMost * math.Sqrt(size/d.largest())
}

// largest is the area of the largest opening.
func (d FaultData) largest() float64 {
	most := 0.0
	for _, f := range d.Faults {
		if f.Place.Kind == FaultOpening {
			most = math.Max(most, f.Size)
		}
	}
	return most
}

// spot is where a fault is drawn: on a run the middle of its longest leg, and
// what else is there beside that, to either side by turns.
func (f *faultPen) spot(p FaultPlace) xy {
	if p.Kind == FaultOpening {
		return f.to(p.At)
	}
	before := 0
	for _, m := range f.used {
		if m.run == p.Run {
			before++
		}
	}
	leg := longestLeg(f.line(f.Runs[f.FaultData.run(p.Run)].Path))
	step := runStep * float64((before+1)/2) / math.Max(dist(leg.a, leg.b), 1e-9)
	if before%2 == 1 {
		step = -step
	}
	return leg.a.toward(leg.b, math.Max(0.1, math.Min(0.9, 0.5+step)))
}

// put draws one mark with a drawing of its own and keeps labels off it.
func (f *faultPen) put(p FaultPlace, radius float64, draw func(at xy, radius float64)) faultMark {
	m := faultMark{at: f.spot(p), radius: radius}
	if p.Kind != FaultOpening {
		m.run = p.Run
	}
	draw(m.at, radius)
	f.used = append(f.used, m)
	f.seek.take(around(m.at, radius))
	return m
}

// openings draws the openings beneath the marks of the shop, the largest first,
// so that each can be seen.
func (f *faultPen) openings() {
	f.at = make([]faultMark, len(f.Faults))
	for _, i := range f.bySize() {
		f.at[i] = f.put(f.Faults[i].Place, f.radius(f.Faults[i].Size), f.pen.opening)
	}
}

// bySize lists the openings, the largest first.
func (d FaultData) bySize() []int {
	var out []int
	for i, f := range d.Faults {
		if f.Place.Kind != FaultOpening {
			continue
		}
		k := len(out)
		for k > 0 && d.Faults[out[k-1]].Size < f.Size {
			k--
		}
		out = append(out[:k], append([]int{i}, out[k:]...)...)
	}
	return out
}

// signs draws the extra losses and the wrong readings, on top of the ducts.
func (f *faultPen) signs() {
	for i, x := range f.Faults {
		switch x.Place.Kind {
		case FaultLoss:
			f.at[i] = f.put(x.Place, lossArm, f.pen.bars)
		case FaultReading:
			f.at[i] = f.put(x.Place, gaugeRing, f.pen.gauge)
		}
	}
}

// rivals draws the rings of the other places, each wider than what is there.
func (f *faultPen) rivals() {
	for _, x := range f.Faults {
		for _, place := range x.Rivals {
			radius := rivalRing
			for _, m := range f.used {
				if place.Kind == FaultOpening && dist(m.at, f.to(place.At)) < 1 {
					radius = math.Max(radius, m.radius+3)
				}
			}
			m := f.put(place, radius, f.pen.rival)
			if !f.label(f.seek, smallBold, m.at, m.radius, x.Letter) {
				f.missing = append(f.missing, x.Letter)
			}
		}
	}
}

// labels names the faults.
func (f *faultPen) labels() {
	for i, x := range f.Faults {
		if !f.label(f.seek, smallBold, f.at[i].at, f.at[i].radius, x.label(f.AreaUnit)) {
			f.missing = append(f.missing, x.label(f.AreaUnit))
		}
	}
}

// label is what stands beside the mark of a fault.
func (f Fault) label(areaUnit string) string {
	text := f.Text
	switch f.Place.Kind {
	case FaultOpening:
		text = sized(f.Size, f.Doubt, areaUnit)
	case FaultLoss:
		text = "K " + sized(f.Size, f.Doubt, "")
	}
	return strings.TrimSpace(f.Letter + " " + text)
}

// sized prints a size and its doubt to the first digit of the doubt; without a
// doubt, the size alone.
func sized(size, doubt float64, unit string) string {
	if doubt == 0 {
		return withUnit(brief(size), unit)
	}
	step := math.Pow(10, math.Floor(math.Log10(doubt)+1e-9))
	return withUnit(number(size, step), unit) + " ± " + number(doubt, step)
}
