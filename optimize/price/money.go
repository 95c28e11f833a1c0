package price

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Money is an amount in the minor unit of a currency (cents). Sums and
// differences are exact; multiplication rounds, in round alone.
type Money int64

// Currency is a currency by its ISO 4217 code and the digits of its minor
// unit.
type Currency struct {
	Code   string
	Digits int
}

// Number returns the amount with the currency's decimals: "1234.50".
func (c Currency) Number(m Money) string {
	s := strconv.FormatUint(magnitude(m), 10)
	if pad := c.Digits + 1 - len(s); pad > 0 {
		s = strings.Repeat("0", pad) + s
	}
	if cut := len(s) - c.Digits; c.Digits > 0 {
		s = s[:cut] + "." + s[cut:]
	}
	if m < 0 {
		s = "-" + s
	}
	return s
}

// Parse reads a plain decimal amount exactly: "12", "12.5", "12.50". More
// decimals than the currency has are an error, as is a sign.
func (c Currency) Parse(s string) (Money, error) {
	whole, part, _ := strings.Cut(s, ".")
	if len(part) > c.Digits {
		return 0, fmt.Errorf("price: amount %q has more than %d decimals", s, c.Digits)
	}
	v, err := strconv.ParseUint(whole+part+strings.Repeat("0", c.Digits-len(part)), 10, 53)
	if err != nil || whole == "" {
		return 0, fmt.Errorf("price: %q is not an amount", s)
	}
	return Money(v), nil
}

// magnitude is |m|, right also for the least Money.
func magnitude(m Money) uint64 {
	if m < 0 {
		return -uint64(m)
	}
	return uint64(m)
}

// Text returns the amount with its currency: "1234.50 EUR".
func (c Currency) Text(m Money) string { return c.Number(m) + " " + c.Code }

// grain is added before rounding, in minor units: it is far above the noise of
// binary fractions and far below anything money can show, so that a half is
// not decided by the last bits of a length.
const grain = 1e-6

// round is the only place where a product becomes Money: half up. It panics on
// what no shop can cost, a programmer's error.
func round(x float64) Money {
	if math.IsNaN(x) || math.Abs(x) > 1e15 {
		panic(fmt.Sprintf("price: amount %g out of range", x))
	}
	return Money(math.Floor(x + 0.5 + grain))
}

// Times returns the price of a quantity at m for one, rounded half up.
func (m Money) Times(quantity float64) Money { return round(float64(m) * quantity) }
