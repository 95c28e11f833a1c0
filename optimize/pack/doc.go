// Package pack puts items of given sizes into the fewest bins of one capacity:
// pieces into sticks.
//
// Fewest tries two ways by rule of thumb (best fit, fullest bin first), then
// searches bin by bin within a number of steps. The result says how many bins
// there must be at least, so that it is known how good it is even where the
// search ends before it has proved anything. Everything is in whole numbers
// and the same on every machine.
package pack
