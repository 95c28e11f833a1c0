package units

import (
	"strconv"
	"strings"
)

// span returns the length of the unsigned decimal number at the front of s:
// digits, at most one point, and an exponent where a digit follows it.
// It is 0 where there is no digit.
func span(s string) int {
	i := digits(s, 0)
	count := i
	if i < len(s) && s[i] == '.' {
		end := digits(s, i+1)
		count += end - i - 1
		i = end
	}
	if count == 0 {
		return 0
	}
	if i < len(s) && (s[i] == 'e' || s[i] == 'E') {
		start := i + 1
		if start < len(s) && (s[start] == '+' || s[start] == '-') {
			start++
		}
		if end := digits(s, start); end > start {
			return end
		}
	}
	return i
}

// digits returns the first position from i on that holds no digit.
func digits(s string, i int) int {
	for i < len(s) && digit(s[i]) {
		i++
	}
	return i
}

// digit reports whether c is a decimal digit.
func digit(c byte) bool { return '0' <= c && c <= '9' }

// shift returns the number in the text times ten to the power k, as text.
func shift(text string, k int) string {
	mantissa, exponent, _ := strings.Cut(strings.ToLower(text), "e")
	n, _ := strconv.Atoi(exponent) // no exponent means 0; one too long for an int is out of range both ways
	return mantissa + "e" + strconv.Itoa(n+k)
}

// shifted returns the number in the text times ten to the power k, correctly
// rounded.
func shifted(text string, k int) float64 {
	v, _ := strconv.ParseFloat(shift(text, k), 64) // the caller has read the text once; overflow gives Inf
	return v
}
