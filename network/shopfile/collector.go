package shopfile

import (
	"slices"
	"strings"

	"wyewright/network"
	"wyewright/network/fan"
	"wyewright/network/units"
)

// curveDensity is that of a fan curve which does not state one: the usual
// reference of fan makers (common practice).
const curveDensity units.Density = 1.2

var collectorKeys = []string{"name", "at", "inlet", "fan", "separator", "filter", "motor", "discharge", "price", "speeds"}

// collectors reads the section of that name, for each collector:
//
//	at         its point, the root of the tree; the same for all
//	inlet      diameter of its inlet
//	fan        see fan
//	separator  {heads, inlet area}: loss in velocity pressures of its inlet
//	filter     "250 Pa at 2500 m3/h", or {clean: …, loaded: …, renew: …}
//	motor      {rating, efficiency, points: [{flow, power}]}
//	discharge  pieces behind the fan, up to the open air
//	price      what it would cost put in place
//	speeds     [{speed, price}], see speeds
//
// The first collector is in place unless a state or reading names another.
func (d *decoder) collectors(n *node) {
	for _, m := range d.members(n, isCollector) {
		d.define(isCollector, m.name)
		f := d.fields(m.value, collectorKeys...)
		if f == nil {
			continue
		}
		c := network.Collector{ID: m.name.text}
		if at := f.need("at", "name the point it stands at"); at != nil {
			c.At = d.point(at)
			d.rootNodes = append(d.rootNodes, at)
		}
		if n := f.need("inlet", "the diameter of its inlet: inlet: 200 mm"); n != nil {
			c.InletSize = n.text
			c.Inlet, _ = d.length(n, positive)
		}
		includes := d.fan(f.need("fan", "give the curve: fan: {pressure: fan static, curve: [{flow: …, pressure: …}, …]}"), &c)
		d.separator(f.at("separator"), &c, includes)
		d.filter(f.at("filter"), &c)
		c.CleanIncluded = slices.Contains(includes, "clean filter")
		d.motor(f.at("motor"), &c)
		for _, item := range d.items(f.at("discharge")) {
			if p, ok := d.piece(item); ok {
				c.Discharge = append(c.Discharge, p)
			}
		}
		d.speeds(f.at("speeds"), c.ID)
		if n := f.at("price"); n != nil {
			d.file.CollectorPrices = append(d.file.CollectorPrices, CollectorPrice{c.ID, d.amount(n)})
		}
		d.file.Spec.Collectors = append(d.file.Spec.Collectors, c)
	}
}

// fan reads the fan and returns what its curve includes:
//
//	pressure     what the curve's pressure is: "suction at inlet" (read at the
//	             wall of the inlet duct), "fan static" or "fan total"
//	includes     [separator, clean filter]: what was in place when the curve
//	             was taken, and is not subtracted again
//	curve        points {flow, pressure, power}, by increasing flow
//	quadratic    {shutoff, free air}, instead of a curve
//	flow         a fixed flow, instead of a curve
//	density      at which the curve holds; default 1.2 kg/m³
//	curve speed  and speed: the curve is carried from the first to the second
func (d *decoder) fan(n *node, c *network.Collector) []string {
	f := d.fields(n, "pressure", "includes", "curve", "quadratic", "flow", "density", "curve speed", "speed")
	if f == nil {
		return nil
	}
	if f.at("flow") != nil {
		if v, ok := quantity(d, f.at("flow"), units.ParseFlow, positive); ok {
			c.Curve = fan.Fixed{Flow: v}
		}
		return nil
	}
	meanings := []string{"suction at inlet", "fan static", "fan total"}
	hint := "suction at inlet (read at the wall of the inlet), or fan static"
	if w, ok := d.word(f.need("pressure", hint), meanings...); ok {
		c.Meaning = network.CurveMeaning(slices.Index(meanings, w))
	}
	var includes []string
	for _, item := range d.items(f.at("includes")) {
		if w, ok := d.word(item, "separator", "clean filter"); ok {
			includes = append(includes, w)
		}
	}
	if q := f.at("quadratic"); q != nil {
		qf := d.fields(q, "shutoff", "free air")
		p, ok1 := quantity(d, qf.need("shutoff", "the pressure at no flow"), units.ParsePressure, positive)
		v, ok2 := quantity(d, qf.need("free air", "the flow at no pressure"), units.ParseFlow, positive)
		if ok1 && ok2 {
			c.Curve = fan.Quadratic{Shutoff: p, FreeAir: v}
		}
		return includes
	}
	curve := f.need("curve", "points of flow and pressure: curve: [{flow: 0 m3/h, pressure: 2700 Pa}, …]")
	pts, ok := d.curvePoints(curve)
	if ok {
		pts = d.scaleCurve(f, pts)
		d.curve(curve, pts, c)
	}
	return includes
}

// curvePoints reads the points of a fan curve.
func (d *decoder) curvePoints(n *node) ([]fan.Point, bool) {
	if n == nil {
		return nil, false
	}
	items, good := d.items(n), true
	var pts []fan.Point
	for i, item := range items {
		f := d.fields(item, "flow", "pressure", "power")
		q, ok1 := quantity(d, f.need("flow", ""), units.ParseFlow, notNegative)
		p, ok2 := quantity(d, f.need("pressure", ""), units.ParsePressure, notNegative)
		w, _ := quantity(d, f.at("power"), units.ParsePower, notNegative)
		if !ok1 || !ok2 {
			good = false
			continue
		}
		if good && i > 0 && q <= pts[i-1].Flow {
			d.fault(f.at("flow"), "list the points by increasing flow", "flow %q: not above that of the point before", f.at("flow").text)
			good = false
		}
		pts = append(pts, fan.Point{Flow: q, Pressure: p, Power: w})
	}
	if len(items) < 2 && n.kind == sequence {
		d.fault(n, "", "a fan curve needs at least two points")
		return nil, false
	}
	return pts, good && len(pts) >= 2
}

// scaleCurve carries the points to the shop's air and the fan's speed.
func (d *decoder) scaleCurve(f *fields, pts []fan.Point) []fan.Point {
	rho := curveDensity
	if v, ok := quantity(d, f.at("density"), units.ParseDensity, positive); ok {
		rho = v
	}
	n0, n1 := units.Speed(0), units.Speed(0)
	from, to := f.at("curve speed"), f.at("speed")
	switch {
	case from != nil && to != nil:
		v0, ok0 := quantity(d, from, units.ParseSpeed, positive)
		v1, ok1 := quantity(d, to, units.ParseSpeed, positive)
		if ok0 && ok1 {
			n0, n1 = v0, v1
		}
	case to != nil:
		d.fault(to, "add curve speed: the speed the curve holds for", "the fan's speed is given, but not that of its curve")
	}
	if d.file.Spec.Air.Density <= 0 {
		return pts
	}
	return fan.Scale(pts, rho, d.file.Spec.Air.Density, n0, n1)
}

// curve makes the fan curve and reports what is wrong with its shape.
func (d *decoder) curve(n *node, pts []fan.Point, c *network.Collector) {
	last := len(pts) - 1
	if pts[last].Pressure >= pts[last-1].Pressure {
		d.fault(n.items[last], "add the points behind the top, where the pressure falls",
			"the fan curve still rises at its last point")
		return
	}
	t, err := fan.NewTable(pts)
	if err != nil {
		d.fault(n, "", "%v", err)
		return
	}
	for i := 1; i < last; i++ {
		if pts[i].Pressure > pts[i-1].Pressure {
			d.warn(n.items[i], "on the rising side the flow can jump; the highest flow is used",
				"the fan curve has a hump: the pressure rises up to this point")
			break
		}
	}
	c.Curve = t
	for _, p := range pts {
		if p.Power > 0 {
			if c.Motor == nil {
				c.Motor = &fan.Motor{}
			}
			c.Motor.Points = append(c.Motor.Points, p)
		}
	}
}

func (d *decoder) separator(n *node, c *network.Collector, includes []string) {
	if n == nil {
		return
	}
	f := d.fields(n, "heads", "inlet area")
	h, ok1 := d.number(f.need("heads", "velocity heads of its inlet: about 6 to 8 for a cyclone"), 0)
	a, ok2 := quantity(d, f.need("inlet area", "the area of its inlet: inlet area: 300 cm2"), units.ParseArea, positive)
	if slices.Contains(includes, "separator") {
		d.warn(n, "", "the separator is not subtracted, since the fan curve includes it")
		return
	}
	if ok1 && ok2 {
		c.Separator = &fan.Separator{Heads: h, Inlet: a}
	}
}

// filter reads one loss for any state, or a clean and a loaded one, and what a
// renewed one costs, see renew.
func (d *decoder) filter(n *node, c *network.Collector) {
	if n == nil {
		return
	}
	if n.kind == scalar {
		k, _ := d.pressureAt(n)
		c.Filter = fan.Filter{Clean: k, Loaded: k}
		return
	}
	f := d.fields(n, "clean", "loaded", "renew")
	if f == nil {
		return
	}
	clean, ok1 := d.pressureAt(f.at("clean"))
	loaded, ok2 := d.pressureAt(f.at("loaded"))
	switch {
	case !ok1 && !ok2:
		d.renew(f.at("renew"), c)
		return
	case !ok2:
		loaded = clean
		if !f.given["loaded"] {
			d.warn(n, "", "no loaded filter given: flow is checked with the clean one")
		}
	case !ok1:
		clean = loaded
		if !f.given["clean"] {
			d.warn(n, "", "no clean filter given: motor and ceiling are checked with the loaded one")
		}
	case loaded < clean:
		d.warn(f.at("loaded"), "", "the loaded filter loses less than the clean one")
	}
	c.Filter = fan.Filter{Clean: clean, Loaded: loaded}
	d.renew(f.at("renew"), c)
}

// pressureAt reads "250 Pa at 2500 m3/h" as a coefficient in Pa per m³/s.
func (d *decoder) pressureAt(n *node) (float64, bool) {
	s, ok := d.text(n)
	if !ok {
		return 0, false
	}
	p, q, found := strings.Cut(s, " at ")
	if !found {
		d.fault(n, `write it like "250 Pa at 2500 m3/h"`, "%s %q: a loss needs the flow it was read at", n.label, s)
		return 0, false
	}
	at := *n
	at.text = p
	pressure, ok1 := quantity(d, &at, units.ParsePressure, notNegative)
	at.text = q
	flow, ok2 := quantity(d, &at, units.ParseFlow, positive)
	if !ok1 || !ok2 {
		return 0, false
	}
	return fan.FilterAt(pressure, flow), true
}

func (d *decoder) motor(n *node, c *network.Collector) {
	if n == nil {
		return
	}
	f := d.fields(n, "rating", "efficiency", "points")
	if f == nil {
		return
	}
	m := fan.Motor{}
	if c.Motor != nil {
		m = *c.Motor
	}
	m.Rating, _ = quantity(d, f.need("rating", "what its plate says: rating: 4 kW"), units.ParsePower, positive)
	if e := f.at("efficiency"); e != nil {
		v, ok := d.percent(e)
		if ok && (v == 0 || v > 1) {
			d.fault(e, "fan and drive together reach 40 to 75 %", "efficiency %q: must be above 0 and at most 100 %%", e.text)
		}
		m.Efficiency = units.Ratio(v)
	}
	for _, item := range d.items(f.at("points")) {
		pf := d.fields(item, "flow", "power")
		q, ok1 := quantity(d, pf.need("flow", ""), units.ParseFlow, notNegative)
		w, ok2 := quantity(d, pf.need("power", ""), units.ParsePower, positive)
		if ok1 && ok2 {
			m.Points = append(m.Points, fan.Point{Flow: q, Power: w})
		}
	}
	slices.SortStableFunc(m.Points, func(a, b fan.Point) int {
		switch {
		case a.Flow < b.Flow:
			return -1
		case a.Flow > b.Flow:
			return 1
		}
		return 0
	})
	c.Motor = &m
}
