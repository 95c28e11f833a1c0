package project

import (
	"errors"
	"fmt"
	"slices"

	"wyewright/network"
	"wyewright/network/shopfile"
	"wyewright/network/units"
	"wyewright/optimize"
	"wyewright/optimize/price"
)

// Limits are the rules of the file.
func Limits(f *shopfile.File) network.Limits {
	l := f.Redesign.Limits
	out := network.Limits{Margin: units.Ratio(l.Margin), Ceiling: l.Ceiling, Riser: units.Ratio(l.Risers)}
	if !l.TransportByDust {
		out.Transport = l.Transport
	}
	return out
}

// ErrNoTree refuses a redesign of a shop with loops or several collectors.
var ErrNoTree = errors.New("the ducts form a loop, or several collectors run together: a redesign needs one way from every tool to one collector")

// Bound are the states that rules bind: those in which a tool runs.
func Bound(states []network.State) []network.State {
	return slices.DeleteFunc(slices.Clone(states), func(s network.State) bool { return len(s.Running) == 0 })
}

// Problem formulates the redesign that the file asks for, with the ducts on the
// ways they have and the collector as it is.
func (p *Project) Problem() (*optimize.Problem, error) {
	if !p.Network.IsTree() {
		return nil, ErrNoTree
	}
	problem, err := optimize.Formulate(p.Network, p.bound(), p.options(), p.Builder)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", p.File.Name, err)
	}
	return problem, nil
}

// options are what the file lets a redesign do.
func (p *Project) options() optimize.Options {
	f := p.File
	r := &f.Redesign
	o := optimize.Options{
		Families: r.Families, Piece: f.Piece, Keep: r.Keep,
		Resize: r.May.Resize, ReplaceHose: r.May.ReplaceHose, ShortenHose: r.May.ShortenHose,
		Seal: r.May.Seal, Repair: r.May.RepairGates, Bleed: r.May.Bleed, SwapFittings: r.May.SwapFittings,
		Tail: r.Tail, Min: r.SizeMin, Max: r.SizeMax, Only: map[string][]string{},
		Seals:  map[string]optimize.Seal{},
		Bleeds: f.BleedPoints, BleedSizes: r.Bleed.Sizes, BleedK: r.Bleed.K,
		TakeDown: r.TakeDown, Companions: r.May.Companions, Limits: Limits(f),
	}
	if today := f.Today(); today != f { // an inlet is built in duct that is there
		o.Later, o.Bleeds = optimize.Later{Tools: f.LaterTools(), Runs: f.LaterRuns(), Ready: f.LaterReady()}, today.BleedPoints
	}
	for _, only := range r.Only {
		o.Only[only.Run] = append(o.Only[only.Run], only.Sizes...)
	}
	for _, s := range f.Seals {
		if s.Allowed {
			o.Seals[s.Leak] = optimize.Seal{Leaves: s.Leaves}
		}
	}
	for _, rep := range f.Repairs {
		if rep.Tool != "" {
			o.Repairs = append(o.Repairs, optimize.Repair{Tool: rep.Tool, Port: rep.Port,
				Seal: optimize.Seal{Cost: price.Money(rep.Cost.Minor), Priced: rep.Cost.Given, Leaves: rep.Leaves}})
		}
	}
	return o
}

// bound are the states that rules bind; one that names the collector in place
// names none.
func (p *Project) bound() []network.State {
	states := Bound(p.File.States)
	for i := range states {
		if c := states[i].Collector; c == p.File.Redesign.Collector || c == p.Network.Spec().Collectors[0].ID {
			states[i].Collector = ""
		}
	}
	return states
}
