// Package layout finds where duct is to go, and of what size, exactly: out of
// candidate edges with options it picks the tree that joins every terminal to
// the root at least cost (Solve), or yields such trees one after the other,
// cheapest first (Trees).
//
// It knows nothing of ducts. Solve is the subset program of Dreyfus and Wagner
// (1971, Networks 1:195–207) with Pareto labels instead of single costs: what
// joins a set of terminals to a point is known by its cost, by how much loss it
// can still bear, and by how much its worst way has spent. What the program
// lays twice over one point is no tree; Solve branches until nothing is.
// Bounds come from the same program without labels, with losses priced by
// Lagrange multipliers. A trial cost, raised until something is found, cuts off
// what would cost more.
//
// Nothing here is random, prints, or looks at a clock.
package layout
