package units

import (
	"errors"
	"fmt"
	"strings"
)

// ErrSyntax is what every *ParseError unwraps to.
var ErrSyntax = errors.New("units: cannot read quantity")

// ParseError says why a text is not a quantity.
type ParseError struct {
	Quantity string   // what was expected: "length", "flow", ...
	Input    string   // the text as it was given
	Reason   string   // what is wrong with it
	Accepted []string // the usual units (or words) for the quantity

	hint string // what to do instead, where that is not the choice of unit
}

// Error gives the quantity, the input, the reason and the hint in one line,
// for example: length "5 furlong": unknown unit "furlong" (use in, ft, mm, cm or m).
func (e *ParseError) Error() string {
	text := fmt.Sprintf("%s %q: %s", e.Quantity, e.Input, e.Reason)
	if h := e.Hint(); h != "" {
		text += " (" + h + ")"
	}
	return text
}

// Hint says what to write instead, or is empty.
func (e *ParseError) Hint() string {
	switch n := len(e.Accepted); {
	case e.hint != "":
		return e.hint
	case n == 0:
		return ""
	case n == 1:
		return "use " + e.Accepted[0]
	default:
		return "use " + strings.Join(e.Accepted[:n-1], ", ") + " or " + e.Accepted[n-1]
	}
}

// Unwrap returns ErrSyntax.
func (e *ParseError) Unwrap() error { return ErrSyntax }
