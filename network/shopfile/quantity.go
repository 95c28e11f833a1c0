package shopfile

import (
	"errors"
	"strings"

	"wyewright/network/units"
)

// suspectVelocity is a velocity in m/s that no dust duct reaches (common
// practice: noise and wear end at 30 to 40 m/s). A larger number is most
// likely one of feet per minute with the wrong unit.
const suspectVelocity units.Velocity = 60

// limit says which values of a quantity make sense.
type limit uint8

const (
	anyValue limit = iota
	notNegative
	positive
)

// quantity reads a scalar with its unit through one of the parsers of package
// units. It reports what is wrong and returns false then.
func quantity[T ~float64](d *decoder, n *node, parse func(string) (T, error), l limit) (T, bool) {
	s, ok := d.text(n)
	if !ok {
		return 0, false
	}
	v, err := parse(s)
	var pe *units.ParseError
	switch {
	case err != nil && l != anyValue && strings.HasPrefix(strings.TrimSpace(s), "-") && !notFinite(s):
		d.fault(n, "write it without a sign", "%s %q: must not be negative", n.label, s)
	case errors.As(err, &pe) && pe.Reason == "unit missing":
		d.fault(n, pe.Hint(), "%s %q: a number without its unit", n.label, s)
	case errors.As(err, &pe):
		d.fault(n, pe.Hint(), "%s %q: %s", n.label, s, pe.Reason)
	case err != nil:
		d.fault(n, "", "%s %q: %v", n.label, s, err)
	case l == positive && v == 0:
		d.fault(n, "", "%s %q: must be above zero", n.label, s)
	case l != anyValue && v < 0:
		d.fault(n, "", "%s %q: must not be negative", n.label, s)
	default:
		return v, true
	}
	return 0, false
}

func (d *decoder) length(n *node, l limit) (units.Length, bool) {
	return quantity(d, n, units.ParseLength, l)
}

// velocity reads a velocity and doubts one that no duct has.
func (d *decoder) velocity(n *node) (units.Velocity, bool) {
	v, ok := quantity(d, n, units.ParseVelocity, positive)
	if ok && v > suspectVelocity {
		d.warn(n, "if the meter showed feet per minute write fpm", "%s %q: no dust duct runs above %g m/s",
			n.label, n.text, float64(suspectVelocity))
	}
	return v, ok
}

// percent reads a share; "+10 %" is the same as "10 %".
func (d *decoder) percent(n *node) (float64, bool) {
	parse := func(s string) (units.Ratio, error) {
		return units.ParseRatio(strings.TrimPrefix(strings.TrimSpace(s), "+"))
	}
	v, ok := quantity(d, n, parse, notNegative)
	return float64(v), ok
}
