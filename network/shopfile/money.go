package shopfile

import (
	"fmt"
	"strings"
)

// minorDigits lists the currencies without a hundredth part that a workshop
// is likely to meet (ISO 4217, from memory); all others have two digits.
var minorDigits = map[string]int{"JPY": 0, "KRW": 0, "CLP": 0, "ISK": 0, "VND": 0}

// maxMinor bounds an amount, so that sums of many stay exact integers.
const maxMinor = int64(1e13)

// amount reads "12 EUR", "12.50 EUR" or "35 EUR/h".
func (d *decoder) amount(n *node, per ...string) Amount {
	s, ok := d.text(n)
	if !ok {
		return Amount{}
	}
	example := "12.50 EUR"
	if d.file.Currency != "" {
		example = "12.50 " + d.file.Currency
	}
	digits, rest, found := strings.Cut(strings.TrimSpace(s), " ")
	if !found {
		d.fault(n, fmt.Sprintf("write it like %q", example), "%s %q: the currency is missing", n.label, s)
		return Amount{}
	}
	currency, unit, _ := strings.Cut(strings.TrimSpace(rest), "/")
	currency, unit = strings.TrimSpace(currency), strings.TrimSpace(unit)
	a := Amount{Given: true, Currency: currency, Per: unit, Digits: 2, Line: n.line, Column: n.col}
	if !isCurrency(currency) {
		d.fault(n, "three capital letters, such as EUR, USD or GBP", "%s %q: unknown currency %q", n.label, s, currency)
		return Amount{}
	}
	if v, ok := minorDigits[currency]; ok {
		a.Digits = v
	}
	minor, err := parseMinor(digits, a.Digits)
	if err != nil {
		d.fault(n, fmt.Sprintf("write it like %q", example), "%s %q: %v", n.label, s, err)
		return Amount{}
	}
	a.Minor = minor
	if c := d.file.Currency; c != "" && c != currency {
		d.fault(n, "prices are not converted; write all of them in one currency",
			"%s %q: the file's currency is %s", n.label, s, c)
		return Amount{}
	}
	if !oneOf(unit, per) {
		d.fault(n, fmt.Sprintf("write it like %q", example+slashed(per)), "%s %q: must be %s", n.label, s, perWords(per))
		return Amount{}
	}
	return a
}

// isCurrency reports three capital letters.
func isCurrency(s string) bool {
	if len(s) != 3 {
		return false
	}
	for i := range len(s) {
		if s[i] < 'A' || s[i] > 'Z' {
			return false
		}
	}
	return true
}

// parseMinor reads a decimal number exactly, without going through binary
// fractions.
func parseMinor(s string, digits int) (int64, error) {
	whole, part, _ := strings.Cut(s, ".")
	if strings.HasPrefix(whole, "-") {
		return 0, fmt.Errorf("must not be negative")
	}
	if len(part) > digits {
		return 0, fmt.Errorf("more than %d digits behind the point", digits)
	}
	if whole == "" {
		return 0, fmt.Errorf("not an amount")
	}
	v := int64(0)
	for _, r := range whole + part + strings.Repeat("0", digits-len(part)) {
		if r < '0' || r > '9' {
			return 0, fmt.Errorf("not an amount")
		}
		v = v*10 + int64(r-'0')
		if v > maxMinor {
			return 0, fmt.Errorf("too large")
		}
	}
	return v, nil
}

func oneOf(s string, words []string) bool {
	if len(words) == 0 {
		return s == ""
	}
	for _, w := range words {
		if s == w {
			return true
		}
	}
	return false
}

func slashed(per []string) string {
	if len(per) == 0 || per[0] == "" {
		return ""
	}
	return "/" + per[0]
}

func perWords(per []string) string {
	if len(per) == 0 {
		return "the amount for one, without a slash"
	}
	var words []string
	for _, p := range per {
		if p == "" {
			words = append(words, "for one")
		} else {
			words = append(words, "per "+p)
		}
	}
	return strings.Join(words, " or ")
}
