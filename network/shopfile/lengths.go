package shopfile

import (
	"fmt"
	"math"
	"slices"

	"wyewright/network"
)

// runLength checks the length of a run against the places of its points.
func (d *decoder) runLength(i int) {
	r, f := &d.file.Spec.Runs[i], d.runFields[i]
	from, ok1 := d.placeOf(r.From)
	to, ok2 := d.placeOf(r.To)
	length, open := 0.0, len(r.Pieces) == 0
	for _, p := range r.Pieces {
		length += float64(p.Length)
		open = open || p.Length == 0
	}
	placed := ok1 && ok2
	switch {
	case r.From == r.To || r.From == "" || r.To == "" || len(r.Pieces) == 0 || d.misplaced[r.From] || d.misplaced[r.To]:
		return
	case open && !placed && !f.given["length"] && !d.faultIn(f.n):
		d.fault(d.runNodes[i], "add length: 3.2 m, or give both its points coordinates", "run %q has no length", r.ID)
		return
	case !placed:
		return
	}
	straight, along := spans(from, to, r.Via)
	switch {
	case open && (along < 1e-6 || along <= length):
		d.fault(d.runNodes[i], "add a length, or correct the coordinates",
			"run %q: its points leave no length for the piece that has none", r.ID)
	case !open && length < straight*0.99:
		at := d.runNodes[i]
		if n := f.at("length"); n != nil {
			at = n
		}
		d.warn(at, "check the length and the coordinates", "run %q is %.2f m long, but its points are %.2f m apart",
			r.ID, length, straight)
	}
}

// faultIn reports whether a fault was found in the lines of a node, so that
// no other is built upon it.
func (d *decoder) faultIn(n *node) bool {
	name := d.name
	if n.in != nil {
		name = n.in.name
	}
	return slices.ContainsFunc(d.faults, func(f *Diagnostic) bool { return f.File == name && f.Line >= n.line && f.Line <= n.endLine })
}

// spans returns the distance of two places through the corners, in a straight
// line and along the axes; with corners both are the same.
func spans(from, to network.Vec, via []network.Vec) (straight, along float64) {
	last := from
	for _, v := range append(slices.Clone(via), to) {
		dx, dy, dz := v.X-last.X, v.Y-last.Y, v.Z-last.Z
		straight += math.Sqrt(dx*dx + dy*dy + dz*dz)
		along += math.Abs(dx) + math.Abs(dy) + math.Abs(dz)
		last = v
	}
	if len(via) > 0 {
		along = straight
	}
	return straight, along
}

// portTolerance is how much narrower than its hose a port may be before it
// counts as smaller: 4 in and 100 mm go together.
const portTolerance = 0.97

// portsAndHoses warns where a hose is wider than the port it is pushed on, once
// for all such ports.
func (d *decoder) portsAndHoses(out map[string][]int) {
	s := &d.file.Spec
	k := 0
	var first *node
	var ports []string // "table saw" (100 mm, hose 110 mm)
	for _, t := range s.Tools {
		for _, p := range t.Ports {
			if p.At == "" || len(out[p.At]) == 0 {
				continue
			}
			r := &s.Runs[out[p.At][0]]
			if len(r.Pieces) == 0 || !r.Pieces[0].Make.Hose() || p.Diameter <= 0 {
				continue
			}
			if hose := r.Pieces[0]; float64(p.Diameter) < portTolerance*float64(hose.Diameter) {
				at := d.named[t.ID].at
				for ; k < len(d.portNodes); k++ {
					if d.portNodes[k].tool == t.ID && d.portNodes[k].point == p.At {
						at = d.portNodes[k].at
						break
					}
				}
				if first == nil {
					first = at
				}
				ports = append(ports, fmt.Sprintf("%q (%s, hose %s)", t.ID, p.Size, hose.Size))
			}
		}
	}
	const hint = "the step counts as a loss; check both sizes"
	switch len(ports) {
	case 0:
	case 1:
		d.warn(first, hint, "a port is smaller than the hose on it: %s", ports[0])
	default:
		d.warn(first, hint, "%d ports are smaller than the hoses on them: %s", len(ports), list(ports, 12))
	}
}
