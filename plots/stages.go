package plots

import (
	"cmp"
	"math"
	"slices"
)

// StageData is the flow of every tool over the stages of a plan.
type StageData struct {
	Title string // "" prints "Flow at the tools, stage by stage"
	// Stages are what comes one after the other, the shop as found first; at
	// least two.
	Stages []StageStep
	Tools  []StageTool // at least one
}

// StageStep is one stage: its name and, beneath it, what it costs.
type StageStep struct {
	Name string // must not be empty
	Note string
}

// StageTool is the flow of a tool in each stage, percent of what it needs, in
// the state in which it is served worst.
type StageTool struct {
	Name   string // must not be empty
	Shares []float64
}

// Measures of the picture in points.
const (
	tailPitch = 9.5   // between the labels at the ends of the lines
	tailLead  = 16.0  // from the ends of the lines to their labels
	tailMost  = 130.0 // a label that is wider is cut
	footRoom  = 30.0  // for the names of the stages
	shareMost = 200.0 // shares above are drawn at the rim, their number tells
)

// StageFlows draws one line per tool over the stages: dark where the tool falls
// short at some time, thin and grey where it never does. A filled mark meets,
// an open one falls short, one that points up is above the picture. The names stand at the ends of the lines, with the
// last share. It fails on empty or not finite data and on a tool with another
// number of shares than there are stages.
func StageFlows(d StageData) (*Figure, error) {
	if d.Title == "" {
		d.Title = "Flow at the tools, stage by stage"
	}
	if err := d.check(); err != nil {
		return nil, err
	}
	p := &pen{w: pageWidth, h: math.Max(0.8*pageHeight, tailPitch*float64(len(d.Tools))+90)}
	top := p.head(d.Title, []entry{markEntry(disc, navy, "meets"), markEntry(ring, rust, "falls short"),
		lineEntry(mainLine, "short at some time"), lineEntry(stroke{width: 0.9, color: slate}, "never short")})
	values := []float64{100}
	wide := 0.0
	for _, t := range d.Tools {
		for _, s := range t.Shares {
			values = append(values, math.Min(s, shareMost))
		}
		wide = math.Max(wide, widest(smallBold, tailMost, d.label(t)))
	}
	low, high := slices.Min(values), slices.Max(values)
	values = append(values, high+0.04*(high-low), math.Max(0, low-0.04*(high-low)))
	f := p.stageFrame(rect{edge, edge, p.w - edge - wide - tailLead - 4, top}, over("flow, % of what the tool needs, in its worst state", values, false, 7), d.Stages)
	if slices.ContainsFunc(d.Tools, func(t StageTool) bool { return slices.Max(t.Shares) > shareMost }) {
		p.text(quietText, "an upward mark: above "+number(shareMost, 1)+" %", xy{f.box.x1, f.box.y1 + 4}, 1, 0)
	}
	need := f.y.at(100)
	p.line(limitRow, xy{f.box.x0, need}, xy{f.box.x1, need})
	d.draw(p, f)
	return p.figure(d.Title), nil
}

func (d StageData) check() error {
	c := &check{picture: "StageFlows"}
	if len(d.Stages) < 2 {
		c.add(ErrEmpty, "fewer than two stages", "Stages")
	}
	c.some(len(d.Tools), "Tools")
	for i, s := range d.Stages {
		if s.Name == "" {
			c.add(ErrEmpty, "no name", "Stages[%d].Name", i)
		}
	}
	for i, t := range d.Tools {
		if t.Name == "" {
			c.add(ErrEmpty, "no name", "Tools[%d].Name", i)
		}
		if len(t.Shares) != len(d.Stages) {
			c.add(ErrValue, "not one share for each stage", "Tools[%d].Shares", i)
		}
		for k, s := range t.Shares {
			c.least(s, "Tools[%d].Shares[%d]", i, k)
		}
	}
	return c.err()
}

// stageFrame draws the axes: stages side by side, level lines for the shares.
func (p *pen) stageFrame(outer rect, y axis, stages []StageStep) frame {
	wide := widest(smallText, pageWidth, number(y.hi, y.step), number(y.lo, y.step))
	f := frame{box: rect{outer.x0 + wide + 8, outer.y0 + footRoom, outer.x1, outer.y1 - 16}}
	f.y = scale{y.lo, y.hi, f.box.y0, f.box.y1}
	column := (f.box.x1 - f.box.x0) / float64(len(stages))
	f.x = scale{0, 1, f.box.x0 + column/2, f.box.x0 + 3*column/2}
	p.text(smallBold, y.name, xy{outer.x0, outer.y1 - 3}, 0, 1)
	for _, v := range ticks(y.lo, y.hi, y.step) {
		at := xy{f.box.x0, f.y.at(v)}
		p.line(gridLine, at, xy{f.box.x1, at.Y})
		p.text(smallText, number(v, y.step), at.add(xy{-7, 0}), 1, 0.5)
	}
	for i, s := range stages {
		x := f.x.at(float64(i))
		p.line(gridLine, xy{x, f.box.y0}, xy{x, f.box.y1})
		p.text(smallBold, smallBold.fit(s.Name, column-4), xy{x, f.box.y0 - 6}, 0.5, 1)
		p.text(quietText, quietText.fit(s.Note, column-4), xy{x, f.box.y0 - 17}, 0.5, 1)
	}
	p.line(axisLine, xy{f.box.x0, f.box.y1}, xy{f.box.x0, f.box.y0}, xy{f.box.x1, f.box.y0})
	if y.lo > 0 {
		p.axisBreak(xy{f.box.x0, f.box.y0 + 6}, xy{0, 1})
	}
	return f
}

// meetsShare is the share, in percent, from which a flow meets.
const meetsShare = 100 - 1e-4

// short reports whether a tool falls short in some stage.
func (t StageTool) short() bool { return slices.Min(t.Shares) < meetsShare }

// label names a tool with its last share.
func (d StageData) label(t StageTool) string {
	last := t.Shares[len(t.Shares)-1]
	if last < meetsShare && last >= 99 { // what falls short never reads 100
		return t.Name + " " + number(math.Floor(10*last)/10, 0.1) + " %"
	}
	return t.Name + " " + number(last, 1) + " %"
}

// draw draws the lines, those never short first, then marks and labels.
func (d StageData) draw(p *pen, f frame) {
	tools := slices.Clone(d.Tools)
	last := func(t StageTool) float64 { return math.Min(t.Shares[len(t.Shares)-1], shareMost) }
	slices.SortStableFunc(tools, func(a, b StageTool) int { return cmp.Compare(last(a), last(b)) })
	at := func(t StageTool, i int) xy { return f.at(float64(i), math.Min(t.Shares[i], shareMost)) }
	dashes := [][]float64{nil, {7, 2}, {2.5, 1.5}} // tell lines apart where they cross
	n := 0
	for _, short := range []bool{false, true} {
		for _, t := range tools {
			if t.short() != short {
				continue
			}
			line, colour, size := stroke{width: 0.9, color: slate}, slate, 2.0
			if short {
				line, colour, size = mainLine, navy, 3.2
				line.dash = dashes[n%len(dashes)]
				n++
			}
			var path []xy
			for i := range t.Shares {
				path = append(path, at(t, i))
			}
			p.line(line, path...)
			for i, s := range t.Shares {
				switch {
				case s < meetsShare:
					p.mark(ring, path[i], size, rust)
				case s > shareMost:
					p.arrow(path[i], size+1, 1, colour)
				default:
					p.mark(disc, path[i], size, colour)
				}
			}
		}
	}
	var wanted []float64
	for _, t := range tools {
		wanted = append(wanted, f.y.at(last(t)))
	}
	end := f.x.at(float64(len(d.Stages) - 1))
	x := f.box.x1 + tailLead
	for i, y := range spread(wanted, tailPitch, edge+4, f.box.y1) {
		face := smallText
		if tools[i].short() {
			face = smallBold
		}
		p.line(leader, xy{end + 5, wanted[i]}, xy{f.box.x1, wanted[i]}, xy{x - 3, y})
		p.text(face, face.fit(d.label(tools[i]), tailMost), xy{x, y}, 0, 0.5)
	}
}
