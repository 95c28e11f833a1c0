// Package collapse says how much suction a round duct stands before its wall
// gives way: the figure that was stated for it, or, from the thickness of its
// wall, an estimate on the strict side.
//
// Limit.Holds compares it with a suction. A duct of which nothing is known has
// the zero Limit, which holds against nothing and is called not checked.
package collapse
