package loss

import "slices"

// A Source says where a number was published.
type Source struct {
	Work    string // author and title
	Edition string // year or edition
	Locator string // table, equation or page; also the doubts about it
}

// The sources that this package rests on, one variable per work so that a
// table can point at the one it was taken from. Volume and page of the papers
// on friction and hose are cited from memory; the formulas are checked against
// a general library or published values in the tests.
var (
	sourceColebrook = Source{"Colebrook, Turbulent flow in pipes, J. Inst. Civ. Eng. 11:133", "1939", "transition formula, constants 3.7 and 2.51"}
	sourceSwamee    = Source{"Swamee and Jain, Explicit equations for pipe-flow problems, J. Hydraul. Div. ASCE 102(5):657", "1976", "explicit friction factor"}
	sourceChurchill = Source{"Churchill, Friction-factor equation spans all fluid-flow regimes, Chem. Eng. 84(24):91", "1977", "single equation for all regimes"}
	sourceHawthorne = Source{"Hawthorne and von Helms, Flow in corrugated hose, Product Engineering 34:98", "1963", "f from pitch and diameter"}
	sourceHoseBand  = Source{"common practice", "", "published multiples of smooth pipe run from 1.6 to 5.8; 3 taken, 2 to 5 as the honest band; ×1.5 for a hose not pulled straight"}

	sourceElbow      = Source{"SMACNA HVAC Systems Duct Design", "", "table A-7, round elbows 90° by R/D; the last value of the five-piece and of the three-piece row is from memory"}
	sourceElbowAngle = Source{"SMACNA HVAC Systems Duct Design", "", "angle factors on the 90° value of a round elbow; table number not recorded"}
	sourceMitre      = Source{"SMACNA HVAC Systems Duct Design", "", "mitred single joint without vanes, by angle; table number not recorded"}

	sourceSudden      = Source{"Borda-Carnot expansion; Idelchik, Handbook of Hydraulic Resistance", "AEC-tr-6630, 1966", "abrupt expansion (1-A1/A2)²; abrupt contraction 0.5(1-A2/A1)^0.75"}
	sourceContraction = Source{"handbook values of gradual contraction (ASHRAE Fundamentals, duct fitting tables)", "", "15-40° 0.05, 60° 0.06-0.08, 90° 0.12-0.19; the middle of each range taken; table number not recorded"}
	sourceDiffuser    = Source{"Crane, Flow of Fluids through Valves, Fittings and Pipe, TP-410", "", "gradual enlargement, 2.6 sin(θ/2)(1-β²)²"}

	sourceEntry  = Source{"ACGIH, Industrial Ventilation, A Manual of Recommended Practice", "24th ed., 2001", "hood entry loss figures"}
	sourceCFR    = Source{"29 CFR 1910.94(b), grinding and buffing hoods", "", "figures G-1 to G-8, tapered take-off"}
	sourceTaper  = Source{"handbook table of round tapered hoods (ASHRAE Fundamentals, duct fitting tables)", "", "by included angle; 90° is approximate; table number not recorded"}
	sourceWyeB   = Source{"Idelchik, Handbook of Hydraulic Resistance (Levin's formula)", "AEC-tr-6630, 1966", "diagrams 7-1 to 7-7; the correction A is blended here between area ratios 0.65 and 1 instead of stepped"}
	sourceWyeS   = Source{"Bassett, Winterbone and Pearson, Calculation of steady flow pressure loss coefficients for pipe junctions, Proc IMechE C 215:861", "2001", "table 2, straight-through leg of a converging junction"}
	sourceWyeT   = Source{"Idelchik, Handbook of Hydraulic Resistance", "AEC-tr-6630, 1966", "straight leg at 90°: 1.55q - q²"}
	sourceWyeM   = Source{"momentum balance along the common duct", "", "main that grows at the wye; not scored against data"}
	sourceGate   = Source{"common practice", "", "open 0.2 (published 0.17-0.2), three quarters 1, half 5, quarter 24"}
	sourceLeak   = Source{"EN 12237 Ventilation for buildings: strength and leakage of circular sheet metal ducts", "2003", "air tightness classes, exponent 0.65; the names ATC 2 to ATC 6 are those of EN 16798-3, from memory"}
	sourceSMACNA = Source{"SMACNA, HVAC Air Duct Leakage Test Manual", "1985", "leakage class, cfm per 100 ft² at 1 in of water, exponent 0.65"}
	sourceCd     = Source{"sharp-edged orifice, discharge coefficient 0.62", "", "common practice for gaps and holes in thin duct"}
)

var allSources = []Source{
	sourceColebrook, sourceSwamee, sourceChurchill, sourceHawthorne, sourceHoseBand,
	sourceElbow, sourceElbowAngle, sourceMitre,
	sourceSudden, sourceContraction, sourceDiffuser,
	sourceEntry, sourceCFR, sourceTaper,
	sourceWyeB, sourceWyeS, sourceWyeT, sourceWyeM,
	sourceGate, sourceLeak, sourceSMACNA, sourceCd,
}

// Sources returns the sources of every formula and table in the package, in a
// fixed order. The caller owns the slice.
func Sources() []Source { return slices.Clone(allSources) }
