package shopfile

import (
	"slices"
	"strings"

	"wyewright/network"
)

// runChange is what is written anew of a run that stays: its pieces, or its ends
// where it was turned. The coefficients are those of the run as it is to be.
type runChange struct {
	*network.Run
	pieces, keep, turned bool
}

// run writes a run that changed.
func (w *rewriter) run(c runChange) {
	n := w.member("runs", c.ID)
	var drop, add []string
	if c.turned {
		drop, add = []string{"from", "to", "via", "main"}, w.ends(c.Run)
	}
	if c.pieces || c.turned && len(c.Pieces) > 1 {
		drop = slices.Concat(drop, []string{"pieces", "length"}, shortKeys)
		add = append(add, w.pieces(c.Pieces))
	}
	switch {
	case c.pieces && !c.keep:
		drop = append(drop, "k", "new")
		add = append(add, "new: true")
	case n.child("k") != nil && !sameK(c.K, w.f.Spec.Runs[runIndex(&w.f.Spec, c.ID)].K):
		drop = append(drop, "k")
		add = append(add, overrideText(c.K)...)
	}
	for _, x := range []struct {
		key, as string
		is      bool
	}{{"elbows", "long", w.f.long(lastPiece(c.Run))}, {"rejoined", "true", c.Rejoined}} {
		if x.is == (n.child(x.key) != nil) {
			continue
		}
		if drop = append(drop, x.key); x.is {
			add = append(add, x.key+": "+x.as)
		}
	}
	if c.Main && (c.turned || n.child("main") == nil) {
		add = append(add, "main: true")
	}
	w.s.remap(n, drop, add)
}

// overrideText writes the coefficients of a run; nothing where it has none.
func overrideText(k network.Overrides) []string {
	var parts []string
	for _, x := range []struct {
		key string
		k   *float64
	}{{"bends", k.Bends}, {"junction", k.Junction}, {"steps", k.Steps}} {
		if x.k != nil {
			parts = append(parts, x.key+": "+decimal(*x.k))
		}
	}
	if len(parts) == 0 {
		return nil
	}
	return []string{"k: {" + strings.Join(parts, ", ") + "}"}
}

// pieces writes the pieces of a run.
func (w *rewriter) pieces(ps []network.Piece) string {
	var out []string
	for _, p := range ps {
		out = append(out, w.piece(p))
	}
	return "pieces: [" + strings.Join(out, ", ") + "]"
}

// piece writes one piece, with what differs from the catalogue and the file's
// defaults.
func (w *rewriter) piece(p network.Piece) string {
	parts := []string{"size: " + quoted(p.Size)}
	std, err := w.f.pieceAs(&w.fitted, p.Make.Family, p.Size, 0)
	if err != nil || !near(float64(std.Diameter), float64(p.Diameter)) {
		parts = append(parts, "diameter: "+decimal(float64(p.Diameter)/1e-3)+" mm")
		std.Make = p.Make
		if fam, ok := w.f.catalog.Family(p.Make.Family); ok {
			std.Make = fam.Make
			w.f.defaults.apply(&std)
			w.fitted.Make(&std.Make)
		}
	}
	parts = append(parts, "family: "+quoted(p.Make.Family))
	if p.Length > 0 {
		parts = append(parts, "length: "+w.lengthText(p.Length))
	}
	if !near(float64(std.Make.Roughness), float64(p.Make.Roughness)) {
		parts = append(parts, "roughness: "+decimal(float64(p.Make.Roughness)/network.Factor(w.fitted.Roughness, p.Make.Family)/1e-3)+" mm")
	}
	if !near(std.Make.Multiple, p.Make.Multiple) {
		parts = append(parts, "multiple: "+decimal(p.Make.Multiple/network.Factor(w.fitted.Friction, p.Make.Family)))
	}
	if p.K != 0 {
		parts = append(parts, "k: "+decimal(p.K))
	}
	return "{" + strings.Join(parts, ", ") + "}"
}
