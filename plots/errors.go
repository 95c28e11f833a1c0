package plots

import (
	"errors"
	"fmt"
	"math"
)

// The sentinels that errors of this package unwrap to.
var (
	// ErrEmpty says that there is nothing to draw.
	ErrEmpty = errors.New("no data")
	// ErrValue says that a value cannot be drawn.
	ErrValue = errors.New("bad value")
	// ErrFormat says that a picture format or a resolution is not offered.
	ErrFormat = errors.New("picture format not offered")
)

// DataError says which part of the data of a picture cannot be drawn.
type DataError struct {
	Picture string // name of the function that draws, for example "TradeOff"
	Field   string // path of the field, for example "Points[3].Cost"
	Reason  string // what is wrong with it
	kind    error
}

// Error returns the message in one line.
func (e *DataError) Error() string {
	return fmt.Sprintf("plots: %s: %s: %s", e.Picture, e.Field, e.Reason)
}

// Unwrap returns [ErrEmpty] or [ErrValue].
func (e *DataError) Unwrap() error { return e.kind }

// check collects the faults of the data of one picture in field order.
type check struct {
	picture string
	faults  []error
}

func (c *check) add(kind error, reason, field string, args ...any) {
	c.faults = append(c.faults, &DataError{
		Picture: c.picture, Field: fmt.Sprintf(field, args...), Reason: reason, kind: kind,
	})
}

// some records a fault when a list that must hold something is empty.
func (c *check) some(n int, field string) {
	if n == 0 {
		c.add(ErrEmpty, "nothing to draw", "%s", field)
	}
}

// finite records a fault when the value is NaN, infinite or beyond what a
// picture can show.
func (c *check) finite(v float64, field string, args ...any) {
	if math.IsNaN(v) || math.Abs(v) > 1e12 {
		c.add(ErrValue, fmt.Sprintf("%v is not a number that can be drawn", v), field, args...)
	}
}

// least records a fault when the value is not finite or below zero.
func (c *check) least(v float64, field string, args ...any) {
	if v < 0 {
		c.add(ErrValue, fmt.Sprintf("%v is below zero", v), field, args...)
		return
	}
	c.finite(v, field, args...)
}

// err returns all faults joined, or nil.
func (c *check) err() error { return errors.Join(c.faults...) }
