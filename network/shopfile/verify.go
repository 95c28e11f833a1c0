package shopfile

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wyewright/network"
)

// readBack is how closely a rewritten value must read back: lengths are
// written to the micrometre, areas to a thousandth of a square millimetre.
const readBack = 1e-6

// verify decodes the new text and compares it with what was asked for.
func (f *File) verify(out []byte, want *meant) error {
	g, err := Decode(f.name, out, f.catalog)
	if err != nil {
		return fmt.Errorf("%w: the new text has a fault: %w", ErrRewrite, err)
	}
	what := differs(&g.Spec, &want.spec)
	if what == "" {
		what = want.rest(g)
	}
	if what != "" {
		return fmt.Errorf("%w: %s does not read back", ErrRewrite, what)
	}
	states := want.states
	if states == nil {
		states = f.States
	}
	same := func(a, b network.State) bool { return a.Name == b.Name && stateKey(a) == stateKey(b) }
	if !slices.EqualFunc(g.States, states, same) {
		return fmt.Errorf("%w: the states do not read back", ErrRewrite)
	}
	return nil
}

// rest names the first part beside the shop itself in which a file differs from
// what was meant.
func (m *meant) rest(g *File) string {
	got, err := g.mean(&Edits{})
	points := slices.SortedFunc(slices.Values(g.Spec.Points), byID)
	switch {
	case err != nil:
		return "the file"
	case got.collector != m.collector:
		return "the collector of the redesign"
	case !slices.Equal(got.corridors, m.corridors):
		return "the list of corridors"
	case !slices.Equal(got.bleedPoints, m.bleedPoints):
		return "the list of places for bleeds"
	case !slices.Equal(got.keep, m.keep) || !slices.Equal(got.only, m.only):
		return "what the redesign keeps or limits"
	case !slices.EqualFunc(points, slices.SortedFunc(slices.Values(m.spec.Points), byID), func(a, b network.Point) bool {
		return a.ID == b.ID && a.Placed == b.Placed && samePlace(a.At, b.At)
	}):
		return "the set of points"
	case !slices.Equal(got.later, m.later):
		return "what comes later"
	case !slices.Equal(fittedLines(&got.fitted), fittedLines(&m.fitted)):
		return "what was fitted"
	}
	return ""
}

func byID(a, b network.Point) int { return strings.Compare(a.ID, b.ID) }

// differs names the first part in which two descriptions of a shop differ.
func differs(a, b *network.Spec) string {
	if len(a.Runs) != len(b.Runs) || len(a.Leaks) != len(b.Leaks) || len(a.Bleeds) != len(b.Bleeds) || len(a.Tools) != len(b.Tools) || len(a.Collectors) != len(b.Collectors) {
		return "the number of parts"
	}
	for i, r := range a.Runs {
		q := b.Runs[i]
		if r.ID != q.ID || r.From != q.From || r.To != q.To || !slices.EqualFunc(r.Via, q.Via, samePlace) || r.New != q.New || r.Rejoined != q.Rejoined || r.Main != q.Main ||
			!sameK(r.K, q.K) || !sameGate(r.Gate, q.Gate) || !slices.EqualFunc(r.Pieces, q.Pieces, samePiece) || !sameElbows(&r, &q) {
			return fmt.Sprintf("run %q", r.ID)
		}
	}
	for i, l := range a.Leaks {
		if l.ID != b.Leaks[i].ID || !near(float64(l.Area), float64(b.Leaks[i].Area)) {
			return fmt.Sprintf("leak %q", l.ID)
		}
	}
	for i, t := range a.Tools {
		if !slices.EqualFunc(t.Ports, b.Tools[i].Ports, func(p, q network.Port) bool {
			return p.At == q.At && near(p.Entry, q.Entry) && sameGate(p.Gate, q.Gate)
		}) {
			return fmt.Sprintf("tool %q", t.ID)
		}
	}
	for i := range a.Collectors {
		if !sameCollector(&a.Collectors[i], &b.Collectors[i]) {
			return fmt.Sprintf("collector %q", a.Collectors[i].ID)
		}
	}
	// A bleed may have taken the place of its point in the list.
	for _, x := range a.Bleeds {
		if !slices.ContainsFunc(b.Bleeds, func(y network.Bleed) bool { return sameBleed(x, y) }) {
			return fmt.Sprintf("bleed %q", x.ID)
		}
	}
	return ""
}

// sameCollector compares filter, and the curve at a few flows.
func sameCollector(a, b *network.Collector) bool {
	lo, hi := b.Curve.Range()
	for i := range 5 {
		q := lo + (hi-lo)*float64(i)/4
		p, _ := a.Curve.Pressure(q)
		if want, _ := b.Curve.Pressure(q); math.Abs(p-want) > readBack*math.Max(math.Abs(want), 100) {
			return false
		}
	}
	return a.ID == b.ID && near(a.Filter.Clean, b.Filter.Clean) && near(a.Filter.Loaded, b.Filter.Loaded)
}

func near(a, b float64) bool { return math.Abs(a-b) <= readBack*math.Max(math.Abs(b), 1e-3) }

func samePiece(a, b network.Piece) bool {
	return a.Size == b.Size && a.Make.Family == b.Make.Family && near(float64(a.Diameter), float64(b.Diameter)) &&
		near(float64(a.Length), float64(b.Length)) && near(float64(a.Make.Roughness), float64(b.Make.Roughness)) &&
		near(a.Make.Multiple, b.Make.Multiple) && near(a.K, b.K)
}

func sameGate(a, b *network.Gate) bool {
	if a == nil || b == nil {
		return a == b
	}
	return near(a.Open, b.Open) && near(float64(a.Leak), float64(b.Leak))
}

func sameK(a, b network.Overrides) bool {
	one := func(x, y *float64) bool { return x == nil && y == nil || x != nil && y != nil && near(*x, *y) }
	return one(a.Bends, b.Bends) && one(a.Junction, b.Junction) && one(a.Steps, b.Steps)
}

func sameBleed(a, b network.Bleed) bool {
	return a.ID == b.ID && a.At == b.At && near(float64(a.Diameter), float64(b.Diameter)) && near(a.K, b.K) &&
		near(float64(a.Leak), float64(b.Leak))
}

// sameElbows compares how two runs are bent: by the make of their last pieces.
func sameElbows(a, b *network.Run) bool {
	x, y := lastPiece(a).Make, lastPiece(b).Make
	return x.Elbow == y.Elbow && near(x.ElbowRD, y.ElbowRD)
}
