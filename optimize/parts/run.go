package parts

import (
	"math"

	"wyewright/network"
	"wyewright/network/catalog"
	"wyewright/network/units"
	"wyewright/optimize/price"
)

// Route is what the parts of a run depend on beside its pieces.
type Route struct {
	// Length is the whole length: a piece without a length takes what the
	// others leave.
	Length units.Length
	// Corners are the bends inside the run, degrees. They belong to the last
	// piece, as in the network's own loss.
	Corners []float64
	// Height above the floor, for the work.
	Height units.Length
	// Port is the machine's spigot at the upstream end, or nil.
	Port *network.Port
}

// Run gives the lines for replacing a run by another one in place; before is
// nil for a run that was not there, and an after without pieces takes the run
// away. Pieces that are the same at either end of the run stay and cost
// nothing, and a hose that only gets shorter is cut; so a run that is kept has
// no lines. The joint at the downstream end belongs to Joint, the one with a
// port to the run.
//
// The gate of the run is bought if it is new or its size changes.
func (b *Builder) Run(before *network.Run, after network.Run, r Route) []Line {
	var old []network.Piece
	if before != nil {
		old = resolve(before.Pieces, r.Length)
	}
	pieces := resolve(after.Pieces, r.Length)
	head, tail := kept(old, pieces)
	where := after.ID
	if where == "" && before != nil {
		where = before.ID
	}
	l := b.list(where, r.Height, 16)
	for i := range old {
		if i < head || i >= len(old)-tail {
			n := i
			if i >= head {
				n = i - len(old) + len(pieces)
			}
			l.shorten(&old[i], pieces[n].Length)
			continue
		}
		l.remove(&old[i])
	}
	last := len(pieces) - 1
	for i := range pieces {
		fresh := i >= head && i < len(pieces)-tail
		beforeFresh := i > head && i-1 < len(pieces)-tail
		switch {
		case i > 0 && (fresh || beforeFresh):
			l.connect(b.end(&pieces[i-1]), 0, b.end(&pieces[i]))
		case i == 0 && fresh && r.Port != nil:
			l.connect(spigot(r.Port.Size, r.Port.Diameter), 0, b.end(&pieces[i]))
		}
		if !fresh {
			continue
		}
		var corners []float64
		if i == last {
			corners = r.Corners
		}
		l.piece(&pieces[i], corners)
	}
	if after.Gate != nil && len(pieces) > 0 {
		p := &pieces[last]
		if before == nil || before.Gate == nil || len(old) == 0 || !catalog.Same(old[len(old)-1].Size, p.Size) {
			l.buy(price.Gate, p.Make.Family, 1, p.Size)
			l.work(price.FitGate, 1, "each", p.Diameter)
		}
	}
	if len(l.lines) == 0 {
		return nil
	}
	return l.lines
}

// Shorten gives the lines for cutting a hose to a length: work, nothing
// bought; the rest is a spare.
func (b *Builder) Shorten(where string, p network.Piece, to, height units.Length) []Line {
	l := b.list(where, height, 3)
	l.shorten(&p, to)
	return l.lines
}

// resolve gives pieces without a length an equal share of what is left of the
// whole.
func resolve(pieces []network.Piece, whole units.Length) []network.Piece {
	open, left := 0, whole
	for i := range pieces {
		if pieces[i].Length <= 0 {
			open++
		}
		left -= pieces[i].Length
	}
	if open == 0 {
		return pieces
	}
	out := append([]network.Piece(nil), pieces...)
	for i := range out {
		if out[i].Length <= 0 {
			out[i].Length = max(left, 0) / units.Length(open)
		}
	}
	return out
}

// lengthGrain is the difference in length that counts as none: a millimetre.
const lengthGrain units.Length = 0.001

// stays reports whether a piece can stay where it is: same family, elbows and
// size, and the same length or a hose that gets shorter.
func stays(old, p *network.Piece) bool {
	d := old.Length - p.Length
	return old.Make.Family == p.Make.Family && old.Make.ElbowRD == p.Make.ElbowRD && catalog.Same(old.Size, p.Size) &&
		(d >= -lengthGrain && d <= lengthGrain || d > 0 && p.Make.Hose())
}

// kept counts the pieces that stay at the upstream and the downstream end.
func kept(old, now []network.Piece) (head, tail int) {
	for head < len(old) && head < len(now) && stays(&old[head], &now[head]) {
		head++
	}
	for tail < len(old)-head && tail < len(now)-head && stays(&old[len(old)-1-tail], &now[len(now)-1-tail]) {
		tail++
	}
	return head, tail
}

// stock is the kind of straight goods that a piece is made of.
func stock(p *network.Piece) price.Kind {
	if p.Make.Hose() {
		return price.Hose
	}
	return price.Pipe
}

// remove lists a piece as a spare, with the time to take it down.
func (l *list) remove(p *network.Piece) {
	l.spare(p, p.Length, Remove)
	l.work(price.Strip, float64(p.Length), "m", p.Diameter)
}

func (l *list) spare(p *network.Piece, length units.Length, a Action) {
	k := stock(p)
	i := price.Item{Kind: k, Family: p.Make.Family}
	i.Sizes[0] = p.Size
	l.add(Line{Item: i, Qty: float64(length), Unit: k.Unit(), Action: a})
}

// shorten cuts a hose that stays; anything else that stays costs nothing.
func (l *list) shorten(p *network.Piece, to units.Length) {
	if p.Length-to <= lengthGrain {
		return
	}
	l.spare(p, to, Reuse)
	l.spare(p, p.Length-to, Remove)
	l.work(price.Shorten, 1, "each", p.Diameter)
}

// piece buys and hangs a new piece with the bends in it.
func (l *list) piece(p *network.Piece, corners []float64) {
	length := float64(p.Length)
	if p.Make.Hose() {
		l.buy(price.Hose, p.Make.Family, length, p.Size)
		l.hoseEnds(p.Size)
		l.work(price.FitHose, 1, "each", p.Diameter)
		return
	}
	l.buy(price.Pipe, p.Make.Family, length, p.Size)
	if length > 0 {
		l.lines[len(l.lines)-1].Waste = l.b.o.Waste
	}
	elbows := 0
	f, ok := l.b.Catalog.Family(p.Make.Family)
	for _, degrees := range corners {
		elbows += l.elbows(degrees, p.Make.Family, p.Size, ok && f.Long(&p.Make))
	}
	l.buy(price.Hanger, "", ceil(length/float64(l.b.o.HangerSpacing))+float64(elbows))
	l.work(price.Hang, length, "m", p.Diameter)
	l.work(price.Fit, float64(elbows), "each", p.Diameter)
	if !ok {
		l.joints(2*elbows, p.Diameter)
		return
	}
	sticks := max(pieces(p.Length, f.Stick), 1)
	between := sticks - 1
	switch f.Joint {
	case catalog.Sleeve, catalog.Bell:
		l.buy(price.Coupling, f.Name, float64(between), p.Size)
	case catalog.Clamp:
		l.buy(price.Coupling, f.Name, float64(between+2*elbows), p.Size)
	case catalog.Crimp:
		l.work(price.Seam, float64(sticks), "stick", p.Diameter)
	}
	l.joints(between+2*elbows, p.Diameter)
}

// ceil rounds up, but not for the last bits of a quotient.
func ceil(x float64) float64 { return math.Ceil(x - 1e-9) }
