// Package network is the model of a workshop's dust ducts and its steady
// solver.
//
// A Spec describes points, runs of pipe and hose, tools with their ports,
// leaks, bleeds and the collector. New checks and compiles it; With makes
// variants; a Solver computes the flow in every run for an operating State by
// Newton's method on total pressure, with the flow-dependent loss of every wye
// in the equations. A Verdict holds an answer against required flows and
// transport velocities. A Box encloses the answers of a whole set of networks.
//
// Units are SI: m, m², m³/s, Pa (gauge against the room), kg/m³. Flow counts
// toward the collector. The air has one density everywhere; at 4 kPa of
// suction that is less than 2 % wrong.
//
// Where every point has one way to one collector the equations are solved by an
// elimination along that tree; loops, cross-links and several collectors go to
// the general solver of package mesh, and so does a tree on which the first way
// finds no end. There a wye has its published coefficients while the air runs
// together in it as the fitter meant; for air that parts or runs against it see
// loss.Junction.
//
// For one answer call Solve. For many on the same network keep a Solver.
package network
