package shopfile

import (
	"math"
	"slices"

	"wyewright/network"
	"wyewright/network/catalog"
	"wyewright/network/loss"
	"wyewright/network/units"
)

// portVelocity is the velocity in the connection from which a required flow
// is made where the file says "by port": 20 m/s, TRGS 553 (2022), annex 2.
const portVelocity units.Velocity = 20

var toolKeys = []string{"name", "kind", "flow", "basis", "dust", "transport", "ports", "later"}

// tools reads the section of that name, for each machine:
//
//	flow       what it needs over all its ports, or "by port": 20 m/s in them
//	basis      where that comes from: maker, rule or guess
//	kind       kind of machine, which gives the ports their entry loss
//	dust       its dust class; default chips
//	transport  overrides the transport velocity of the class
//	later      true for a tool that comes later, for which room is kept
//	ports      {at, size or diameter, entry, gate, min flow}
//
// A port without a gate is open in every state.
func (d *decoder) tools(n *node) {
	for _, m := range d.members(n, isTool) {
		d.define(isTool, m.name)
		f := d.fields(m.value, toolKeys...)
		if f == nil {
			continue
		}
		t := network.Tool{ID: m.name.text}
		kind := d.machineKind(f.at("kind"))
		ports := f.need("ports", "ports: [{at: CS, size: 120 mm, entry: 2.6}]")
		items := d.items(ports)
		if ports != nil && ports.kind == sequence && len(ports.items) == 0 {
			d.fault(ports, "ports: [{at: CS, size: 120 mm, entry: 2.6}]", "tool %q has no port", t.ID)
		}
		for i, item := range items {
			t.Ports = append(t.Ports, d.port(item, t.ID, i, kind))
		}
		if w, ok := d.word(f.at("basis"), "maker", "rule", "guess"); ok {
			t.Basis = w
		}
		d.toolFlow(f, &t)
		t.Dust = d.file.defaults.dust
		if w, ok := d.word(f.at("dust"), d.classes...); ok {
			t.Dust = w
		}
		t.Transport = d.velocities[t.Dust]
		if v, ok := d.velocity(f.at("transport")); ok {
			t.Transport = v
		}
		if n := f.at("later"); d.flag(n) {
			d.laterNodes = append(d.laterNodes, laterNode{t.ID, n})
		}
		d.file.Spec.Tools = append(d.file.Spec.Tools, t)
	}
	d.warnUngated()
}

// warnUngated warns of the ports that say nothing of a gate, once for all.
func (d *decoder) warnUngated() {
	const hint = "add gate: yes, or gate: no to say that there is none; for all ports at once: defaults: {gate: yes}"
	switch len(d.ungated) {
	case 0:
	case 1:
		d.warn(d.ungated[0].at, hint, "a port of %q has no gate: it is open in every state", d.ungated[0].tool)
	default:
		var tools []string
		for _, p := range d.ungated {
			if !slices.Contains(tools, p.tool) {
				tools = append(tools, p.tool)
			}
		}
		d.warn(d.ungated[0].at, hint, "%d ports have no gate and are open in every state: of %s", len(d.ungated), list(tools, 12))
	}
}

// machineKind looks up the kind of machine that gives the default entry.
func (d *decoder) machineKind(n *node) *catalog.Machine {
	s, ok := d.text(n)
	if !ok {
		return nil
	}
	m, ok := d.catalog.Machine(s)
	if !ok {
		d.fault(n, didYouMean(s, d.machineKinds()), "kind %q is not known", s)
		return nil
	}
	return &m
}

func (d *decoder) machineKinds() []string {
	var out []string
	for _, m := range d.catalog.Machines() {
		out = append(out, m.Kind)
	}
	return out
}

// toolFlow reads what a tool needs, or makes it from its ports.
func (d *decoder) toolFlow(f *fields, t *network.Tool) {
	n := f.need("flow", "what the machine needs: flow: 820 m3/h, or flow: by port")
	if n == nil {
		return
	}
	if n.text == "by port" {
		for _, p := range t.Ports {
			area := math.Pi / 4 * float64(p.Diameter) * float64(p.Diameter)
			t.Flow += units.Flow(float64(portVelocity) * area)
		}
		if t.Basis == "" {
			t.Basis = "rule"
		}
		return
	}
	v, ok := quantity(d, n, units.ParseFlow, notNegative)
	if ok && v == 0 {
		d.fault(n, "a machine that needs no air is no tool here; take it out", "tool %q needs a flow of zero", t.ID)
	}
	t.Flow = v
}

// port reads one spigot.
func (d *decoder) port(n *node, tool string, i int, kind *catalog.Machine) network.Port {
	f := d.fields(n, "at", "size", "diameter", "entry", "gate", "min flow")
	var p network.Port
	if f == nil {
		return p
	}
	if at := f.need("at", "name the point of the port"); at != nil {
		p.At = d.point(at)
		d.portNodes = append(d.portNodes, portNode{tool, p.At, at})
	}
	p.Size, p.Diameter = d.opening(f)
	p.Entry = d.entry(f, kind)
	switch g := f.at("gate"); {
	case g != nil:
		p.Gate = d.gate(g, tool, i, "")
	case d.file.defaults.gate != nil:
		own := *d.file.defaults.gate
		p.Gate = &own
		d.repair(p.Gate, tool, i)
	case !f.given["gate"]:
		d.ungated = append(d.ungated, portNode{tool, p.At, f.n})
	}
	if v, ok := quantity(d, f.at("min flow"), units.ParseFlow, notNegative); ok {
		p.Min = v
	}
	return p
}

// portNode remembers where a port names its point.
type portNode struct {
	tool, point string
	at          *node
}

// opening reads the size or the diameter of a port or bleed.
func (d *decoder) opening(f *fields) (string, units.Length) {
	size, diameter := f.at("size"), f.at("diameter")
	switch {
	case diameter != nil:
		v, _ := d.length(diameter, positive)
		if size != nil {
			return size.text, v
		}
		return diameter.text, v
	case size != nil:
		v, _ := quantity(d, size, units.ParseLength, positive)
		return size.text, v
	}
	if !f.given["diameter"] {
		f.need("size", "its diameter: size: 120 mm")
	}
	return "", 0
}

// entry reads the loss of the machine: a coefficient, or the name of a shape
// of opening or kind of machine; without one the tool's kind gives it.
func (d *decoder) entry(f *fields, kind *catalog.Machine) float64 {
	n := f.at("entry")
	switch {
	case n == nil && kind != nil:
		return kind.Entry
	case n == nil:
		if !f.given["entry"] {
			d.fault(f.n, "a coefficient on the port's velocity pressure (2 is usual), or one of: "+list(d.machineKinds(), 20),
				"the port has no entry loss")
		}
		return 0
	}
	s, ok := d.text(n)
	if !ok {
		return 0
	}
	if k, ok := loss.Entry(s); ok {
		return k
	}
	if m, ok := d.catalog.Machine(s); ok {
		return m.Entry
	}
	if s != "" && (s[0] >= '0' && s[0] <= '9' || s[0] == '-' || s[0] == '.' || s[0] == '+' || notFinite(s)) {
		v, _ := d.number(n, 0)
		return v
	}
	known := append(d.machineKinds(), loss.EntryKinds()...)
	d.fault(n, didYouMean(s, known), "entry %q is not known", s)
	return 0
}
