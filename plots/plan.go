package plots

import (
	"math"
	"slices"
)

// PlanData is the shop in space: ducts, tools, collector.
type PlanData struct {
	Title string // "" prints "Plan of the shop", "The shop in isometric view"
	Unit  string // of the coordinates, for example "m"
	Runs  []PlanRun
	Tools []PlanMark
	// Collector is drawn as a box with its name in bold.
	Collector PlanMark
	// Others are collectors at other places, drawn the same way.
	Others []PlanMark
	Bleeds []PlanMark   // inlets that let in air without dust
	Joints [][3]float64 // places where runs meet
	Ways   []PlanWay    // ways along which new duct may run
	// Undrawn names runs of which no place is known; a line at the foot says so.
	Undrawn []string
}

// PlanWay is a way for new duct, or, with Old, a duct that is left out.
type PlanWay struct {
	Name string       // must not be empty; stands beside the way
	Path [][3]float64 // at least two places
	Old  bool
	// Later is duct that comes later, with its tool.
	Later bool
}

// PlanRun is one duct.
type PlanRun struct {
	Name string       // must not be empty
	Path [][3]float64 // at least two places: x, y in plan, z up
	// Diameter, in any one unit and not below zero, sets the width of the line.
	Diameter float64
	Hose     bool // dashed
	Changed  bool // dark and on top, else grey
	// Label stands beside the run, for example "125 → 160 mm"; "" for none.
	Label string
	// Size stands beside a run without Label, in grey, where there is room.
	Size string
}

// PlanMark is a named place.
type PlanMark struct {
	Name string // must not be empty
	At   [3]float64
}

// view is a way to look at the shop.
type view struct {
	picture string
	title   string
	project func([3]float64) xy // to the page, lengths kept along the axes
	// near is the greater, the nearer a place is to the eye, of places that
	// stand one before the other.
	near func([3]float64) float64
	axes []string // names of the directions that are seen
}

// PlanView draws the shop from above, x to the right and y up the page.
// Changed ducts are dark, kept ones grey, hose is dashed, and lines are as wide as
// the ducts, in proportion; where two cross without meeting, the farther one has
// a gap; ways without duct are thin dashed lines with their name. It fails
// on empty or not finite data, a run or way of less than two places, a diameter
// below zero, and a run, a way or a mark without a name.
func PlanView(d PlanData) (*Figure, error) {
	return d.look(fromAbove("PlanView", "Plan of the shop"))
}

// fromAbove is the view of a plan.
func fromAbove(picture, title string) view {
	return view{picture, title, func(p [3]float64) xy { return xy{p[0], p[1]} },
		func(p [3]float64) float64 { return p[2] }, []string{"x", "y"}}
}

// Isometric draws the shop in isometric view: x to the right below, y to the
// right above, both 30° off the level, z up, all to one scale. It fails as
// [PlanView] does.
func Isometric(d PlanData) (*Figure, error) {
	return d.look(isometric())
}

// isometric is the view of that name.
func isometric() view {
	c, s := math.Cos(math.Pi/6), math.Sin(math.Pi/6)
	return view{"Isometric", "The shop in isometric view",
		func(p [3]float64) xy { return xy{(p[0] + p[1]) * c, (p[1]-p[0])*s + p[2]} },
		func(p [3]float64) float64 { return p[0] - p[1] + p[2] }, []string{"x", "y", "z"}}
}

func (d PlanData) check(picture string) error {
	c := &check{picture: picture}
	c.some(len(d.Runs), "Runs")
	for i, r := range d.Runs {
		c.path("run", r.Name, r.Path, "Runs[%d]", i)
		c.least(r.Diameter, "Runs[%d].Diameter", i)
	}
	for i, w := range d.Ways {
		c.path("way", w.Name, w.Path, "Ways[%d]", i)
	}
	c.mark(d.Collector, "Collector")
	for i, m := range d.Others {
		c.mark(m, "Others[%d]", i)
	}
	for i, m := range d.Tools {
		c.mark(m, "Tools[%d]", i)
	}
	for i, m := range d.Bleeds {
		c.mark(m, "Bleeds[%d]", i)
	}
	for i, p := range d.Joints {
		c.place(p, "Joints[%d]", i)
	}
	return c.err()
}

// path records the faults of a run or way.
func (c *check) path(what, name string, places [][3]float64, field string, i int) {
	if name == "" {
		c.add(ErrEmpty, "no name", field+".Name", i)
	}
	if len(places) < 2 {
		c.add(ErrEmpty, "a "+what+" needs two places", field+".Path", i)
	}
	for k, p := range places {
		c.place(p, field+".Path[%d]", i, k)
	}
}

// place records a fault for each coordinate that cannot be drawn.
func (c *check) place(p [3]float64, field string, args ...any) {
	for k, v := range p {
		c.finite(v, field+"[%d]", append(slices.Clone(args), k)...)
	}
}

// mark records the faults of a named place.
func (c *check) mark(m PlanMark, field string, args ...any) {
	if m.Name == "" {
		c.add(ErrEmpty, "no name", field+".Name", args...)
	}
	c.place(m.At, field+".At", args...)
}

// places lists everything that the page must show.
func (d PlanData) places() [][3]float64 {
	out := slices.Clone(d.Joints)
	for _, r := range d.Runs {
		out = append(out, r.Path...)
	}
	for _, w := range d.Ways {
		out = append(out, w.Path...)
	}
	for _, m := range slices.Concat([]PlanMark{d.Collector}, d.Others, d.Tools, d.Bleeds) {
		out = append(out, m.At)
	}
	return out
}
