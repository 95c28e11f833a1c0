package optimize

import (
	"wyewright/network"
	"wyewright/network/units"
	"wyewright/optimize/parts"
	"wyewright/optimize/price"
)

// Options say what a redesign may touch and what it must reach. The zero
// value allows nothing.
type Options struct {
	// Families that new pipe may be made of, by catalogue name. A hose family
	// in the list allows hose to be replaced by hose of another size.
	Families []string
	// Piece makes a piece of new duct; nil takes the catalogue's as it is. A
	// shop that knows its ducts better (roughness, branch angle) says so here.
	Piece func(family, size string, length units.Length) (network.Piece, error)
	// Keep lists runs that stay as they are.
	Keep []string
	// What may be done.
	Resize, ReplaceHose, ShortenHose, Seal, Repair, Bleed bool
	// SwapFittings allows elbows and joints of duct that stays to be made anew,
	// and new duct to have elbows of long radius.
	SwapFittings bool
	// TakeDown takes down the duct that other ways leave out; otherwise it stays
	// where it is, cut off.
	TakeDown bool
	// Tail is the hose left at a tool whose hose becomes pipe (default 0.8 m).
	Tail units.Length
	// Min and Max limit the diameters of new duct; 0 means no limit.
	Min, Max units.Length
	// Only limits the sizes of single runs, by run and size name.
	Only map[string][]string
	// Fix settles runs beforehand, whatever the other options say of them.
	Fix map[string]Fixed
	// Seals maps leaks that may be sealed to what that takes; a leak that is
	// not named stays.
	Seals map[string]Seal
	// Repairs lists leaking gates that may be made tight.
	Repairs []Repair
	// Bleeds lists points at which a bleed inlet may be built, with the size
	// names of the family BleedFamily (default: the family of the duct that
	// leaves the point) and the coefficient of screen and gate (default 1.5).
	Bleeds      []string
	BleedSizes  []string
	BleedFamily string
	BleedK      float64
	// BleedLeak is the free area of its closed gate.
	BleedLeak units.Area
	// Companions is the largest number of gates or bleeds opened with the
	// running tools of a state.
	Companions int
	Limits     network.Limits
	// Later are tools that come later, with the runs that serve them alone.
	Later Later
	// variant is what a way of the ducts or another collector brings with it.
	variant *variant
}

// Seal is what sealing a leak takes.
type Seal struct {
	// Cost is the price from the file; Priced false takes the price book's.
	Cost   price.Money
	Priced bool
	// Leaves is the free area that remains.
	Leaves units.Area
}

// Repair is what making a leaking gate tight takes.
type Repair struct {
	Tool string
	Port int
	Seal
}

// Problem is a redesign to be searched: choices with alternatives, the rules
// of every state, and what everything costs. Formulate makes one.
type Problem struct {
	// Base is the shop as found, with every bleed that may be built already
	// in its Spec, shut and tight.
	Base    *network.Network
	States  []network.State
	Limits  network.Limits
	Choices []Choice
	// Companions is the number of openings a state may have besides its
	// running tools; Companion lists what may be opened.
	Companions int
	Companion  []Companion

	// eased are the limits of every state where it is asked what if less were
	// asked, usually nil.
	eased   []network.Limits
	builder *parts.Builder
	joints  []joint
	// Taken says what the problem takes as decided: ways of the ducts, the
	// collector. fixed are its lines, fixedCost their cost.
	Taken Taken
	// Later is what comes later, as the options have it.
	Later     Later
	fixed     []parts.Line
	fixedCost price.Money
	// runChoice is the choice of each run, −1 for a run that stays.
	runChoice []int
	// Dropped names alternatives that were not offered, and why: no price,
	// not sold.
	Dropped []string
}

// limits are those of a state.
func (p *Problem) limits(state int) *network.Limits {
	if p.eased != nil {
		return &p.eased[state]
	}
	return &p.Limits
}

// Companion is something a state may open besides its running tools: a tool's
// gates, or a bleed inlet.
type Companion struct {
	// Name is the tool's or bleed's name.
	Name string
	// Tool and Bleed are indices into the Spec; one of them is −1.
	Tool, Bleed int
	// Choice is the choice whose non-zero alternative builds it, −1 if it is
	// there already; Alternative is the one that does.
	Choice, Alternative int
}

// Kind says what a choice is about.
type Kind uint8

// Kinds of choice.
const (
	RunChoice Kind = iota
	SealChoice
	RepairChoice
	BleedChoice
	// WayChange and CollectorChange are kinds of what is Taken, not of choices.
	WayChange
	CollectorChange
)

// Choice is one decision of the redesign.
type Choice struct {
	Kind Kind
	// ID is the run, leak, tool (with its port, where it has several) or point it
	// is about.
	ID string
	// Run is the index of the run of a RunChoice, else −1.
	Run int
	// Alternatives: the first leaves everything as it is, at no cost; where
	// Build is set there is nothing yet, and every one is bought.
	Alternatives []Alternative
	// Build marks a run that is still to be built, Later one that comes with a
	// tool that comes later.
	Build, Later bool
	// barred are the alternatives that no plan may take.
	barred uint64
}

// changes is how many changes an alternative of the choice is.
func (c *Choice) changes(a int) int {
	if a > 0 || c.Build {
		return 1
	}
	return 0
}

// own is the weight of an alternative by itself.
func (c *Choice) own(a int) weight { return weigh(c.Alternatives[a].Cost, c.changes(a)) }

// Alternative is one way to settle a choice.
type Alternative struct {
	// Label says it in words, "160 mm dust spiral".
	Label string
	// From says in words what it takes the place of; empty where that is the
	// run itself.
	From string
	// Changes make it from the shop as found.
	Changes []network.Change
	// Pieces are the pieces of the run under this alternative (RunChoice).
	Pieces []network.Piece
	// Lines are what is bought and done, without the joints.
	Lines []parts.Line
	// Cost is the planning cost of Lines.
	Cost price.Money
	// fresh says that the run's joints are made new, rejoined that the one at
	// its downstream end is while the duct stays; bent that the elbows are new
	// in duct that stays.
	fresh, rejoined, bent bool
	// stands says of a run that comes later that its wye is there already, with a
	// cap, and fits.
	stands bool
	// settled are Changes plus, for a choice about openings, what the other
	// alternatives would change, as found.
	settled []network.Change
}

// Plan is one alternative per choice.
type Plan struct {
	Pick []int
	// Cost is the planning cost: run terms and joint terms.
	Cost price.Money
	// Energy is the energy money of a search with Settings.Energy, else 0.
	Energy price.Money
	// Changed counts the choices that do not leave things as they are.
	Changed int
}

// Total is planning cost and energy money.
func (p *Plan) Total() price.Money { return p.Cost + p.Energy }

// StateResult is how a plan does in one state.
type StateResult struct {
	// State is as asked, with the companions that the plan opens in Open.
	State      network.State
	Companions []string
	Solution   *network.Solution
	Verdict    *network.Verdict
	Scores     network.Scores
}
