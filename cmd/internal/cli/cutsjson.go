package cli

import (
	"slices"

	"wyewright/network/units"
	"wyewright/optimize/parts"
)

func cutJSON(c parts.CutPiece) jsonCut { return jsonCut{c.Where, float64(c.Length), c.Part, c.Of} }

func (c *jsonCut) piece() parts.CutPiece {
	return parts.CutPiece{Where: c.Run, Length: units.Length(c.Length), Part: c.Part, Of: c.Of}
}

func placesJSON(r *parts.Row) []jsonPlace {
	var out []jsonPlace
	for _, p := range r.Places {
		j := jsonPlace{From: p.Runs[0], To: p.Runs[1], Qty: p.Qty}
		if p.Point {
			j.Point = p.Where
		} else {
			j.Run = p.Where
		}
		out = append(out, j)
	}
	return out
}

// places are those that the JSON holds.
func (j *jsonRow) places() []parts.Place {
	var out []parts.Place
	for _, p := range j.Places {
		out = append(out, parts.Place{Where: p.Run + p.Point, Point: p.Point != "", Runs: [2]string{p.From, p.To}, Qty: p.Qty})
	}
	return out
}

// cutsJSON says of each family and size how it is cut.
func cutsJSON(b *parts.Bill) []jsonCuts {
	out := []jsonCuts{}
	for i := range b.Cuts {
		g := &b.Cuts[i]
		j := jsonCuts{Family: g.Family, Size: g.Size, Stick: float64(g.Stick), Kerf: float64(g.Kerf), Sticks: len(g.Sticks), Least: g.Least, NoKerf: g.NoKerf,
			Status: g.Status(), Waste: g.Waste(), Offcuts: []float64{}}
		for _, l := range g.Offcuts() {
			j.Offcuts = append(j.Offcuts, float64(l))
		}
		for _, s := range g.Instead {
			j.Instead = append(j.Instead, jsonInstead{cutJSON(s.Piece), s.From, float64(s.Length)})
		}
		out = append(out, j)
	}
	return out
}

// groups puts sticks together by family and size, with what the JSON says of
// them; a plan of an earlier version says nothing.
func (j *jsonBill) groups(sticks []parts.Stick) []parts.CutGroup {
	var out []parts.CutGroup
	for _, s := range sticks {
		n := slices.IndexFunc(out, func(g parts.CutGroup) bool { return g.Family == s.Family && g.Size == s.Size })
		if n < 0 {
			n = len(out)
			out = append(out, parts.CutGroup{Family: s.Family, Size: s.Size, Stick: s.Length})
		}
		out[n].Sticks = append(out[n].Sticks, s)
	}
	for i := range out {
		g := &out[i]
		for _, c := range j.Cuts {
			if c.Family != g.Family || c.Size != g.Size {
				continue
			}
			g.Kerf, g.Least, g.NoKerf = units.Length(c.Kerf), c.Least, c.NoKerf
			for _, s := range c.Instead {
				g.Instead = append(g.Instead, parts.Instead{Piece: s.piece(), From: s.From, Length: units.Length(s.Length)})
			}
		}
	}
	return out
}
