package price

import (
	"errors"
	"fmt"
	"math"

	"wyewright/network/catalog"
)

// ErrOverride is what an error about an unusable override unwraps to.
var ErrOverride = errors.New("price: unusable override")

// Override puts a user's own price in front of the book's, for exactly that
// item in any spelling of its sizes; it does not move the prices of other
// sizes. The quote's Per 0 means 1; an empty Unit is the base unit of the kind.
// It must not be called while another goroutine asks for prices. The error
// unwraps to ErrOverride.
func (b *Book) Override(i Item, q Quote) error {
	if q.Per == 0 {
		q.Per = 1
	}
	if q.Unit == "" {
		q.Unit = i.Kind.Unit()
	}
	if i.Kind >= kinds || q.Money < 0 || !(q.Per > 0) || math.IsInf(q.Per, 0) {
		return fmt.Errorf("%w: %v at %d per %g", ErrOverride, i, q.Money, q.Per)
	}
	for _, s := range i.Sizes {
		if s == "" {
			continue
		}
		if _, err := catalog.ParseSize(s); err != nil {
			return fmt.Errorf("%w: %w", ErrOverride, err)
		}
	}
	q.Interpolated = false
	if q.Source == "" {
		q.Source = "your price"
	}
	if b.overrides == nil {
		b.overrides = map[Item]Quote{}
	}
	b.overrides[b.normal(i)] = q
	return nil
}

// normal writes the sizes of an item in one spelling, and the two ends of a
// reducer in one order.
func (b *Book) normal(i Item) Item {
	var d [3]float64
	for k, s := range i.Sizes {
		if s == "" {
			continue
		}
		if d[k] = b.nominal[s]; d[k] == 0 {
			if l, err := catalog.ParseSize(s); err == nil {
				d[k] = float64(l)
			}
		}
		i.Sizes[k] = b.spelling[micrometres(d[k])]
		if i.Sizes[k] == "" {
			i.Sizes[k] = fmt.Sprintf("%d um", micrometres(d[k]))
		}
	}
	if i.Kind == Reducer && d[0] < d[1] {
		i.Sizes[0], i.Sizes[1] = i.Sizes[1], i.Sizes[0]
	}
	return i
}

func micrometres(metres float64) int { return int(math.Round(metres * 1e6)) }
