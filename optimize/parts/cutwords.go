package parts

import (
	"fmt"
	"strings"

	"wyewright/network/units"
	"wyewright/optimize/price"
)

// String names the piece: "main 2 (1 of 2)".
func (p *CutPiece) String() string {
	if p.Of <= 1 {
		return p.Where
	}
	return fmt.Sprintf("%s (%d of %d)", p.Where, p.Part, p.Of)
}

// Title says what is cut: "dust spiral 130 mm: 4 sticks of 3000 mm, optimal".
func (g *CutGroup) Title(sys units.System) string {
	return fmt.Sprintf("%s %s: %s of %s, %s", g.Family, g.Size, Amount(float64(len(g.Sticks)), "stick", sys), Mark(g.Stick, sys), g.Status())
}

// Lines say how to cut each stick, one line a stick; sticks that stay whole
// share one. What is left over follows, and what duct that comes out would do
// for.
func (g *CutGroup) Lines(sys units.System) []string {
	var out, whole []string
	for n, s := range g.Sticks {
		if len(s.Pieces) == 1 && s.Pieces[0].Length == s.Length {
			whole = append(whole, s.Pieces[0].String())
			continue
		}
		var cuts []string
		for _, p := range s.Pieces {
			cuts = append(cuts, Mark(p.Length, sys)+" for "+p.String())
		}
		line := fmt.Sprintf("stick %d: %s", n+1, strings.Join(cuts, "; "))
		if s.Rest > lengthGrain {
			line += "; rest " + Mark(s.Rest, sys)
		}
		out = append(out, line)
	}
	if n := len(whole); n > 0 {
		name := "stick 1"
		if n > 1 {
			name = fmt.Sprintf("sticks 1 to %d", n)
		}
		out = append([]string{name + ", whole: " + strings.Join(whole, "; ")}, out...)
	}
	if w := g.Waste(); w > 0 {
		out = append(out, fmt.Sprintf("left over: %.0f %% of the pipe", 100*w))
	}
	if g.NoKerf < len(g.Sticks) && g.NoKerf > 0 {
		out = append(out, Amount(float64(g.NoKerf), "stick", sys)+" would do if pieces that share one were shorter by the width of the saw")
	}
	var old []string
	for _, r := range g.Instead {
		old = append(old, fmt.Sprintf("%s out of %s for %s", Mark(r.Piece.Length, sys), r.From, r.Piece.String()))
	}
	if len(old) > 0 {
		out = append(out, "duct that comes out would do, if it comes out whole (not counted on): "+strings.Join(old, "; "))
	}
	return out
}

// CutNotes say what to know about the lengths of a cut list; none where
// nothing is cut.
func (b *Bill) CutNotes(sys units.System) []string {
	if len(b.Cuts) == 0 {
		return nil
	}
	notes := []string{"Lengths run along the middle of the duct, elbows included: hold each piece up before you saw it."}
	if bent := b.bent(); len(bent) > 0 {
		notes = append(notes, "Saw again at the bends inside a run: "+strings.Join(bent, ", ")+".")
	}
	if k := b.Cuts[0].Kerf; k > 0 {
		notes = append(notes, fmt.Sprintf("Each cut takes %s off the stick.", kerfWords(k, sys)))
	}
	return notes
}

// bent lists the runs on the cut list that have elbows inside, with how many:
// "2 in drop A".
func (b *Bill) bent() []string {
	elbows := map[string]float64{}
	for _, r := range b.Rows {
		if r.Action != Buy || r.Item.Kind < price.Elbow90 || r.Item.Kind > price.LongElbow45 {
			continue
		}
		for _, p := range r.Places {
			if !p.Point {
				elbows[p.Where] += p.Qty
			}
		}
	}
	var out []string
	for i := range b.Cuts {
		for _, s := range b.Cuts[i].Sticks {
			for _, p := range s.Pieces {
				if n := elbows[p.Where]; n > 0 {
					out = append(out, decimal(n, 0)+" in "+p.Where)
					delete(elbows, p.Where)
				}
			}
		}
	}
	return out
}

// kerfWords is a width of cut, to a tenth of a millimetre.
func kerfWords(k units.Length, sys units.System) string {
	if sys == units.US {
		return Mark(k, sys)
	}
	return decimal(1000*float64(k), 1) + " mm"
}
