package optimize

import (
	"cmp"
	"context"
	"math"
	"slices"

	"wyewright/network"
	"wyewright/network/units"
	"wyewright/optimize/price"
)

// Restriction is a way in which a plan may differ in kind from the cheapest.
type Restriction string

// Restrictions. The values are stable.
const (
	NoHeight      Restriction = "no work at height"
	NoHose        Restriction = "no hose work"
	NoBleed       Restriction = "no bleed inlet"
	NoCompanion   Restriction = "no companion needed"
	OneFamily     Restriction = "one family of duct"
	FewestChanges Restriction = "fewest changes"
)

// WorkHeight is the height above the floor up to which NoHeight lets work be
// done: what is reached from steps (common practice).
const WorkHeight units.Length = 2.5

// Other is a plan that differs in kind from the cheapest and costs little more.
type Other struct {
	Restriction Restriction
	// Family is that of OneFamily.
	Family string
	// More is what it costs more than the cheapest.
	More price.Money
	// Answer is the cheapest plan under the restriction, without a Plan where
	// none was found for the money: Infeasible where that is proved. For
	// FewestChanges Optimal says that fewer changes for the money are ruled out.
	Answer
}

// Others are the plans that differ in kind from a plan that meets everything,
// usually the cheapest, and cost no more than share above it: each the cheapest
// under one more restriction that from does not keep, the cheapest first, those
// without a plan last. The TimeLimit of s is shared by all, MaxNodes is for each
// search.
func Others(ctx context.Context, p *Problem, s *Settings, from *Plan, share float64) ([]Other, error) {
	var out []Other
	q := newInquiry(ctx, p, s)
	most := from.Cost + price.Money(math.Floor(float64(from.Cost)*share+1e-6))
	list := p.restrictions(from)
	for i, o := range list {
		kept, err := q.restricted(&o, from, most, len(list)-i)
		if err != nil {
			return out, err
		}
		if kept {
			continue
		}
		if o.Plan != nil {
			o.More = o.Plan.Cost - from.Cost
		}
		out = append(out, o)
	}
	rank := func(o Other) price.Money {
		if o.Plan == nil {
			return math.MaxInt64
		}
		return o.More
	}
	slices.SortStableFunc(out, func(a, b Other) int { return cmp.Compare(rank(a), rank(b)) })
	return out, nil
}

// restrictions lists those that a plan does not keep, or, of companions and the
// number of changes, may not keep.
func (p *Problem) restrictions(from *Plan) []Other {
	list := []Other{{Restriction: NoHeight}, {Restriction: NoHose}, {Restriction: NoBleed}}
	if names := p.families(from); len(names) > 1 {
		for _, name := range names {
			list = append(list, Other{Restriction: OneFamily, Family: name})
		}
	}
	list = slices.DeleteFunc(list, func(o Other) bool {
		allow := p.allow(&o)
		return !slices.ContainsFunc(from.changed(), func(i int) bool { return allow[i]>>from.Pick[i]&1 == 0 })
	})
	if p.Companions > 0 {
		list = append(list, Other{Restriction: NoCompanion})
	}
	if from.Changed > 1 {
		list = append(list, Other{Restriction: FewestChanges})
	}
	return list
}

// changed lists the choices that a plan changes.
func (pl *Plan) changed() []int {
	var out []int
	for i, a := range pl.Pick {
		if a > 0 {
			out = append(out, i)
		}
	}
	return out
}

// restricted finds the cheapest plan under a restriction for most money; n
// restrictions are still to come. kept says that from itself needs no companion.
func (q *inquiry) restricted(o *Other, from *Plan, most price.Money, n int) (kept bool, err error) {
	p := *q.p
	if o.Restriction == NoCompanion {
		p.Companions = 0
	}
	limit, over := q.left(n)
	if o.Status = Undecided; over {
		return false, nil
	}
	x, err := q.search(&p, limit)
	if err != nil {
		return false, err
	}
	x.ceiling = weigh(most+1, 0)
	switch o.Restriction {
	case FewestChanges:
		o.Answer = q.fewest(x, from)
		return false, nil
	case NoCompanion:
		if x.judge.meets(from.Pick) {
			return true, nil
		}
	default:
		x.allow = p.allow(o)
	}
	o.Answer = q.cheapest(x, q.warm...)
	return false, nil
}

// fewest takes changes away while the money reaches.
func (q *inquiry) fewest(x *search, from *Plan) Answer {
	best := Answer{Status: Infeasible}
	for x.few = from.Changed - 1; x.few > 0; x.few = best.Plan.Changed - 1 {
		a := q.cheapest(x, q.warm...)
		if a.Plan != nil {
			best = a
			continue
		}
		if a.Status == Undecided && best.Plan != nil {
			best.Status = Feasible
		} else if best.Plan == nil {
			best = a
		}
		break
	}
	return best
}

// allow are the alternatives that a restriction leaves.
func (p *Problem) allow(o *Other) []uint64 {
	out := make([]uint64, len(p.Choices))
	for i := range p.Choices {
		out[i] = 1
		for a := 1; a < len(p.Choices[i].Alternatives); a++ {
			if p.keeps(o, &p.Choices[i], &p.Choices[i].Alternatives[a]) {
				out[i] |= 1 << a
			}
		}
	}
	return out
}

// keeps reports whether an alternative, a change, keeps a restriction.
func (p *Problem) keeps(o *Other, c *Choice, a *Alternative) bool {
	switch o.Restriction {
	case NoHeight:
		h, known := p.height(c, a)
		return known && h <= WorkHeight
	case NoHose:
		return !slices.ContainsFunc(a.Pieces, hose) && !slices.ContainsFunc(c.Alternatives[0].Pieces, hose)
	case NoBleed:
		return c.Kind != BleedChoice
	case OneFamily:
		return !a.fresh || !slices.ContainsFunc(a.Pieces, func(piece network.Piece) bool { return !hose(piece) && piece.Make.Family != o.Family })
	}
	return true
}

func hose(p network.Piece) bool { return p.Make.Hose() }

// families are those of the new duct of a plan, hose apart, in the order of the
// choices.
func (p *Problem) families(pl *Plan) []string {
	var out []string
	for _, i := range pl.changed() {
		a := &p.Choices[i].Alternatives[pl.Pick[i]]
		for _, piece := range a.Pieces {
			if name := piece.Make.Family; a.fresh && !hose(piece) && !slices.Contains(out, name) {
				out = append(out, name)
			}
		}
	}
	return out
}

// height is that of the highest place of the work of an alternative; known is
// false where the shop's file does not say. The joints of a run lie at its ends.
func (p *Problem) height(c *Choice, a *Alternative) (h units.Length, known bool) {
	spec := p.Base.Spec()
	if c.Run >= 0 {
		way := p.Base.Route(c.Run)
		for _, v := range way.Path {
			h = max(h, units.Length(v.Z))
		}
		return h, way.Placed
	}
	at := ""
	for _, ch := range a.Changes {
		switch ch := ch.(type) {
		case network.SetLeak:
			at = spec.Leaks[ch.Leak].At
		case network.SetGate:
			at = spec.Tools[ch.Tool].Ports[ch.Port].At
		case network.SetBleed:
			at = spec.Bleeds[ch.Bleed].At
		}
	}
	i := slices.IndexFunc(spec.Points, func(pt network.Point) bool { return pt.ID == at })
	if i < 0 || !spec.Points[i].Placed {
		return 0, false
	}
	return units.Length(spec.Points[i].At.Z), true
}
