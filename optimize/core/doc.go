// Package core finds the cheapest plan for a tree of runs, exactly.
//
// Most callers need Problem, Solve and Result. A problem is abstract: runs
// with options (cost, resistance, area), a fan, and states, each a set of
// tools that must get their flow; or flows that are given, with limits on the
// losses. It knows nothing of ducts. The law of loss is one power for all
// runs, so that a tree is evaluated in closed form (Evaluator).
//
// The search rests on one fact: with one tool open and no leak, its flow is
// enough exactly if the resistances on its path add up to no more than a
// limit. "Resistance spent so far → least cost of the rest" is a step
// function, such functions add where runs meet, and a dynamic program over
// the tree is exact. What is not of this form (several tools at once, leaks,
// several loadings) reaches the program as linear rows that hold for every
// plan that can pass, priced by Lagrange multipliers; the least cost stays a
// valid bound. Branch and bound with intervals for all flows closes the gap.
//
// Large problems (Settings.Neighbourhood) get the bound of the root and their
// plans from neighbourhoods: a plan is made to pass by rising penalties, then
// some runs at a time are freed, all others kept, and searched in the same way.
// What can be left then is a gap, not a proof.
//
// Nothing here is random, prints, or looks at a clock.
package core
