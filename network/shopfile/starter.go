package shopfile

import (
	_ "embed"
	"slices"
)

//go:embed starter.yaml
var starter []byte

// Starter returns a commented shop file that describes a small invented shop,
// to be changed into the user's own. It decodes without fault or warning.
func Starter() []byte { return slices.Clone(starter) }

//go:embed starter-us.yaml
var starterUS []byte

// StarterUS is Starter in US units and dollars, with duct as it is sold there.
func StarterUS() []byte { return slices.Clone(starterUS) }

//go:embed reference.yaml
var reference []byte

// Reference returns a shop file that shows every section and every key once,
// with a comment where it needs one; what excludes another key stands in a
// comment after "or". It decodes without fault and describes no shop of sense.
func Reference() []byte { return slices.Clone(reference) }
