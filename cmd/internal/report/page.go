// Package report writes a redesign as one page of HTML: self-contained, to read
// on a screen or a phone, to print on A4 or Letter, and to hand on. It asks for
// nothing from outside and works without scripts. The texts of a [Page] come
// ready, with their units; numbers are there where a picture is drawn from them.
package report

import "html/template"

// Page is everything that the page says. Parts that are empty are left out.
type Page struct {
	// Shop is its name; Date, if given, is printed as it is.
	Shop, Date string
	// Meets says that the plan meets what was asked; where it does not, the page
	// says so at its top, in the words of Unmet.
	Meets bool
	Unmet string
	// Verdict is one sentence or two, with the status of the answer.
	Verdict string
	Facts   []Fact
	Asked   []string
	// Options are the plans to choose from, at most three; OptionsNote says what
	// is to be known about them.
	Options     []Option
	OptionsNote string
	// Conflict says what cannot be met together, and the ways out.
	Conflict Block
	Flows    *Flows
	Views    []Figure
	Pressure *Pressure
	Trade    *Trade
	Speeds   *Speeds
	Changes  Block
	Gates    Block
	Parts    Block
	Cuts     Block
	Stages   *Stages
	Sheet    *Sheet
	// More are answers to further questions, each under a heading of its own.
	More     []Block
	Sure     []string
	Cautions []string
}

// Fact is a number to see at first sight.
type Fact struct{ Name, Value, Note string }

// Option is one of the plans to choose from.
type Option struct {
	// Name says which it is, as "cheapest that works"; Chosen that the rest of
	// the page is about it.
	Name   string
	Chosen bool
	Cost   string
	Facts  []Fact
	// Differs says what it does otherwise than the chosen one, an entry each.
	Differs []string
}

// Block is a part of the page under a heading: words, tables, words.
type Block struct {
	ID, Title string
	Lead      []string
	Tables    []Table
	Lists     []List
	Notes     []string
}

// Any reports whether the block says anything.
func (b Block) Any() bool { return len(b.Lead)+len(b.Tables)+len(b.Lists) > 0 }

// List is a list under words of its own.
type List struct {
	Lead  string
	Items []string
}

// Figure is a picture, an SVG document, with words below it. Alt says in words
// what it shows.
type Figure struct {
	Alt, Caption string
	SVG          []byte
}

// Inline is the picture as it stands in the page.
func (f Figure) Inline() template.HTML { return inline(f.SVG, f.Alt) }

// Pressure says where the fan's pressure goes on one way, before and after.
type Pressure struct {
	Lead    string
	Unit    string
	Steps   []PressureStep
	Figures []Figure
}

// PressureStep is a part of the way; a part that is not there is Gone.
type PressureStep struct {
	Name                  string
	Before, After         float64
	BeforeText, AfterText string
	Sum                   bool
}

// Stages is the order of work, where it need not be done all at once.
type Stages struct {
	Lead   string
	Items  []Stage
	Figure Figure
	Note   string
}

// Stage is a part of the work that is done and paid for together.
type Stage struct {
	Name, Cost string
	Changes    []string
	// Meets says what holds once it is done.
	Meets []string
}

// Sheet is the form for measuring after the work.
type Sheet struct {
	Lead     string
	Blanks   []string
	Cautions []string
	Holes    Table
	States   []SheetState
	Notes    []string
}

// SheetState are the readings to take in one operating state.
type SheetState struct {
	Title, Set, Mind string
	Readings         []SheetReading
}

// SheetReading is one reading to take, with what is expected.
type SheetReading struct{ Hole, Place, Expected, Mark string }
