package plots

import (
	"image/color"
	"math"
	"slices"
)

// fall is one bar of a waterfall as it is drawn.
type fall struct {
	kind     StepKind
	label    []string // lines
	face     typeface
	from, to float64
	value    string
}

// A swatch of the kind stands between the label and the bars.
const (
	swatchHalf = 3.0
	swatchRoom = 19.0
)

// valueGap is the room between a bar and its number and behind it.
const valueGap = 8.0

func (f fall) height() float64 { return linesHeight(f.label) }

// back reports whether the bar runs to the left as a step that gives back.
func (f fall) back() bool { return f.kind != StepTotal && f.to < f.from }

// falls lays the steps end to end.
func (d WaterfallData) falls() []fall {
	var out []fall
	spent := 0.0
	for _, s := range d.Steps {
		f := fall{kind: s.Kind, face: smallText, from: spent, to: spent + s.Pressure, value: number(s.Pressure, d.grain())}
		switch {
		case s.Kind == StepTotal:
			f.face, f.from, f.to = smallBold, 0, s.Pressure
		case s.Pressure < 0:
			f.value += " regain"
		}
		f.label = f.face.wrap(s.Label, labelMost)
		spent = f.to
		out = append(out, f)
	}
	return out
}

// reach returns the pressures that the axis must cover, so that each number
// finds room behind its bar on an axis of that width.
func reach(falls []fall, width float64) []float64 {
	out := []float64{0}
	for _, f := range falls {
		out = append(out, f.from, f.to)
	}
	lo := slices.Min(out)
	for _, f := range falls {
		share := (f.face.width(f.value) + valueGap) / width
		out = append(out, lo+(math.Max(f.from, f.to)-lo)/(1-share))
	}
	return out
}

// falls draws the bars beneath each other from the top. A faint line leads
// from the label to the bar, and a thin one from bar to bar.
func (p *pen) falls(s scale, falls []fall, top float64) {
	var joint []xy
	for _, f := range falls {
		y := top - f.height()/2
		p.lines(f.face, f.label, xy{s.p0 - swatchRoom + 4, y}, 1)
		p.line(gridLine, xy{s.p0, y}, xy{s.at(math.Min(f.from, f.to)), y})
		if joint != nil {
			p.line(hairline, joint[0], xy{joint[0].X, y + barHalf})
		}
		box := barBox(s, f.from, f.to, y)
		p.filled(f.kind, f.back(), box)
		p.filled(f.kind, f.back(), around(xy{s.p0 - 8, y}, swatchHalf))
		p.grounded(f.face, f.value, xy{box.x1 + 4, y})
		joint = []xy{{s.at(f.to), y - barHalf}}
		top -= f.height()
	}
}

// filled draws a box with the look of the kind.
func (p *pen) filled(k StepKind, back bool, box rect) {
	look := k.look()
	p.rect(&look.fill, stroke{}, box)
	if back {
		p.hatch(look.hatch, box)
	}
	p.rect(nil, k.outline(), box)
}

// hatch fills the box with slanting lines.
func (p *pen) hatch(c color.NRGBA, box rect) {
	const apart = 3.5
	high := box.y1 - box.y0
	for x := box.x0 - high + apart/2; x < box.x1; x += apart {
		if line, ok := (segment{xy{x, box.y0}, xy{x + high, box.y1}}).clip(box); ok {
			p.line(stroke{width: 0.8, color: c}, line.a, line.b)
		}
	}
}
