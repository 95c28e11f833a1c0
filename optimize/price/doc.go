// Package price holds money, price books and labour norms.
//
// # Which to use
//
// Builtin gives a price book for a currency; Book.Price quotes one item, and
// Quote.Times is the one place where a quantity is multiplied by a price and
// rounded. Book.Override puts a user's own price in front of the book's.
// Labour gives hours by task, size and crew.
//
// The prices that come with the program are invented: typical for 2025, small
// quantities, without tax and freight, spread ±35 %, to be edited for one's
// own supplier. A size between two listed ones is interpolated and marked; one
// beyond the ends by more than a step of the catalogue has no price. Nothing
// is ever priced at zero for want of a price.
package price
