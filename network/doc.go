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
// suction that is less than 2 % wrong. The topology is a tree so far: each
// point has one way to the collector, and New refuses loops.
//
// For one answer call Solve. For many on the same network keep a Solver.
package network
