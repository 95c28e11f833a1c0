// Package sheet writes a bill as a workbook (.xlsx) whose sums are formulas: a
// price, the rate, the waste or a quantity is changed in the spreadsheet, and
// every total follows.
//
// Write is all there is to use. As it is written the workbook adds up, to the
// cent, to what the bill says: each line is rounded by itself, half up, as
// price.Quote.Times does it. The file holds no macros and no clock: the same
// Book gives the same bytes.
package sheet

import (
	"wyewright/network/units"
	"wyewright/optimize/price"
)

// Book is what a workbook shows.
type Book struct {
	// Title names the shop, Status says what the plan is: proved or not, met or
	// not.
	Title, Status string
	// Notes are sentences for the last sheet.
	Notes []string
	// System are the units of lengths: metres or feet.
	System   units.System
	Currency price.Currency
	// Crew says whose hours the work counts.
	Crew string
	// Rate is the price of an hour.
	Rate price.Money
	// Waste is the share of pipe that is bought on top for offcuts.
	Waste float64
	// SpareEvery is how many couplings bring one spare with them.
	SpareEvery int
	// Bills are one or more, in order: the stages of a plan.
	Bills []Bill
}

// Bill is one list of things to buy and do.
type Bill struct {
	// Name tells it from others; it is not shown where there is but one.
	Name string
	// Parts and Tasks make the planning total, line by line.
	Parts []Part
	Tasks []Task
	// Goods are what a shop sells for the parts, one row an item.
	Goods []Good
	// Sticks are how the pipe is cut.
	Sticks []Stick
	// Kept is what stays and what comes out.
	Kept []Kept
	// Freight is added to the total of the shop.
	Freight price.Money
	// Materials, Labour and Shelf are the sums as the bill has them, Shelf
	// with labour and freight.
	Materials, Labour, Shelf price.Money
}

// Item is what has a price.
type Item struct {
	Name   string
	Quote  price.Quote
	Priced bool
	// Unit is that of quantities: "m" or "each".
	Unit string
}

// Part is one line to buy, for one place.
type Part struct {
	Item  Item
	Where string
	// Qty is in the item's Unit, without waste.
	Qty float64
	// Waste is the share on top; where it is the Book's, it follows the cell.
	Waste float64
	Total price.Money
}

// Task is one line of work.
type Task struct {
	Name, Where string
	Qty         float64
	Unit        string
	Hours       float64
	Total       price.Money
}

// Good is an item as a shop sells it.
type Good struct {
	Item Item
	// Need is the quantity with waste, in the item's Unit.
	Need float64
	// Net is that without waste; it counts where there are Sticks.
	Net float64
	// Pack is what is sold, such as "stick"; it holds Size of the item's Unit.
	Pack string
	Size float64
	// Sticks is how many the cut list takes, Qty how many are bought, Spare how
	// many of those are beyond need or cut list.
	Sticks, Spare, Qty float64
	// Rule says how the Spare follows.
	Rule SpareRule
	// Total is the price of Qty, rounded once.
	Total price.Money
}

// SpareRule says how many spares there are.
type SpareRule uint8

// Rules of spares.
const (
	SpareFixed SpareRule = iota // the number given
	SpareShare                  // one in SpareEvery
	SpareWaste                  // what the waste asks for beyond the cut list
)

// Stick is one stick of pipe and what is cut from it.
type Stick struct {
	// Name is that of the item it is bought as.
	Name   string
	Length units.Length
	Cuts   []Cut
	Rest   units.Length
	// Status says whether fewer sticks would do for all of the name.
	Status string
}

// Cut is a length to cut for a run.
type Cut struct {
	Where  string
	Length units.Length
}

// Kept is what stays in place or comes out.
type Kept struct {
	What, Name string
	Qty        float64
	Unit       string
}
