package network

import (
	"maps"
	"slices"

	"wyewright/network/units"
)

// Factors say by how much parts of a shop differ from their description, by
// name: what readings told of it. A name that is missing means 1.
type Factors struct {
	// Friction is by family of hose, Roughness by family of rigid duct; both
	// hold for new duct of the family too.
	Friction, Roughness map[string]float64
	// Entry is by tool: on the entry loss of all its ports.
	Entry map[string]float64
	// Leaks is by leak: on its area.
	Leaks map[string]float64
	// ShutGates is on the free area of every shut gate; 0 means 1.
	ShutGates float64
	// FanSpeed and Filter are by collector.
	FanSpeed, Filter map[string]float64
}

// leastMultiple keeps hose a hose.
const leastMultiple = 1.001

// Factor is the factor of a name, 1 where there is none.
func Factor(m map[string]float64, name string) float64 {
	if v, ok := m[name]; ok {
		return v
	}
	return 1
}

// Gates is the factor on shut gates.
func (f *Factors) Gates() float64 {
	if f.ShutGates == 0 {
		return 1
	}
	return f.ShutGates
}

// Make changes how a piece of duct is made.
func (f *Factors) Make(m *Make) {
	if m.Hose() {
		m.Multiple = max(leastMultiple, m.Multiple*Factor(f.Friction, m.Family))
	} else {
		m.Roughness *= units.Length(Factor(f.Roughness, m.Family))
	}
}

// Apply returns a shop with the factors in force. The one given stays: runs and
// their pieces, tools and their ports, leaks and collectors are copies.
func (f *Factors) Apply(s Spec) Spec {
	gate := func(g **Gate) {
		if *g != nil && f.Gates() != 1 {
			own := **g
			own.Leak *= units.Area(f.Gates())
			*g = &own
		}
	}
	s.Runs = slices.Clone(s.Runs)
	for i := range s.Runs {
		r := &s.Runs[i]
		r.Pieces = slices.Clone(r.Pieces)
		for k := range r.Pieces {
			f.Make(&r.Pieces[k].Make)
		}
		gate(&r.Gate)
	}
	s.Tools = slices.Clone(s.Tools)
	for i := range s.Tools {
		t := &s.Tools[i]
		t.Ports = slices.Clone(t.Ports)
		for k := range t.Ports {
			t.Ports[k].Entry *= Factor(f.Entry, t.ID)
			gate(&t.Ports[k].Gate)
		}
	}
	s.Leaks = slices.Clone(s.Leaks)
	for i := range s.Leaks {
		s.Leaks[i].Area *= units.Area(Factor(f.Leaks, s.Leaks[i].ID))
	}
	s.Collectors = slices.Clone(s.Collectors)
	for i := range s.Collectors {
		c := &s.Collectors[i]
		if v, ok := f.FanSpeed[c.ID]; ok {
			c.Spin(v)
		}
		c.Filter.Clean *= Factor(f.Filter, c.ID)
		c.Filter.Loaded *= Factor(f.Filter, c.ID)
	}
	return s
}

// Times are these factors and others on top of them.
func (f *Factors) Times(o *Factors) Factors {
	both := func(a, b map[string]float64) map[string]float64 {
		out := maps.Clone(a)
		if out == nil {
			out = map[string]float64{}
		}
		for name, v := range b {
			out[name] = Factor(a, name) * v
		}
		return out
	}
	return Factors{Friction: both(f.Friction, o.Friction), Roughness: both(f.Roughness, o.Roughness), Entry: both(f.Entry, o.Entry), Leaks: both(f.Leaks, o.Leaks),
		ShutGates: f.Gates() * o.Gates(), FanSpeed: both(f.FanSpeed, o.FanSpeed), Filter: both(f.Filter, o.Filter)}
}
