package plots

import (
	"math"
	"slices"
)

// WaterfallData is where the pressure of the fan goes, fitting by fitting, on
// the way of the air from one tool to the collector and out.
type WaterfallData struct {
	Title string // "" prints "Where the pressure of the fan goes"
	Unit  string // of the pressure, for example "Pa"
	// Steps run in the order of the air. A step of kind StepTotal may only be
	// the last one; without it the sum closes the picture, as "together".
	Steps []Step
}

// Step is one part of the way. The Pressure of a StepTotal is that of the fan
// at this flow; that of any other kind is what the step takes from the stream,
// and it is below zero where the step gives pressure back.
type Step struct {
	Label    string // must not be empty
	Kind     StepKind
	Pressure float64
}

// Measures of the waterfall in points.
const (
	labelMost = 160.0 // a label that is wider runs on in the next line
	labelLine = 9.0   // from line to line of a label
	bandGap   = 5.0   // between the labels of two steps, at least
)

// LossWaterfall draws one bar per step. Each starts where the one before it
// ended, from nothing at the room to the pressure of the fan, which is the last
// bar. A step that gives pressure back is hatched, runs to the left and says
// "regain". Each bar prints its own pressure, and the legend the sum of each
// kind; a swatch beside the label shows the kind of a bar that is too thin to.
// Long labels run on in further lines, and the page grows with the steps.
// It fails on empty or not finite data, a step without a label, an unknown
// kind, a total that is not the last step, and a total that misses the sum of
// the steps by more than the rounding of the printed numbers.
func LossWaterfall(d WaterfallData) (*Figure, error) {
	if d.Title == "" {
		d.Title = "Where the pressure of the fan goes"
	}
	if err := d.check(); err != nil {
		return nil, err
	}
	if d.Steps[len(d.Steps)-1].Kind != StepTotal {
		d.Steps = append(slices.Clip(d.Steps), Step{"together", StepTotal, d.sum()})
	}
	falls, legend := d.falls(), d.legend()
	height, label := 0.0, 0.0
	for _, f := range falls {
		height += f.height()
		label = math.Max(label, widest(f.face, labelMost, f.label...))
	}
	head := 24 + 12*float64(legendRows(legend, pageWidth-2*edge))
	p := &pen{w: pageWidth, h: 2*edge + head + height + axisRoom}
	top := p.head(d.Title, legend)
	box := rect{edge + label + swatchRoom, edge + axisRoom, p.w - edge - 14, top}
	s := p.valueAxis(box, over(named("fan pressure spent", d.Unit), reach(falls, box.x1-box.x0), true, 10))
	if s.lo < 0 {
		p.line(axisLine, xy{s.at(0), box.y0}, xy{s.at(0), top})
	}
	p.falls(s, falls, top)
	return p.figure(d.Title), nil
}

func (d WaterfallData) check() error {
	c := &check{picture: "LossWaterfall"}
	c.some(len(d.Steps), "Steps")
	last := len(d.Steps) - 1
	for i, s := range d.Steps {
		if s.Label == "" {
			c.add(ErrEmpty, "no label", "Steps[%d].Label", i)
		}
		c.finite(s.Pressure, "Steps[%d].Pressure", i)
		switch {
		case s.Kind < 0 || s.Kind >= stepKinds:
			c.add(ErrValue, "unknown", "Steps[%d].Kind", i)
		case s.Kind == StepTotal && i < last:
			c.add(ErrValue, "the total is not the last step", "Steps[%d].Kind", i)
		case s.Kind == StepTotal && i == 0:
			c.add(ErrEmpty, "a total of no steps", "Steps")
		}
	}
	if len(c.faults) == 0 && d.Steps[last].Kind == StepTotal {
		total := d.Steps[last].Pressure
		if off := math.Abs(total - d.sum()); off > d.grain()/2*float64(last+1) {
			c.add(ErrValue, "the steps add up to "+number(d.sum(), d.grain())+", not to the total of "+number(total, d.grain()), "Steps[%d].Pressure", last)
		}
	}
	return c.err()
}

// losses returns the pressures of the steps of any kind but the total.
func (d WaterfallData) losses() []float64 {
	var out []float64
	for _, s := range d.Steps {
		if s.Kind != StepTotal {
			out = append(out, s.Pressure)
		}
	}
	return out
}

func (d WaterfallData) sum() float64 {
	sum := 0.0
	for _, v := range d.losses() {
		sum += v
	}
	return sum
}

// grain is the step to which all numbers of the picture are printed.
func (d WaterfallData) grain() float64 { return grain(largest(d.losses())) }

// legend shows the kinds in use, in the order of their declaration, each with
// the sum of its steps.
func (d WaterfallData) legend() []entry {
	var out []entry
	var sum [stepKinds]float64
	var used [stepKinds]bool
	regain := false
	for _, s := range d.Steps {
		sum[s.Kind] += s.Pressure
		used[s.Kind] = true
		regain = regain || s.Kind != StepTotal && s.Pressure < 0
	}
	for k := range stepKinds {
		if used[k] {
			out = append(out, boxEntry(k.look().fill, k.outline(), k.String()+" "+withUnit(number(sum[k], d.grain()), d.Unit)))
		}
	}
	if regain {
		out = append(out, entry{12, func(p *pen, at xy) {
			p.filled(StepWye, true, rect{at.X - 6, at.Y - 3.5, at.X + 6, at.Y + 3.5})
		}, "hatched: regain"})
	}
	return out
}
