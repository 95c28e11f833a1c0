// Package loss gives the pressure losses of round exhaust duct: wall friction,
// hose, elbows, changes of size, entries, converging junctions, gates and
// leaks, each with its derivative where a solver needs one.
//
// # Conventions
//
// Everything is a plain float64 in SI: metre, square metre, cubic metre per
// second, pascal, kilogram per cubic metre. Angles alone are in degrees, since
// every published table is. A loss is a drop of TOTAL pressure written as
// K·½ρV², and each function says whose velocity V is meant:
//
//	Friction            own duct, Δp = f·(L/D)·½ρV² with the Darcy f
//	Elbow, Gate         own duct
//	Taper, Sudden…      the SMALLER of the two ducts
//	Entry, HoodTaper    the port the air enters
//	Wye                 the COMMON duct, for both upstream legs
//
// # Which to use
//
// Friction is the engine's law. SwameeJain exists to reproduce cases that
// were computed with it, Churchill to cross-check. HoseMultiple is the default
// for flexible hose; HawthorneHose serves where the corrugation pitch is known.
//
// All functions are pure, safe for concurrent use and free of allocation,
// except the few that return lists (EntryKinds, Sources) or errors. Arguments
// outside a published table are held at its end and reported as extrapolated.
//
// Every table and formula names its Source; Sources lists them all.
package loss
