package plots

import (
	"fmt"
	"math"
)

// CompareData are options for a shop side by side.
type CompareData struct {
	// Title of the picture; empty for "Options side by side".
	Title string
	// Tools are the rows.
	Tools   []string
	Options []CompareOption
}

// CompareOption is one option: a panel of the picture.
type CompareOption struct {
	// Name, verdict and cost stand above the panel; Meets says that the verdict is
	// a good one.
	Name, Verdict, Cost string
	Meets               bool
	// Shares are the least shares of flow of the tools over the states.
	Shares []CompareShare
	// Slowest is that of the slowest dust run, Run its name.
	Slowest CompareShare
	Run     string
	// Note names what else is missed, such as air above the ceiling; usually "".
	Note string
}

// CompareShare is what is there of what is asked, in per cent.
type CompareShare struct {
	Percent float64
	// None says that nothing is asked.
	None bool
}

// meets reports whether the share is all of it.
func (s CompareShare) meets() bool { return s.None || s.Percent >= 100*(1-1e-6) }

// text prints the share; one that misses never reads 100.
func (s CompareShare) text() string {
	switch {
	case s.None:
		return "–"
	case !s.meets() && s.Percent >= 99:
		return number(math.Floor(10*s.Percent)/10, 0.1)
	}
	return number(s.Percent, 1)
}

// Measures of the comparison in points.
const (
	compareMost  = 6    // panels side by side
	compareHead  = 23.0 // verdict and cost above a panel
	compareName  = 10.0 // a line of its name
	compareWord  = 24.0 // numbers beside the marks
	compareGap   = 8.0  // between panels and bands
	compareUnder = 13.0 // the name of the slowest run
	compareFoot  = 18.0 // numbers beneath the axis
	compareCap   = 160  // per cent at which an axis ends
)

// slowestRow is the name of the last row.
const slowestRow = "slowest dust run"

// CompareChart draws options side by side: for each a panel with the least share of flow of
// every tool against the whole that was set, and below it the slowest dust run
// against its transport velocity. More than six go into several bands.
func CompareChart(d CompareData) (*Figure, error) {
	if err := d.check(); err != nil {
		return nil, err
	}
	if d.Title == "" {
		d.Title = "Options side by side"
	}
	bands := (len(d.Options) + compareMost - 1) / compareMost
	per := (len(d.Options) + bands - 1) / bands
	rows := rowHeight * float64(len(d.Tools)+1)
	left, wide := d.columns(per)
	high := d.head(wide) + rows + d.under() + compareFoot + compareGap
	legend := d.legend()
	top := edge + sizeTitle + 9 + 12*float64(legendRows(legend, pageWidth-2*edge))
	p := &pen{w: pageWidth, h: top + high*float64(bands) - compareGap}
	y := p.head(d.Title, legend)
	for i := 0; i < len(d.Options); i += per {
		d.band(p, d.Options[i:min(i+per, len(d.Options))], left, wide, y)
		y -= high
	}
	return p.figure(d.Title), nil
}

func (d CompareData) check() error {
	c := &check{picture: "CompareChart"}
	c.some(len(d.Tools), "Tools")
	c.some(len(d.Options), "Options")
	for i, o := range d.Options {
		if len(o.Shares) != len(d.Tools) {
			c.add(ErrValue, fmt.Sprintf("%d shares for %d tools", len(o.Shares), len(d.Tools)), "Options[%d].Shares", i)
		}
		for k, s := range o.Shares {
			c.least(s.Percent, "Options[%d].Shares[%d].Percent", i, k)
		}
		c.least(o.Slowest.Percent, "Options[%d].Slowest.Percent", i)
	}
	return c.err()
}

func (d CompareData) legend() []entry {
	return []entry{
		markEntry(disc, navy, "tool, least of all states"), markEntry(square, rust, "tool that is short"),
		markEntry(openTriangle, navy, slowestRow), markEntry(triangle, rust, "too slow: dust may settle"),
		lineEntry(limitRow, "what you set"),
	}
}

// axis is that of all panels.
func (d CompareData) axis() axis {
	least, most := 100.0, 110.0
	for _, o := range d.Options {
		for _, s := range append(o.Shares[:len(o.Shares):len(o.Shares)], o.Slowest) {
			if !s.None {
				least, most = math.Min(least, s.Percent), math.Max(most, s.Percent)
			}
		}
	}
	return axis{lo: math.Max(0, 25*math.Floor((least-10)/25)), hi: math.Min(compareCap, 5*math.Ceil((most+2)/5)), step: 50}
}
