package network

import (
	"errors"
	"fmt"
	"slices"
)

// Case is a State resolved against a Network: which inlets are open, which
// tools run, which collector and filter are in place. A Case of a network
// fits every variant that With makes of it without adding bleeds.
type Case struct {
	Name string
	// Open has one entry per inlet (ports in the order of the tools, then
	// bleeds).
	Open []bool
	// Running lists tools by index.
	Running   []int
	Collector int
	// Off and Gates have one entry per collector and run; nil means that
	// none stands still, and that every gate in a run follows what is open
	// upstream of it.
	Off    []bool
	Gates  []GateState
	Filter FilterState
}

// GateState is what a state says of the gate in a run.
type GateState uint8

// Gate states.
const (
	GateFollows GateState = iota // shut where nothing upstream is open
	GateOpen
	GateShut
)

// Case resolves a state. Every fault is reported at once.
func (n *Network) Case(st State) (*Case, error) {
	var f faults
	path := "states/" + st.Name
	c := &Case{Name: st.Name, Filter: st.Filter, Open: make([]bool, len(n.inlets))}
	for i := range n.inlets {
		c.Open[i] = !n.inlets[i].gated
	}
	for _, id := range st.Running {
		k, ok := n.tool[id]
		if !ok {
			f.add(path, fmt.Sprintf("no tool %q", id), "")
			continue
		}
		c.Running = append(c.Running, k)
		n.openTool(c, k)
	}
	for _, id := range st.Open {
		if k, ok := n.tool[id]; ok {
			n.openTool(c, k)
		} else if k, ok := n.bleed[id]; ok {
			n.OpenBleed(c, k)
		} else {
			f.add(path, fmt.Sprintf("no tool or bleed %q", id), "")
		}
	}
	if st.Collector != "" {
		c.Collector = -1
		for i := range n.spec.Collectors {
			if n.spec.Collectors[i].ID == st.Collector {
				c.Collector = i
			}
		}
		if c.Collector < 0 {
			f.add(path, fmt.Sprintf("no collector %q", st.Collector), "")
		} else if n.spec.Collectors[c.Collector].Inlet != n.spec.Collectors[slices.Index(n.homes, n.homes[c.Collector])].Inlet {
			f.add(path, fmt.Sprintf("collector %q has another inlet", st.Collector), "make it the one in place (Network.WithCollector; redesign.collector in a shop file), or take it out of the state")
		}
	}
	n.switches(c, &st, &f)
	if len(f) > 0 {
		return nil, errors.Join(f...)
	}
	return c, nil
}

// switches resolves collectors that stand still and gates that a state sets.
func (n *Network) switches(c *Case, st *State, f *faults) {
	path := "states/" + st.Name
	for _, id := range st.Off {
		i := slices.IndexFunc(n.spec.Collectors, func(col Collector) bool { return col.ID == id })
		if i < 0 {
			f.add(path, fmt.Sprintf("no collector %q", id), "")
			continue
		}
		if c.Off == nil {
			c.Off = make([]bool, len(n.spec.Collectors))
		}
		c.Off[i] = true
	}
	for _, set := range []struct {
		runs []string
		to   GateState
	}{{st.OpenGates, GateOpen}, {st.ShutGates, GateShut}} {
		for _, id := range set.runs {
			r, ok := n.run[id]
			if !ok || n.spec.Runs[r].Gate == nil {
				f.add(path, fmt.Sprintf("no gate in a run %q", id), "")
				continue
			}
			if c.Gates == nil {
				c.Gates = make([]GateState, len(n.spec.Runs))
			}
			c.Gates[r] = set.to
		}
	}
}

// gateShut reports whether the gate of a run is shut in a case, given whether
// anything upstream of it is open.
func (c *Case) gateShut(run int, open bool) bool {
	if c.Gates != nil && c.Gates[run] != GateFollows {
		return c.Gates[run] == GateShut
	}
	return !open
}

// inPlace returns the collector that works at the point of collector i: that of
// the case where it stands there, else the first; −1 where it stands still.
func (n *Network) inPlace(c *Case, i int) int {
	i = slices.Index(n.homes, n.homes[i])
	if n.homes[c.Collector] == n.homes[i] {
		i = c.Collector
	}
	if c.Off != nil && c.Off[i] {
		return -1
	}
	return i
}

func (n *Network) openTool(c *Case, tool int) {
	for i := range n.inlets {
		if n.inlets[i].tool == tool {
			c.Open[i] = true
		}
	}
}

// OpenTool opens every port of a tool, as a companion.
func (n *Network) OpenTool(c *Case, tool int) { n.openTool(c, tool) }

// OpenBleed opens a bleed inlet.
func (n *Network) OpenBleed(c *Case, bleed int) {
	for i := range n.inlets {
		if n.inlets[i].bleed == bleed {
			c.Open[i] = true
		}
	}
}

// Clone returns an independent copy.
func (c *Case) Clone() *Case {
	d := *c
	d.Open = append([]bool(nil), c.Open...)
	d.Running = append([]int(nil), c.Running...)
	return &d
}

// CarriesDust reports whether a running tool lies upstream of a run.
func (n *Network) CarriesDust(c *Case, run int) bool {
	for _, k := range c.Running {
		if n.toolsUp[run][k] {
			return true
		}
	}
	return false
}
