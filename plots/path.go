package plots

import (
	"image/color"
	"math"
)

// PathData is where the pressure goes between a tool and the fan.
type PathData struct {
	Title string // "" prints "Pressure along the path"
	Unit  string // of the pressure, for example "Pa"
	// Steps run from the tool to the fan.
	Steps []PathStep
	// Available is the pressure that the fan offers at this flow, in the
	// positive sense; 0 draws no line.
	Available float64
}

// PathStep is one part of the path.
type PathStep struct {
	Name string // must not be empty
	Loss float64
	Kind PathKind
}

// PathKind is what spends the pressure.
type PathKind int

// The kinds of step, each with its own filling.
const (
	PathRun      PathKind = iota // pipe and hose
	PathEntry                    // tool, port and gate
	PathJunction                 // wye, tee, change of size
	PathFilter                   // separator and filter
)

// String returns the word of the legend.
func (k PathKind) String() string {
	switch k {
	case PathRun:
		return "pipe and hose"
	case PathEntry:
		return "tool and gate"
	case PathJunction:
		return "junction"
	case PathFilter:
		return "separator and filter"
	}
	return "unknown"
}

func (k PathKind) fill() color.NRGBA { return [...]color.NRGBA{navy, slate, white, sand}[k] }

// PressurePath draws one bar per step, from the pressure spent before it to the
// pressure spent behind it, in total pressure below the room. A junction may
// give pressure back (a Loss below zero); its bar then runs to the left and
// says "regain". Each bar prints its own loss; the last row is the sum. It
// fails on empty or not finite data, a step without a name and an unknown kind.
func PressurePath(d PathData) (*Figure, error) {
	if d.Title == "" {
		d.Title = "Pressure along the path"
	}
	if err := d.check(); err != nil {
		return nil, err
	}
	legend := d.legend()
	head := 24 + 12*float64(legendRows(legend, pageWidth-2*edge))
	rows := rowHeight * float64(len(d.Steps)+1)
	p := &pen{w: pageWidth, h: 2*edge + head + rows + axisRoom}
	top := p.head(d.Title, legend)
	names := make([]string, len(d.Steps))
	for i, s := range d.Steps {
		names[i] = s.Name
	}
	label := widest(smallText, 130, append(names, "together")...)
	box := rect{edge + label + 10, edge + axisRoom, p.w - edge - 14, top}
	s := p.valueAxis(box, over(named("total pressure spent below the room", d.Unit), d.reach(), true, 7))
	if d.Available > 0 {
		x := s.at(d.Available)
		p.line(limitRow, xy{x, box.y0}, xy{x, box.y1})
	}
	y, spent := top-rowHeight/2, 0.0
	for i, step := range d.Steps {
		p.text(smallText, smallText.fit(step.Name, label), xy{box.x0 - 6, y}, 1, 0.5)
		d.bar(p, s, step, spent, y)
		spent += step.Loss
		link := xy{s.at(spent), y - 5}
		if i < len(d.Steps) {
			p.line(hairline, link, link.add(xy{0, 10 - rowHeight}))
		}
		y -= rowHeight
	}
	d.sum(p, s, box.x0, spent, y)
	return p.figure(d.Title), nil
}

func (d PathData) check() error {
	c := &check{picture: "PressurePath"}
	c.some(len(d.Steps), "Steps")
	c.least(d.Available, "Available")
	for i, s := range d.Steps {
		if s.Name == "" {
			c.add(ErrEmpty, "no name", "Steps[%d].Name", i)
		}
		c.finite(s.Loss, "Steps[%d].Loss", i)
		if s.Kind < PathRun || s.Kind > PathFilter {
			c.add(ErrValue, "unknown", "Steps[%d].Kind", i)
		}
	}
	return c.err()
}

// grain is the step to which all numbers of the picture are printed, so that
// they can be added up: that of the largest loss.
func (d PathData) grain() float64 {
	losses := make([]float64, len(d.Steps))
	for i, s := range d.Steps {
		losses[i] = s.Loss
	}
	return grain(largest(losses))
}

// reach returns the pressures that the axis must cover, with room for the
// printed numbers behind the longest bar.
func (d PathData) reach() []float64 {
	out, spent, most := []float64{0, d.Available}, 0.0, d.Available
	for _, s := range d.Steps {
		spent += s.Loss
		most = math.Max(most, spent)
		out = append(out, spent)
	}
	return append(out, 1.12*most)
}

func (d PathData) legend() []entry {
	var out []entry
	for _, k := range []PathKind{PathEntry, PathRun, PathJunction, PathFilter} {
		for _, s := range d.Steps {
			if s.Kind == k {
				out = append(out, boxEntry(k.fill(), stroke{width: 0.8, color: ink}, k.String()))
				break
			}
		}
	}
	if d.Available > 0 {
		out = append(out, lineEntry(limitRow, "fan offers "+withUnit(number(d.Available, d.grain()), d.Unit)))
	}
	return out
}

// bar draws one step and prints its loss behind it.
func (d PathData) bar(p *pen, s scale, step PathStep, spent, y float64) {
	box, fill := barBox(s, spent, spent+step.Loss, y), step.Kind.fill()
	p.rect(&fill, stroke{width: 0.8, color: ink}, box)
	text := number(step.Loss, d.grain())
	if step.Loss < 0 {
		text += " regain"
	}
	p.grounded(smallText, text, xy{box.x1 + 4, y})
}

// sum draws the last row.
func (d PathData) sum(p *pen, s scale, left, spent, y float64) {
	p.text(smallBold, "together", xy{left - 6, y}, 1, 0.5)
	box := barBox(s, 0, spent, y)
	p.rect(&mist, stroke{width: 1.2, color: ink}, box)
	p.grounded(smallBold, number(spent, d.grain()), xy{box.x1 + 4, y})
}
