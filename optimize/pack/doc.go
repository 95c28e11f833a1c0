// Package pack puts items of given sizes into the fewest bins of one capacity:
// pieces into sticks.
//
// Fewest tries two rules of thumb (best fit, fullest bin first), then, as far as
// the bound on the number of bins asks for more, rounds the linear program of
// patterns and searches bin by bin within a number of steps. The result says
// how many bins there must be at least, so that it is known how good it is even
// where the search ends before it has proved anything. That bound is reckoned
// in whole numbers: no rounding makes it too high.
package pack
