package parts

import (
	"math"

	"wyewright/network/catalog"
	"wyewright/network/units"
	"wyewright/optimize/price"
)

// Options are the rules of thumb that a bill rests on. A field of zero takes
// its default.
type Options struct {
	// Waste is the share of pipe bought on top for offcuts; default 0.07
	// (common practice). Negative means none.
	Waste float64
	// Crew is who works; the default is Amateur.
	Crew price.Crew
	// Rate is the price of an hour; default 0, one's own time.
	Rate price.Money
	// HeightLimit is the height above which work takes HeightFactor times
	// as long; defaults 3.5 m and 1.3 (common practice).
	HeightLimit  units.Length
	HeightFactor float64
	// HangerSpacing is the distance between hangers on straight pipe; default
	// 2.5 m (common practice), besides one near each elbow and branch.
	HangerSpacing units.Length
	// ScrewsPerJoint in rigid duct; default 3 (common practice).
	ScrewsPerJoint int
	// Kerf is the width that the saw takes at each cut of a stick; default 3 mm
	// (common practice). Negative means none.
	Kerf units.Length
	// Freight is added to the shelf total as a line of its own; default 0.
	Freight price.Money
	// Height of points above the floor, for the work at joints; a point that
	// is missing counts as below the limit.
	Height map[string]units.Length
}

// SetKerf sets the kerf to a width, which may be 0; a negative width is the
// default.
func (o *Options) SetKerf(width units.Length) {
	switch {
	case width < 0:
		o.Kerf = 0
	case width == 0:
		o.Kerf = -1
	default:
		o.Kerf = width
	}
}

// Builder makes lines from changes. New fills it.
type Builder struct {
	Catalog *catalog.Catalog
	Book    *price.Book
	Options Options

	o     Options // with defaults
	norms price.Norms
}

// New returns a Builder. The error is that of an embedded table.
func New(c *catalog.Catalog, b *price.Book, o Options) (*Builder, error) {
	norms, err := price.BuiltinNorms()
	if err != nil {
		return nil, err
	}
	return &Builder{Catalog: c, Book: b, Options: o, o: o.filled(), norms: norms}, nil
}

// filled puts defaults where a field is zero.
func (o Options) filled() Options {
	def := func(x *float64, v float64) {
		if *x == 0 {
			*x = v
		}
	}
	def(&o.Waste, 0.07)
	o.Waste = max(o.Waste, 0)
	def((*float64)(&o.HeightLimit), 3.5)
	def(&o.HeightFactor, 1.3)
	def((*float64)(&o.HangerSpacing), 2.5)
	def((*float64)(&o.Kerf), 0.003)
	o.Kerf = max(o.Kerf, 0)
	if o.ScrewsPerJoint == 0 {
		o.ScrewsPerJoint = 3
	}
	return o
}

// list gathers lines for one place.
type list struct {
	b     *Builder
	lines []Line
	where string
	point bool      // where is a point
	runs  [2]string // as in Line
	high  float64   // factor on hours
}

func (b *Builder) list(where string, height units.Length, room int) list {
	l := list{b: b, where: where, high: 1, lines: make([]Line, 0, room)}
	if height > b.o.HeightLimit {
		l.high = b.o.HeightFactor
	}
	return l
}

// at is a list for a point.
func (b *Builder) at(point string, room int) list {
	l := b.list(point, b.o.Height[point], room)
	l.point = true
	return l
}

// add adds a line of this place.
func (l *list) add(line Line) {
	line.Where, line.Point, line.Runs = l.where, l.point, l.runs
	l.lines = append(l.lines, line)
}

// buy adds a part.
func (l *list) buy(k price.Kind, family string, qty float64, sizes ...string) {
	if qty <= 0 {
		return
	}
	i := price.Item{Kind: k, Family: family}
	copy(i.Sizes[:], sizes)
	l.add(Line{Item: i, Qty: qty, Unit: k.Unit()})
}

// work adds n units of a task on duct of diameter d.
func (l *list) work(t price.Task, n float64, unit string, d units.Length) {
	if n <= 0 {
		return
	}
	l.add(Line{Item: price.Work(t), Qty: n, Unit: unit, Action: Work, Hours: n * l.b.norms.Hours(t, d, l.b.o.Crew) * l.high})
}

// joints adds what n joints of rigid duct of diameter d take: a seam of
// sealant round the duct, screws, and the time.
func (l *list) joints(n int, d units.Length) {
	l.buy(price.Sealant, "", float64(n)*math.Pi*float64(d))
	l.buy(price.Screws, "", float64(n*l.b.o.ScrewsPerJoint))
	l.work(price.Join, float64(n), "joint", d)
}

// hoseEnds adds what makes a hose hold and drain its charge: a clamp at each
// end and a bond of its wire.
func (l *list) hoseEnds(size string) {
	l.buy(price.HoseClamp, "", 2, size)
	l.buy(price.Bonding, "", 1)
}

// elbows buys the elbows for a bend and returns how many: none up to 5° (a
// joint gives that much), else the next standard one of 45° or 90°, and two
// beyond 90°, with those 5° to spare (common practice).
func (l *list) elbows(degrees float64, family, size string, long bool) int {
	quarter, eighth := price.Elbow90, price.Elbow45
	if long {
		quarter, eighth = price.LongElbow90, price.LongElbow45
	}
	n := 0
	for ; degrees > bendGrain; n++ {
		if degrees <= 45+bendGrain {
			l.buy(eighth, family, 1, size)
		} else {
			l.buy(quarter, family, 1, size)
		}
		degrees -= 90
	}
	return n
}

// bendGrain is the bend that joints take up without an elbow, degrees
// (common practice; the network's own border of straight).
const bendGrain = 5
