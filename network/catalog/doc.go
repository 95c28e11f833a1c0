// Package catalog lists the ducts that a shop can buy: families of pipe and
// hose with their sizes, true inner diameters, fittings and data of make, the
// classes of dust with their transport velocity, and entry coefficients of
// machines.
//
// # Which to use
//
// Builtin gives the catalogue; Family.Piece turns a size name into a
// network.Piece with the true inner diameter, which for plastic pipe is not
// the nominal one: 6 in SDR 35 is 5.915 in inside, 4 in sewer pipe 4.065 in.
// Family.Wye and Family.Reducer say what the trade sells.
//
// The names of families are generic; there are no brands. Each row of the
// embedded tables carries its source; rules of the trade without a published
// source say "common practice". No family has a published limit of suction,
// so Collapse is 0 throughout; Family.Stands estimates one where the standard
// of a pipe states its wall, and knows none for sheet metal, whose thickness
// the shop file may state.
//
// A Catalog is immutable and safe for concurrent use.
package catalog
