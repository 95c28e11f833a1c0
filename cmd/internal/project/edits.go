package project

import (
	"wyewright/network"
	"wyewright/network/shopfile"
	"wyewright/optimize"
)

// Edits are the changes that a plan makes to the text of the shop file.
func (pr *Project) Edits(p *optimize.Problem, r *optimize.Result, head string) shopfile.Edits {
	e := shopfile.Edits{Head: head, DropReadings: true}
	pr.reroute(&e, p, r.Network)
	spec := p.Base.Spec()
	for i, a := range r.Best.Pick {
		c := &p.Choices[i]
		if swap, ok := swapped(spec, &c.Alternatives[a]); ok {
			e.Swaps = append(e.Swaps, swap)
		}
		for _, ch := range c.Alternatives[a].Changes {
			switch ch := ch.(type) {
			case network.ReplaceRun:
				if c.Build && !c.Later {
					continue
				}
				e.Runs = append(e.Runs, shopfile.RunEdit{Run: spec.Runs[ch.Run].ID, Pieces: ch.Pieces})
			case network.ShortenHose:
				e.Runs = append(e.Runs, shopfile.RunEdit{Run: spec.Runs[ch.Run].ID, Pieces: c.Alternatives[a].Pieces, Keep: true})
			case network.SetLeak:
				e.Leaks = append(e.Leaks, shopfile.LeakEdit{Leak: spec.Leaks[ch.Leak].ID, Area: ch.Area})
			case network.SetGate:
				e.Gates = append(e.Gates, shopfile.GateEdit{Tool: spec.Tools[ch.Tool].ID, Port: ch.Port, Leak: ch.Leak})
			case network.SetBleed:
				b := spec.Bleeds[ch.Bleed]
				b.Leak = ch.Leak
				e.Bleeds = append(e.Bleeds, b)
			}
		}
	}
	e.Mains = mains(r.Network)
	for _, s := range r.States {
		e.States = append(e.States, s.State)
	}
	return e
}

// swapped is what an alternative does to the fittings of a run whose duct stays.
func swapped(spec *network.Spec, a *optimize.Alternative) (e shopfile.SwapEdit, ok bool) {
	for _, ch := range a.Changes {
		switch ch := ch.(type) {
		case network.SwapElbows:
			e.Run, e.Bends, e.Elbow, e.ElbowRD, ok = spec.Runs[ch.Run].ID, true, ch.Elbow, ch.ElbowRD, true
		case network.Rejoin:
			e.Run, e.Joint, ok = spec.Runs[ch.Run].ID, true, true
		}
	}
	return e, ok
}

// mains are the runs of a plan that must be marked as mains: where the file says
// nothing and the angles are equal the wider leg is the main, and a plan keeps
// the mains of the shop as found whatever it makes wider.
func mains(n *network.Network) []string {
	again, err := network.New(*n.Spec())
	if err != nil {
		return nil // the file will say so
	}
	var out []string
	fresh := again.Joints()
	for i, j := range n.Joints() {
		if j.Main >= 0 && j.Main != fresh[i].Main {
			out = append(out, n.Spec().Runs[j.Main].ID)
		}
	}
	return out
}
