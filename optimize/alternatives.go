package optimize

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"wyewright/network"
	"wyewright/network/catalog"
	"wyewright/network/units"
	"wyewright/optimize/parts"
)

// alternatives lists what may become of a run, the run as it is first, the
// rest by cost.
func (f *formulator) alternatives(run int) []Alternative {
	r := &f.n.Spec().Runs[run]
	switch {
	case f.o.comesLater(r.ID):
		return f.comingRun(run)
	case f.o.variant.builds(r.ID):
		return f.toBuild(run)
	}
	out := []Alternative{{Label: "keep", Pieces: r.Pieces}}
	var extra []Alternative
	hose := slices.IndexFunc(r.Pieces, func(p network.Piece) bool { return p.Make.Hose() })
	if f.o.Resize && hose < 0 || f.o.ReplaceHose && hose >= 0 || f.mustChange(r) {
		for _, name := range f.families(r.ID) {
			fam, ok := f.b.Catalog.Family(name)
			if !ok || fam.Hose && hose < 0 {
				continue
			}
			for _, s := range fam.Sizes {
				if f.allowed(r.ID, s) && !same(r, fam, s) && (!fam.Hose || likeUnit(r, s)) {
					out = f.replace(out, run, fam, s, hose >= 0, nil)
					extra = append(extra, f.longElbows(run, fam, s, hose >= 0)...)
				}
			}
		}
	}
	if f.o.ShortenHose && hose >= 0 {
		out = f.shorten(out, run, hose)
	}
	if f.o.SwapFittings {
		out = f.swaps(out, run)
	}
	out = f.few(r.ID, out, 1, network.MaxAlternatives)
	out = append(out, f.few(r.ID, extra, 0, network.MaxAlternatives-len(out))...)
	slices.SortStableFunc(out[1:], byCost)
	return out
}

func byCost(a, b Alternative) int { return cmp.Compare(a.Cost, b.Cost) }

// few puts alternatives in order of cost, but for the first ones, and drops the
// dearest of more than most.
func (f *formulator) few(id string, out []Alternative, first, most int) []Alternative {
	slices.SortStableFunc(out[first:], byCost)
	if len(out) > most {
		for _, a := range out[most:] {
			f.drop(id, a.Label, fmt.Sprintf("more than %d alternatives", network.MaxAlternatives))
		}
		out = out[:most]
	}
	return out
}

// allowed reports whether new duct of a size may be offered for a run.
func (f *formulator) allowed(run string, s catalog.Size) bool {
	if x := f.fixed(run); x != nil && x.Size != "" {
		return catalog.Same(x.Size, s.Name)
	}
	if f.o.Min > 0 && s.Diameter < f.o.Min || f.o.Max > 0 && s.Diameter > f.o.Max {
		return false
	}
	only, ok := f.o.Only[run]
	return !ok || slices.ContainsFunc(only, func(name string) bool { return catalog.Same(name, s.Name) })
}

// likeUnit reports whether a size of hose is named in the unit that the run's
// own sizes are named in: an inch shop is not offered millimetre hose.
func likeUnit(r *network.Run, s catalog.Size) bool {
	unit := func(name string) string { return strings.TrimLeft(name, "0123456789. ") }
	return unit(r.Pieces[0].Size) == unit(s.Name)
}

// same reports whether a run is one piece of that family and size already.
func same(r *network.Run, fam *catalog.Family, s catalog.Size) bool {
	return len(r.Pieces) == 1 && r.Pieces[0].Make.Family == fam.Name && catalog.Same(r.Pieces[0].Size, s.Name) && r.Pieces[0].K == 0
}

// length is that of new duct: the way along the points where they have
// coordinates, else what was measured.
func (f *formulator) length(run int) units.Length {
	if v := f.o.variant; v.builds(f.n.Spec().Runs[run].ID) {
		if l := v.build[f.n.Spec().Runs[run].ID].Length; l > 0 {
			return l
		}
	}
	if w := f.n.Route(run); w.Placed && w.Length > 0 {
		return w.Length
	}
	sum := units.Length(0)
	for _, p := range f.n.Spec().Runs[run].Pieces {
		sum += p.Length
	}
	return sum
}

// replace adds new duct of a size in place of a run. Where the run had hose
// at a tool, a short hose of the same size stays at the tool. Elbows of long
// radius are put in by bend, usually nil.
func (f *formulator) replace(out []Alternative, run int, fam *catalog.Family, s catalog.Size, hadHose bool, bend func(*network.Piece)) []Alternative {
	r := &f.n.Spec().Runs[run]
	length := f.length(run)
	piece, err := f.o.Piece(fam.Name, s.Name, length)
	if err != nil {
		return out
	}
	if bend != nil {
		bend(&piece)
	}
	pieces := []network.Piece{piece}
	label := s.Name + " " + fam.Name
	port := f.n.PortAt(run)
	if hadHose && port != nil && !fam.Hose {
		tail := min(f.o.Tail, length)
		hose, ok := f.hose(r, s)
		if !ok {
			f.drop(r.ID, label, "no hose of that size for the tool's end")
			return out
		}
		hose.Length = tail
		if tail < length {
			piece.Length = length - tail
			pieces = []network.Piece{hose, piece}
			label += " and a short hose"
		} else {
			pieces = []network.Piece{hose}
		}
	}
	if bend != nil {
		if pieces[len(pieces)-1].Make.Hose() {
			return out
		}
		label += ", long-radius elbows"
	}
	after := *r
	after.Pieces, after.K, after.New = pieces, network.Overrides{}, true
	before := r
	if f.o.variant.builds(r.ID) {
		before = nil
	}
	lines := f.b.Run(before, after, f.route(run, length, port))
	return f.add(out, run, Alternative{Label: label, Pieces: pieces, fresh: true,
		Lines:   f.hard(r.ID, f.withGate(run, pieces, lines)),
		Changes: []network.Change{network.ReplaceRun{Run: run, Pieces: pieces}}})
}

// hose is a piece of hose that fits a size, of the family that the run has, or
// that may be bought where the run is still to be built.
func (f *formulator) hose(r *network.Run, s catalog.Size) (network.Piece, bool) {
	var names []string
	for i := range r.Pieces {
		names = append(names, r.Pieces[i].Make.Family)
	}
	if f.o.variant.builds(r.ID) {
		names = f.o.Families
	}
	for _, name := range names {
		if fam, ok := f.b.Catalog.Family(name); ok && fam.Hose {
			if mate, ok := fam.Mate(s.Name); ok {
				p, err := f.o.Piece(fam.Name, mate.Name, 0)
				return p, err == nil
			}
		}
	}
	return network.Piece{}, false
}

// shorten adds cutting a hose that is longer than its way.
func (f *formulator) shorten(out []Alternative, run, hose int) []Alternative {
	way := f.n.Route(run)
	r := &f.n.Spec().Runs[run]
	if !way.Placed {
		return out
	}
	rest := way.Length
	for i := range r.Pieces {
		if i != hose {
			rest -= r.Pieces[i].Length
		}
	}
	p := r.Pieces[hose]
	if rest <= 0 || rest > p.Length-shortenWorth {
		return out
	}
	pieces := slices.Clone(r.Pieces)
	pieces[hose].Length, pieces[hose].K = rest, 0
	return f.add(out, run, Alternative{Label: fmt.Sprintf("hose cut to %.1f m", float64(rest)), Pieces: pieces,
		Lines:   f.b.Shorten(r.ID, p, rest, f.height(way)),
		Changes: []network.Change{network.ShortenHose{Run: run, Length: rest}}})
}

// add appends an alternative if all of it has a price.
func (f *formulator) add(out []Alternative, run int, a Alternative) []Alternative {
	cost, unpriced := f.b.Cost(a.Lines)
	if len(unpriced) > 0 {
		f.drop(f.n.Spec().Runs[run].ID, a.Label, "no price for "+strings.Join(unpriced, "; "))
		return out
	}
	a.Cost = cost
	return append(out, a)
}

func (f *formulator) route(run int, length units.Length, port *network.Port) parts.Route {
	way := f.n.Route(run)
	return parts.Route{Length: length, Corners: way.Corners, Height: f.height(way), Port: port}
}

// height is that of the highest place of a way.
func (f *formulator) height(way network.Route) units.Length { return highest(way) }

func highest(way network.Route) units.Length {
	h := units.Length(0)
	for _, p := range way.Path {
		h = max(h, units.Length(p.Z))
	}
	return h
}
