package shopfile

import (
	"fmt"
	"slices"
	"strings"

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
	i := slices.IndexFunc(s.Runs, func(x network.Run) bool { return x.ID == e.Run })
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

// swap takes out of a run's line what no longer holds of it, and says what is
// there now.
func (w *rewriter) swap(e SwapEdit) {
	n := w.member("runs", e.Run)
	var drop, lapsed, add []string
	if e.Bends {
		drop, lapsed = append(drop, "elbows"), append(lapsed, "bends")
		i := slices.IndexFunc(w.f.Spec.Runs, func(x network.Run) bool { return x.ID == e.Run })
		last := *lastPiece(&w.f.Spec.Runs[i])
		last.Make.Elbow, last.Make.ElbowRD = e.Elbow, e.ElbowRD
		if w.f.long(&last) {
			add = append(add, "elbows: long")
		}
	}
	if e.Joint {
		drop, lapsed = append(drop, "rejoined"), append(lapsed, "junction")
		add = append(add, "rejoined: true")
	}
	if k := n.child("k"); k != nil {
		drop = append(drop, "k")
		var rest []string
		for _, x := range k.entries {
			if !slices.Contains(lapsed, x.key.text) {
				rest = append(rest, x.key.text+": "+x.value.text)
			}
		}
		if len(rest) > 0 {
			add = append(add, "k: {"+strings.Join(rest, ", ")+"}")
		}
	}
	w.s.remap(n, drop, add)
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
