package shopfile

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"wyewright/network"
	"wyewright/network/traverse"
	"wyewright/network/units"
)

// quantityOf is the quantity that a word stands for.
func quantityOf(word string) Quantity {
	switch word {
	case "flow":
		return Flow
	case "suction", "static pressure":
		return Suction
	case "current":
		return Current
	}
	return Velocity
}

// readingValue reads the value in the unit of its quantity: one number, a bound,
// or the points of a traverse divided by semicolons, the unit behind the last.
func (d *decoder) readingValue(n *node, word string, r *Reading) {
	s, ok := d.text(n)
	if !ok {
		return
	}
	r.Text = s
	number := *n
	number.text = strings.TrimSpace(s)
	if strings.Contains(number.text, ";") {
		d.traversePoints(n, number.text, word, r)
		return
	}
	if word == "velocity pressure" && r.Method == Traverse {
		d.fault(n, "list the points: 80; 85; 91; 84 Pa", "%s %q: a mean of velocity pressures is not the velocity pressure of the mean", n.label, s)
		return
	}
	switch {
	case strings.HasPrefix(number.text, ">"):
		r.Bound, number.text = AtLeast, strings.TrimSpace(number.text[1:])
	case strings.HasPrefix(number.text, "<"):
		r.Bound, number.text = AtMost, strings.TrimSpace(number.text[1:])
	}
	r.Value, ok = d.readingNumber(&number, word, r)
	if ok && word == "static pressure" && r.Bound != Exact {
		r.Bound = AtLeast + AtMost - r.Bound
	}
}

// readingNumber reads one number of a quantity.
func (d *decoder) readingNumber(n *node, word string, r *Reading) (float64, bool) {
	switch word {
	case "flow":
		v, ok := quantity(d, n, units.ParseFlow, notNegative)
		return float64(v), ok
	case "suction":
		v, ok := quantity(d, n, units.ParsePressure, notNegative)
		return float64(v), ok
	case "static pressure":
		v, ok := quantity(d, n, units.ParsePressure, anyValue)
		return -float64(v), ok
	case "velocity pressure":
		v, ok := quantity(d, n, units.ParsePressure, anyValue)
		if ok && v < 0 && len(r.Points) == 0 && !strings.Contains(r.Text, ";") {
			d.fault(n, "swap the two hoses of the gauge, or turn the tube", "%s %q: a velocity pressure is not below nothing", n.label, r.Text)
			return 0, false
		}
		if rho := d.file.Spec.Air.Density; ok && rho > 0 {
			return d.plausible(n, float64(traverse.Standard.Speed(v, rho)), "540 Pa, or 2.2 in wg, is 30 m/s", r)
		}
		return 0, ok
	case "current":
		return d.ampere(n)
	}
	v, ok := quantity(d, n, units.ParseVelocity, notNegative)
	if !ok {
		return 0, false
	}
	return d.plausible(n, float64(v), "if the meter showed feet per minute write fpm", r)
}

// plausible refuses a speed that no duct has: a unit was mistaken.
func (d *decoder) plausible(n *node, v float64, hint string, r *Reading) (float64, bool) {
	if v > float64(suspectVelocity) {
		d.fault(n, hint, "%s %q: no dust duct runs above %g m/s", n.label, r.Text, float64(suspectVelocity))
		return 0, false
	}
	return v, true
}

// ampere reads a current, such as 7.2 A.
func (d *decoder) ampere(n *node) (float64, bool) {
	text, ok := strings.CutSuffix(n.text, "A")
	v, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if !ok || err != nil || notFinite(strings.TrimSpace(text)) || v <= 0 {
		d.fault(n, "write the current of one phase, such as 7.2 A", "%s %q: not a current", n.label, n.text)
		return 0, false
	}
	return v, true
}

// leastPoints is the smallest number of points that make a traverse.
const leastPoints = 4

// traversePoints reads the points of a traverse and reduces them to their mean.
func (d *decoder) traversePoints(n *node, text, word string, r *Reading) {
	if r.Method != Traverse || word != "velocity" && word != "velocity pressure" {
		d.fault(n, "method traverse, quantity velocity or velocity pressure: 12.1; 12.9; 13.4; 12.0 m/s", "%s %q: several points that are no traverse", n.label, text)
		return
	}
	parts := strings.Split(text, ";")
	last := strings.TrimSpace(parts[len(parts)-1])
	unit := strings.TrimSpace(strings.TrimLeft(last, "+-.0123456789eE "))
	if len(parts) < leastPoints {
		d.fault(n, "read two diameters at right angles, three points or more on each", "%s %q: %d points make no traverse", n.label, text, len(parts))
		return
	}
	var speeds []float64
	for i, p := range parts {
		one := *n
		one.text = strings.TrimSpace(p)
		if i < len(parts)-1 {
			one.text += " " + unit
		}
		v, ok := d.readingNumber(&one, word, r)
		if !ok {
			return
		}
		speeds = append(speeds, v)
	}
	mean, err := traverse.Speeds(speeds)
	if err != nil {
		d.fault(n, "look for a straighter stretch of duct", "%s %q: %s", n.label, text, strings.TrimPrefix(err.Error(), "traverse: "))
		return
	}
	r.Points, r.Value = speeds, float64(mean.Speed)
}

// readable checks that a quantity can be read at its place.
func (d *decoder) readable(f *fields, word string, r *Reading) {
	n := f.at("quantity")
	switch {
	case r.Quantity == Current && r.Place != AtCollector:
		d.fault(n, "place: collector", "a current is read at the collector")
	case (r.Quantity == Velocity || r.Quantity == Flow) && r.Place == AtPoint:
		d.fault(n, "name the run or the tool whose duct was read", "%s at a point: it needs the width of a duct", word)
	case r.Method == Mouth && r.Place != AtPort:
		d.fault(f.at("method"), "name the tool whose hose was pulled off", "a hose mouth is read at a tool")
	}
}

// powered refuses a current of a motor whose shaft power cannot be reckoned.
func (d *decoder) powered(f *fields, r *Reading) {
	all := d.file.Spec.Collectors
	name := r.State.Collector
	if r.Name != isCollector {
		name = r.Name
	}
	i := max(0, slices.IndexFunc(all, func(c network.Collector) bool { return c.ID == name }))
	if r.Quantity != Current || i >= len(all) {
		return
	}
	if m := all[i].Motor; m == nil || m.Efficiency == 0 && len(m.Points) == 0 {
		d.fault(f.at("quantity"), "give the collector's motor an efficiency, or its fan curve power", "a current says nothing of a motor whose power is not described")
	}
}

// when reads where along a run and on what day a reading was taken.
func (d *decoder) when(f *fields, r *Reading) {
	if n := f.at("distance"); n != nil {
		v, ok := d.length(n, notNegative)
		whole := units.Length(0)
		for _, run := range d.file.Spec.Runs {
			for _, p := range run.Pieces {
				if r.Place == AtRun && run.ID == r.Name {
					whole += p.Length
				}
			}
		}
		switch {
		case !ok:
		case r.Place != AtRun:
			d.fault(n, "leave it out, or name the run", "distance %q: only a run has a length", n.text)
		case whole > 0 && float64(v) > 1.02*float64(whole):
			d.fault(n, "it counts from the upstream end, where the air comes in", "distance %q: run %q is %.2f m long", n.text, r.Name, float64(whole))
		default:
			r.Distance, r.Along = v, true
		}
	}
	if n := f.at("date"); n != nil {
		s, ok := d.text(n)
		if _, err := time.Parse(time.DateOnly, s); ok && err != nil {
			d.fault(n, "write year, month and day: 2026-03-14", "date %q: not a date", s)
			return
		}
		r.Date = s
	}
}
