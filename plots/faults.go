package plots

import (
	"fmt"
	"math"
	"slices"
)

// FaultData is the shop with what a fit to the readings found wrong with it.
type FaultData struct {
	Plan PlanData // a Title of "" prints "What was found, and where"
	// AreaUnit is that of the areas of openings, for example "cm2".
	AreaUnit string
	Faults   []Fault
}

// Fault is one thing that was found.
type Fault struct {
	// Letter names the fault on the plan, for example "A": it stands before its
	// label and beside its rivals. "" is for a fault without rivals. No two
	// faults have the same.
	Letter string
	Place  FaultPlace
	// Size is the area of an opening or the K of an extra loss, Doubt one
	// standard deviation of it; 0 where unknown. A reading has neither.
	Size, Doubt float64
	// Text is the label of a wrong reading, for example "12 m/s in class".
	Text string
	// Rivals are the other places where the same could be: the readings cannot
	// tell them apart.
	Rivals []FaultPlace
}

// FaultPlace is where a fault is, or may be.
type FaultPlace struct {
	Kind FaultKind
	At   [3]float64 // of an opening: within the shop
	Run  string     // of the others: the name of a run of the plan
}

// FaultKind says what is wrong.
type FaultKind int

// The kinds of fault, in the order of the key.
const (
	FaultOpening FaultKind = iota // air comes in
	FaultLoss                     // a blockage, a crushed hose
	FaultReading                  // a reading that contradicts the others

	faultKinds
)

// String returns the words of the key.
func (k FaultKind) String() string {
	if k < 0 || k >= faultKinds {
		return "unknown"
	}
	return [faultKinds]string{"opening", "extra loss", "wrong reading, left out"}[k]
}

// FaultMap draws the plan of the shop with the faults on it. An opening is a
// circle whose area is in proportion to its own, with label "18 cm2 ± 1"; an
// extra loss is a cross of bars on the middle of its run, with label
// "K 3.2 ± 0.4"; a wrong reading is a gauge struck out at its run. A place where
// the same fault could be as well is an open, dashed circle with its letter. The
// number of digits follows the doubt. Labels of faults are placed before those
// of the shop. It fails as [PlanView] does, on no fault at all, an unknown kind
// or run, an opening outside the shop, sizes that are not above zero, doubts
// below zero, rivals without a letter, and a letter used twice.
func FaultMap(d FaultData) (*Figure, error) {
	v := fromAbove("FaultMap", "What was found, and where")
	if d.Plan.Title == "" {
		d.Plan.Title = v.title
	}
	if err := d.check(v.picture); err != nil {
		return nil, err
	}
	s := d.Plan.roomy(v, d.legend(), func(s *shop) {
		f := faultPen{shop: s, FaultData: d}
		s.ducts()
		f.openings()
		s.marks()
		f.signs()
		f.rivals()
		f.labels()
		s.labels()
	})
	return s.figure(d.Plan.Title), nil
}

func (d FaultData) check(picture string) error {
	if err := d.Plan.check(picture); err != nil {
		return err
	}
	c := &check{picture: picture}
	c.some(len(d.Faults), "Faults")
	var letters []string
	for i, f := range d.Faults {
		field := fmt.Sprintf("Faults[%d]", i)
		d.checkPlace(c, f.Place, field+".Place")
		switch {
		case f.Letter == "" && len(f.Rivals) > 0:
			c.add(ErrEmpty, "rivals need a letter", "%s.Letter", field)
		case f.Letter != "" && slices.Contains(letters, f.Letter):
			c.add(ErrValue, "a second fault "+f.Letter, "%s.Letter", field)
		}
		letters = append(letters, f.Letter)
		if f.Place.Kind == FaultReading {
			if f.Letter+f.Text == "" {
				c.add(ErrEmpty, "no label", "%s.Text", field)
			}
		} else {
			if c.finite(f.Size, "%s.Size", field); f.Size <= 0 {
				c.add(ErrValue, fmt.Sprintf("%v is not above zero", f.Size), "%s.Size", field)
			}
			c.least(f.Doubt, "%s.Doubt", field)
		}
		for k, r := range f.Rivals {
			d.checkPlace(c, r, fmt.Sprintf("%s.Rivals[%d]", field, k))
		}
	}
	return c.err()
}

// checkPlace records the faults of a place.
func (d FaultData) checkPlace(c *check, p FaultPlace, field string) {
	switch p.Kind {
	case FaultOpening:
		if c.place(p.At, "%s.At", field); !d.Plan.covers(p.At) {
			c.add(ErrValue, "outside the shop", "%s.At", field)
		}
	case FaultLoss, FaultReading:
		if d.run(p.Run) < 0 {
			c.add(ErrValue, fmt.Sprintf("no run %q in the plan", p.Run), "%s.Run", field)
		}
	default:
		c.add(ErrValue, "unknown", "%s.Kind", field)
	}
}

// covers reports whether a place lies within what the plan shows from above.
func (d PlanData) covers(at [3]float64) bool {
	for axis := range 2 {
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, p := range d.places() {
			lo, hi = math.Min(lo, p[axis]), math.Max(hi, p[axis])
		}
		if slack := 1e-6 * (1 + hi - lo); at[axis] < lo-slack || at[axis] > hi+slack {
			return false
		}
	}
	return true
}

// run is the index of a run of the plan, −1 where there is none.
func (d FaultData) run(name string) int {
	return slices.IndexFunc(d.Plan.Runs, func(r PlanRun) bool { return r.Name == name })
}
