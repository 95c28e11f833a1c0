package units

import (
	"strconv"
	"strings"
)

// spelling folds the ways to write one unit into the one the tables hold.
var spelling = strings.NewReplacer("²", "2", "³", "3", "^", "", "″", `"`, "′", "'", "”", `"`, "’", "'")

// normal returns the name of a unit in lower case, with plain digits and
// single spaces. No two units of one quantity differ in case alone.
func normal(name string) string {
	return strings.Join(strings.Fields(spelling.Replace(strings.ToLower(name))), " ")
}

// amount is a number with its unit.
type amount struct {
	value float64
	text  string // the number as it was written
	unit  *unit
}

// si returns the amount in the SI unit.
func (a amount) si() float64 {
	if a.unit.decimal != 0 {
		return shifted(a.text, a.unit.decimal)
	}
	return a.unit.toSI(a.value)
}

// parse reads a text as the quantity q and gives the value its type.
func parse[T ~float64](q *quantity, s string) (T, error) {
	v, err := q.parse(s)
	return T(v), err
}

// parse reads a number and a unit, and returns the SI value. Every error is
// a *ParseError.
func (q *quantity) parse(s string) (float64, error) {
	rest := strings.TrimSpace(s)
	if rest == "" {
		return 0, q.fail(s, "empty")
	}
	a, rest, err := q.part(s, rest)
	if err != nil {
		return 0, err
	}
	if rest != "" { // only a compound quantity leaves a rest
		if a, err = q.join(s, a, rest); err != nil {
			return 0, err
		}
	}
	switch v := a.si(); {
	case !finite(v):
		return 0, q.failHint(s, "number out of range", "write a finite number")
	case q.signed && v < q.floor:
		return 0, q.failHint(s, "below the least possible value", "the least is "+q.exactText(q.floor))
	default:
		return v, nil
	}
}

// join reads the inches after the feet. The sum is formed in inches, which is
// exact for usual sizes.
func (q *quantity) join(s string, feet amount, rest string) (amount, error) {
	inches, junk, err := q.part(s, rest)
	switch {
	case err != nil:
		return amount{}, err
	case feet.unit != q.find("ft") || inches.unit != q.find("in"):
		return amount{}, q.failHint(s, "more than one unit", `only feet and inches may be joined, as in "6 ft 3 in"`)
	case junk != "":
		return amount{}, q.failHint(s, "unexpected "+strconv.Quote(junk)+" at the end", "leave it out")
	}
	inches.value += 12 * feet.value
	return inches, nil
}

// part reads one number with its unit from the front of rest. The unit of a
// compound quantity ends where the next number begins; any other unit takes
// the whole rest, since names such as "in H2O" contain digits.
func (q *quantity) part(s, rest string) (a amount, tail string, err error) {
	a, rest, err = q.number(s, rest)
	if err != nil {
		return a, "", err
	}
	end := len(rest)
	if q.compound {
		if i := strings.IndexAny(rest, "0123456789.+-−"); i >= 0 {
			end = i
		}
	}
	name := strings.TrimSpace(rest[:end])
	if name == "" {
		return a, "", q.fail(s, "unit missing")
	}
	if a.unit = q.find(name); a.unit == nil {
		return a, "", q.fail(s, "unknown unit "+strconv.Quote(name))
	}
	return a, strings.TrimSpace(rest[end:]), nil
}

// number reads a decimal number from the front of rest; its unit is still to
// be found.
func (q *quantity) number(s, rest string) (a amount, tail string, err error) {
	body := rest
	if after, ok := strings.CutPrefix(rest, "−"); ok {
		body = "-" + after
	}
	sign := ""
	if body[0] == '-' || body[0] == '+' {
		sign, body = body[:1], body[1:]
	}
	n := span(body)
	if n == 0 {
		if word := strings.ToLower(body); strings.HasPrefix(word, "nan") || strings.HasPrefix(word, "inf") {
			return a, "", q.failHint(s, "not a finite number", "write a finite number")
		}
		return a, "", q.failHint(s, "number missing", "write a number and a unit, as in "+strconv.Quote("4 "+q.accepted[0]))
	}
	if sign != "" && !q.signed {
		return a, "", q.failHint(s, "sign not allowed", "write it without a sign")
	}
	tail = body[n:]
	if len(tail) > 1 && tail[0] == ',' && digit(tail[1]) {
		return a, "", q.failHint(s, "comma in the number", "write a decimal point, and no separator of thousands")
	}
	a.text = sign + body[:n]
	if a.value, err = strconv.ParseFloat(a.text, 64); err != nil {
		return a, "", q.failHint(s, "number out of range", "write a finite number")
	}
	return a, strings.TrimSpace(tail), nil
}

// fail returns an error whose hint is the list of accepted units.
func (q *quantity) fail(input, reason string) error { return q.failHint(input, reason, "") }

// failHint returns an error with a hint of its own.
func (q *quantity) failHint(input, reason, hint string) error {
	return &ParseError{Quantity: q.name, Input: input, Reason: reason, Accepted: q.accepted, hint: hint}
}
