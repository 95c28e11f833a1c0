package units

import (
	"math"
	"strconv"
	"strings"
)

// unit is one way to write a quantity: SI value = (number + offset)·mul/div.
type unit struct {
	mul, div float64
	offset   float64  // used by temperatures alone
	decimal  int      // where not 0, mul/div is this power of ten and text is shifted by it
	names    []string // in the form that normal gives
}

// toSI converts a number in this unit to the SI value.
func (u *unit) toSI(x float64) float64 { return (x + u.offset) * u.mul / u.div }

// fromSI converts an SI value to the number in this unit.
func (u *unit) fromSI(v float64) float64 { return v*u.div/u.mul - u.offset }

// face is how a quantity is shown in one system: a unit, and the decimals
// that a person can use.
type face struct {
	label  string
	digits int
}

// quantity describes one quantity: how it is written and how it is shown.
// Descriptions are built once and never changed.
type quantity struct {
	name     string   // for messages
	accepted []string // the usual units, for messages
	signed   bool     // whether a sign makes sense
	compound bool     // whether feet and inches may be joined
	floor    float64  // least SI value that makes sense, where signed
	exact    string   // label of the unit for Exact: the SI unit
	faces    [2]face  // indexed by System
	units    []unit
}

// find returns the unit with the given name, or nil.
func (q *quantity) find(name string) *unit {
	name = normal(name)
	for i := range q.units {
		for _, n := range q.units[i].names {
			if n == name {
				return &q.units[i]
			}
		}
	}
	return nil
}

// face returns how the quantity is shown in the system; an unknown system
// is shown as SI.
func (q *quantity) face(sys System) face {
	if sys == US {
		return q.faces[US]
	}
	return q.faces[SI]
}

// in converts an SI value to the customary unit of the system.
func (q *quantity) in(v float64, sys System) float64 {
	return q.find(q.face(sys).label).fromSI(v)
}

// text shows an SI value with the customary unit of the system.
func (q *quantity) text(v float64, sys System) string {
	f := q.face(sys)
	return fixed(q.in(v, sys), f.digits) + " " + f.label
}

// exactText shows an SI value in the SI unit, with all its digits. Per cent
// has no factor of one: there the digits of v are kept and the decimal point
// is moved, since v·100 as a float64 does not always lead back to v.
func (q *quantity) exactText(v float64) string {
	u := q.find(q.exact)
	text := strconv.FormatFloat(u.fromSI(v), 'g', -1, 64)
	if u.decimal != 0 && shifted(text, u.decimal) != v {
		text = shift(strconv.FormatFloat(v, 'e', -1, 64), -u.decimal)
	}
	return text + " " + q.exact
}

// fixed prints x with a fixed number of decimals and without a negative zero.
func fixed(x float64, digits int) string {
	s := strconv.FormatFloat(x, 'f', digits, 64)
	if strings.HasPrefix(s, "-") && strings.Trim(s, "-0.") == "" {
		return s[1:]
	}
	return s
}

// finite reports whether x is a number.
func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
