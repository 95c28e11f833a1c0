package price

import "fmt"

// Kind is a kind of part or work.
type Kind uint8

// Kinds of item, with the base unit of their quantity and what Sizes hold.
const (
	Pipe        Kind = iota // m; size
	Hose                    // m; size
	Elbow90                 // each; size
	Elbow45                 // each; size
	LongElbow90             // each; size: of longer radius than the family's usual one
	LongElbow45             // each; size
	Wye                     // each; common size, branch size
	Reducer                 // each; one size, other size
	Coupling                // each; size (a ring clamp for clamp-together duct)
	Adapter                 // each; size of this family, size of the other family
	HoseClamp               // each; size
	Gate                    // each; size
	Powered                 // each; size: a powered gate
	Cap                     // each; size
	Saddle                  // each; size of the branch: a collar set on a cut duct
	Screen                  // each; size
	GateSeal                // each; size: what a leaking gate is repaired with
	Hanger                  // each
	Sealant                 // m of seam
	Screws                  // each
	Bonding                 // each
	SealKit                 // each; Family may name one leak of the shop
	AccessDoor              // each
	TestPlug                // each
	Whole                   // each; Family says what: something with one price in place
	Labour                  // h; Family is the Task
	kinds
)

// kindNames are the names in files and on bills, in the order of the
// constants.
var kindNames = [kinds]string{"pipe", "hose", "elbow 90", "elbow 45", "long elbow 90", "long elbow 45", "wye", "reducer", "coupling", "adapter", "hose clamp",
	"gate", "powered gate", "cap", "saddle", "screen", "gate seal", "hanger", "sealant", "screws", "bonding", "seal kit",
	"access door", "test plug", "in place", "labour"}

// String returns the name of the kind, such as "hose clamp".
func (k Kind) String() string {
	if k < kinds {
		return kindNames[k]
	}
	return fmt.Sprintf("Kind(%d)", uint8(k))
}

// ParseKind returns the kind of that name. The error lists the known names.
func ParseKind(name string) (Kind, error) {
	for k, n := range kindNames {
		if n == name {
			return Kind(k), nil
		}
	}
	return 0, fmt.Errorf("price: unknown kind of part %q (known: %q)", name, kindNames)
}

// Unit returns the base unit in which quantities of the kind are given.
func (k Kind) Unit() string {
	switch k {
	case Pipe, Hose, Sealant:
		return "m"
	case Labour:
		return "h"
	}
	return "each"
}

// Item is something to buy or to do. It is comparable: equal items are one
// line of a bill.
type Item struct {
	Kind Kind
	// Family is the duct family; empty for goods of no family.
	Family string
	// Sizes are names of sizes, as the Kind says; unused ones are empty.
	Sizes [3]string
}

// String returns the item in words: "wye, dust spiral 160 mm × 120 mm".
func (i Item) String() string {
	s := i.Kind.String()
	sep := ", "
	if i.Family != "" && i.Family != s {
		s, sep = s+sep+i.Family, " "
	}
	for _, size := range i.Sizes {
		if size != "" {
			s, sep = s+sep+size, " × "
		}
	}
	return s
}
