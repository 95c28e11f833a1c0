package shopfile

import (
	"fmt"

	"wyewright/network"
	"wyewright/network/loss"
)

// SwapEdit makes fittings of a run anew whose duct stays.
type SwapEdit struct {
	Run string
	// Bends says that its elbows are made anew, as Elbow and ElbowRD have it:
	// what k says of its bends lapses.
	Bends   bool
	Elbow   loss.ElbowStyle
	ElbowRD float64
	// Joint says that the joint at its downstream end is.
	Joint bool
}

// apply makes the same change in a Spec.
func (e *SwapEdit) apply(s *network.Spec) error {
	i := runIndex(s, e.Run)
	if i < 0 {
		return fmt.Errorf("shopfile: edit of the fittings of run %q: no such run", e.Run)
	}
	r := &s.Runs[i]
	if e.Bends {
		m := &r.Pieces[len(r.Pieces)-1].Make
		m.Elbow, m.ElbowRD, r.K.Bends = e.Elbow, e.ElbowRD, nil
	}
	if e.Joint {
		r.Rejoined, r.K.Junction = true, nil
	}
	return nil
}

func lastPiece(r *network.Run) *network.Piece { return &r.Pieces[len(r.Pieces)-1] }

// elbows bends a run with the elbows of long radius of its last piece.
func (d *decoder) elbows(n *node, r *network.Run) {
	if _, ok := d.word(n, "long"); !ok || len(r.Pieces) == 0 {
		return
	}
	last := lastPiece(r)
	switch {
	case last.Make.Family == "": // its own fault is reported
	case last.Make.Hose():
		d.fault(n, "leave it out: bends stand on the last piece of a run, and hose has no elbows", "run %q ends in a hose", r.ID)
	case !d.file.bendLong(last):
		d.fault(n, "leave it out: the run has the family's usual elbows", "%s is not sold with elbows of long radius in size %s", last.Make.Family, last.Size)
	}
}

// bendLong gives a piece the elbows of long radius that its family sells in its
// size; false where there are none.
func (f *File) bendLong(p *network.Piece) bool {
	fam, ok := f.catalog.Family(p.Make.Family)
	if !ok {
		return false
	}
	style, rd, sold := fam.LongElbow(p.Size)
	if sold {
		p.Make.Elbow, p.Make.ElbowRD = style, rd
	}
	return sold
}

// long reports whether a piece is bent with elbows of longer radius than the
// usual ones of its family.
func (f *File) long(p *network.Piece) bool {
	fam, ok := f.catalog.Family(p.Make.Family)
	return ok && fam.Long(&p.Make)
}
