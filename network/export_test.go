package network

// NewGeneral compiles a spec for the general solver, a tree too.
func NewGeneral(s Spec) (*Network, error) { return compile(s, true) }
