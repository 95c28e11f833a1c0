package collapse

import (
	"strconv"
	"strings"

	"wyewright/network/units"
)

// gauges are the thicknesses of galvanised sheet by its gauge number, in
// thousandths of an inch (galvanized sheet gauge, from memory).
var gauges = map[int]float64{16: 63.5, 18: 51.6, 20: 39.6, 22: 33.6, 24: 27.6, 26: 21.7, 28: 18.7, 30: 15.7}

// ParseWall reads the thickness of a wall: a length, or the gauge number of
// galvanised sheet such as "26 ga" or "26 gauge" (16 to 30, even). The error is a
// *units.ParseError.
func ParseWall(s string) (units.Length, error) {
	text := strings.ToLower(strings.TrimSpace(s))
	number := strings.TrimRight(text, "abcdefghijklmnopqrstuvwxyz .")
	if word := strings.Trim(text[len(number):], " ."); word != "ga" && word != "gauge" && word != "gage" {
		return units.ParseLength(s)
	}
	n, err := strconv.Atoi(number)
	mils, known := gauges[n]
	if err != nil || !known {
		return 0, &units.ParseError{Quantity: "wall", Input: s, Reason: "no known gauge of galvanised sheet", Accepted: []string{"mm", "in", "an even gauge from 16 ga to 30 ga"}}
	}
	return units.Length(mils * 25.4e-6), nil
}
