// Package optimize searches for the cheapest redesign of a duct network that
// meets every rule in every operating state, and proves it.
//
// Formulate turns a shop and Options into a Problem: one choice per run, leak,
// gate and bleed point, each with priced alternatives. Solve searches it. The
// planning cost of a plan is exact integer money: what each alternative costs
// by itself, plus what each joint costs, which depends on the runs that meet
// there. A plan counts only if the full network solver, the judge, says that
// it meets the limits in every state, with some allowed companion open.
//
// The search is depth-first branch and bound. Two bounds cut it: the least
// cost of the alternatives left, exact over runs and joints (dynamic program
// on the tree), and the enclosure of all flows that those alternatives can
// have (network.Box). Both hold for the judge's own answers, so a search that
// ends by itself returns Optimal or Infeasible as a proof; a search that is
// stopped returns its best plan with a valid bound.
//
// The package never prints and never looks at a clock that it was not given.
package optimize
