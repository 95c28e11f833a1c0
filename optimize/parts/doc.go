// Package parts turns a change of the ducts into what must be bought and done.
//
// # Which to use
//
// Builder.Run and Builder.Joint give the lines of one local change: a run
// replaced in place, or what joins the runs at a point. The planning cost of a
// plan is the sum over its lines (Builder.Cost), and Builder.Bill groups the
// very same lines into a bill, so that search and bill cannot disagree. The bill
// adds what a shop sells, whole sticks, tubes and boxes, with spares; where each
// part goes; and how to cut the pipe from the fewest sticks (Builder.Cuts).
//
// # What is assumed
//
// Parts are reused in place only: a piece that stays costs nothing, a duct
// taken out is listed as a spare and earns nothing. What the trade does
// without a published rule is marked "common practice" beside the code.
//
// A Builder is safe for concurrent use once it is made.
package parts
