package network

import (
	"slices"

	"wyewright/network/units"
)

// Change is one step of a redesign. The set of changes is sealed: none of
// them alters who joins whom.
type Change interface{ apply(n *Network) }

// ReplaceRun puts new pieces in place of a run. The overrides of the as-built
// run lapse, also those of the joints at its ends.
type ReplaceRun struct {
	Run    int
	Pieces []Piece
}

// ShortenHose gives the first hose of a run another length. What K of its own
// the hose had (a kink) goes; the rest of the run stays as built.
type ShortenHose struct {
	Run    int
	Length units.Length
}

// SetLeak gives a leak another area; 0 seals it.
type SetLeak struct {
	Leak int
	Area units.Area
}

// SetGate gives a port's closed gate another free area.
type SetGate struct {
	Tool, Port int
	Leak       units.Area
}

// SetBleed gives a bleed inlet its closed free area: the moment it is built.
type SetBleed struct {
	Bleed int
	Leak  units.Area
}

func (c ReplaceRun) apply(n *Network) {
	r := &n.spec.Runs[c.Run]
	r.Pieces, r.K, r.New, r.Rejoined = c.Pieces, Overrides{}, true, false
}

func (c ShortenHose) apply(n *Network) {
	r := &n.spec.Runs[c.Run]
	r.Pieces = slices.Clone(r.Pieces)
	for i := range r.Pieces {
		if r.Pieces[i].Make.Hose() {
			r.Pieces[i].Length, r.Pieces[i].K = c.Length, 0
			return
		}
	}
}

func (c SetLeak) apply(n *Network) {
	n.spec.Leaks = slices.Clone(n.spec.Leaks)
	n.spec.Leaks[c.Leak].Area = c.Area
}

func (c SetGate) apply(n *Network) {
	n.spec.Tools = slices.Clone(n.spec.Tools)
	ports := slices.Clone(n.spec.Tools[c.Tool].Ports)
	gate := *ports[c.Port].Gate
	gate.Leak = c.Leak
	ports[c.Port].Gate = &gate
	n.spec.Tools[c.Tool].Ports = ports
}

func (c SetBleed) apply(n *Network) {
	n.spec.Bleeds = slices.Clone(n.spec.Bleeds)
	n.spec.Bleeds[c.Bleed].Leak = c.Leak
}

// With returns a variant of the network with the changes made in order. The
// receiver stays as it is; the ways and joints are shared. Pieces of a
// ReplaceRun need their lengths.
func (n *Network) With(changes ...Change) *Network {
	v := &Network{spec: n.spec, topology: n.topology, rise: n.rise}
	v.spec.Runs = slices.Clone(n.spec.Runs)
	for _, c := range changes {
		c.apply(v)
	}
	v.build()
	return v
}

// WithCollector returns a variant with another collector in place at its point.
func (n *Network) WithCollector(index int) *Network {
	v := &Network{spec: n.spec, topology: n.topology}
	v.spec.Collectors = slices.Clone(n.spec.Collectors)
	cs := v.spec.Collectors
	first := slices.Index(n.homes, n.homes[index])
	cs[first], cs[index] = cs[index], cs[first]
	v.rise = rises(&v.spec)
	v.build()
	return v
}

// Spec returns the description the network was compiled from. Callers must
// not change what its slices hold.
func (n *Network) Spec() *Spec { return &n.spec }

// Route returns the way of a run.
func (n *Network) Route(run int) Route { return n.routes[run] }

// RunIndex, ToolIndex, LeakIndex and BleedIndex find parts by name.
func (n *Network) RunIndex(id string) (int, bool)   { i, ok := n.run[id]; return i, ok }
func (n *Network) ToolIndex(id string) (int, bool)  { i, ok := n.tool[id]; return i, ok }
func (n *Network) LeakIndex(id string) (int, bool)  { i, ok := n.leak[id]; return i, ok }
func (n *Network) BleedIndex(id string) (int, bool) { i, ok := n.bleed[id]; return i, ok }

// Inlets is the number of openings a Case speaks of.
func (n *Network) Inlets() int { return len(n.inlets) }

// ToolsUpstream reports whether a tool's air passes a run.
func (n *Network) ToolsUpstream(run, tool int) bool { return n.toolsUp[run][tool] }

// Next is the run after a run on the way to the collector, −1 at its end.
func (n *Network) Next(run int) int { return n.out[n.to[run]] }

// PortAt returns the port at the upstream end of a run, or nil.
func (n *Network) PortAt(run int) *Port {
	p := n.from[run]
	if len(n.in[p]) > 0 {
		return nil
	}
	for k := range n.spec.Tools {
		for i := range n.spec.Tools[k].Ports {
			if n.point[n.spec.Tools[k].Ports[i].At] == p {
				return &n.spec.Tools[k].Ports[i]
			}
		}
	}
	return nil
}
