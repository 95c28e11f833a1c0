package network

// Joint is a place where ducts are put together, in the order in which the
// air passes them. A point with one run in and one out is one joint; a point
// with a main and k branches is k joints, the first of them joining the main
// and the first branch, each later one the common duct and one more branch.
type Joint struct {
	Point string
	// Main, Branch and Common are indices into Spec.Runs. Main is −1 where
	// the common duct itself comes from the joint before; Branch is −1 where
	// only two runs meet; Common is −1 at the collector's inlet.
	Main, Branch, Common int
	// WyeDegrees is the angle of the wye; 0 where there is no branch.
	WyeDegrees float64
	// BranchBend and MainBend are the bends that turn each leg into the
	// joint, in degrees; 0 means straight.
	BranchBend, MainBend float64
	// Opposite marks a branch that enters opposite another one, neither of them
	// by a new wye of its own (Run.Rejoined): a fault of layout without a
	// published coefficient.
	Opposite bool
	// Splits marks a joint at which the air parts: Common is the run in, Main
	// and Branch lead on.
	Splits bool
}
