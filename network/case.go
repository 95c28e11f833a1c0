package network

import (
	"errors"
	"fmt"
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
	Filter    FilterState
}

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
		} else if n.spec.Collectors[c.Collector].Inlet != n.spec.Collectors[0].Inlet {
			f.add(path, fmt.Sprintf("collector %q has another inlet", st.Collector), "solve a variant made by WithCollector")
		}
	}
	if len(f) > 0 {
		return nil, errors.Join(f...)
	}
	return c, nil
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
