package calibrate

import (
	"cmp"
	"math"
	"slices"

	"wyewright/network"
)

// CentreFactor and CentreDoubt are the mean speed over the speed on the axis
// before any reading, and one standard deviation of it: a power-law profile has
// 0.82, short ducts about 0.9 (common practice).
const (
	CentreFactor = 0.87
	CentreDoubt  = 0.05
)

// Priors as shares of what the file says, one standard deviation. Hose is 2 to 5
// times smooth pipe where 3 is assumed. Clean steel duct can be as smooth as a
// tenth of what handbooks give (measured by Huebscher 1947), old duct far
// rougher. Losses of machines and leakage of gates are guesses until they are
// measured. All of them are our choice.
const (
	hoseDoubt   = 0.3
	roughDoubt  = 0.5
	entryDoubt  = 0.3
	knownDoubt  = 0.3
	shutDoubt   = 0.5
	fanDoubt    = 0.03
	filterDoubt = 0.3
)

// nuisance lists what is never quite known: it is fitted always, held by its
// prior, also of what was not read: its doubt counts in what is foretold.
func nuisance(s *network.Spec, rs []Reading) []Param {
	var out []Param
	factor := func(p Param, doubt, lower, upper float64) {
		p.Prior, p.Doubt, p.Lower, p.Upper, p.Scale = 1, doubt, lower, upper, doubt
		out = append(out, p)
	}
	if slices.ContainsFunc(rs, func(r Reading) bool { return r.Centre }) {
		out = append(out, Param{Kind: Probe, Name: "probe factor", Prior: CentreFactor, Doubt: CentreDoubt, Lower: 0.7, Upper: 1, Scale: CentreDoubt})
	}
	hoses, rigid := families(s)
	for _, name := range hoses {
		factor(Param{Kind: Hose, Family: name, Name: "friction of " + name}, hoseDoubt, 0.4, 3)
	}
	for _, name := range rigid {
		factor(Param{Kind: Rough, Family: name, Name: "roughness of " + name}, roughDoubt, 0.02, 20)
	}
	for i, t := range s.Tools {
		factor(Param{Kind: Entry, Index: i, Name: "entry of " + t.ID}, entryDoubt, 0.05, 6)
	}
	for i, l := range s.Leaks {
		factor(Param{Kind: Known, Index: i, Name: "area of " + l.ID}, knownDoubt, 0, 10)
	}
	if gatesLeak(s) {
		factor(Param{Kind: Shut, Name: "leakage of shut gates"}, shutDoubt, 0, 10)
	}
	for i := range s.Collectors {
		c := &s.Collectors[i]
		dates := sessions(s, rs, i)
		factor(Param{Kind: FanSpeed, Index: i, Name: "fan of " + c.ID}, fanDoubt, 0.6, 1.2)
		if c.Filter.Loaded > 0 {
			for _, d := range dates {
				p := Param{Kind: Filter, Index: i, Name: "filter of " + c.ID}
				if len(dates) > 1 {
					p.Date = d
					p.Name += " on " + d
				}
				factor(p, filterDoubt, 0, 10)
			}
		}
		if k := slices.IndexFunc(rs, func(r Reading) bool { return r.Quantity == Current && ofFan(s, &r) == i }); k >= 0 {
			// Only ratios count: the start is the first reading over 1 kW.
			a := rs[k].Value / 1000
			out = append(out, Param{Kind: Amps, Index: i, Name: "current of " + c.ID, Prior: a, Upper: 100 * a, Scale: a})
		}
	}
	return out
}

// families are those of hose and of rigid duct that the runs are made of, in
// the order of the file.
func families(s *network.Spec) (hoses, rigid []string) {
	for i := range s.Runs {
		for _, p := range s.Runs[i].Pieces {
			to := &rigid
			if p.Make.Hose() {
				to = &hoses
			}
			if !slices.Contains(*to, p.Make.Family) {
				*to = append(*to, p.Make.Family)
			}
		}
	}
	return hoses, rigid
}

// gatesLeak reports whether any gate leaks when shut.
func gatesLeak(s *network.Spec) bool {
	leaks := func(g *network.Gate) bool { return g != nil && g.Leak > 0 }
	return slices.ContainsFunc(s.Runs, func(r network.Run) bool { return leaks(r.Gate) }) ||
		slices.ContainsFunc(s.Tools, func(t network.Tool) bool {
			return slices.ContainsFunc(t.Ports, func(p network.Port) bool { return leaks(p.Gate) })
		})
}

// sessions are the dates on which the shop was read while a collector ran, in
// their order; one without a date where it was read on one or none.
func sessions(s *network.Spec, rs []Reading, collector int) []string {
	var dates []string
	for _, r := range rs {
		if running(s, r.State, collector) && r.Date != "" && !slices.Contains(dates, r.Date) {
			dates = append(dates, r.Date)
		}
	}
	if slices.Sort(dates); len(dates) < 2 {
		return []string{""}
	}
	return dates
}

// faults lists what may be wrong: an opening at any point, a gate not shut, an
// extra loss in any run, a run of another width. Ducts come before machines, so
// that of equals the duct is named first.
func faults(s *network.Spec, rs []Reading) []Param {
	var out, machines []Param
	for i, p := range s.Points {
		f := Param{Kind: LeakArea, Index: i, Name: "opening at " + p.ID, Upper: 0.02, Scale: 5e-4}
		if tool := portAt(s, p.ID); tool != "" {
			f.Name = "leak at the gate of " + tool
			machines = append(machines, f)
			continue
		}
		out = append(out, f)
	}
	out = append(out, machines...)
	for i, t := range s.Tools {
		for k, p := range t.Ports {
			if p.Gate == nil {
				continue
			}
			f := Param{Kind: GateLeft, Index: i, Port: k, Name: "gate of " + t.ID + " not shut", Scale: 5e-4,
				Upper: math.Pi / 4 * float64(p.Diameter*p.Diameter)}
			if len(t.Ports) > 1 {
				f.Name = "gate of " + t.ID + " at " + p.At + " not shut"
			}
			out = append(out, f)
		}
	}
	for i, r := range s.Runs {
		out = append(out, Param{Kind: ExtraLoss, Index: i, Name: "extra loss in " + r.ID, Upper: 60, Scale: 1})
	}
	for i, r := range s.Runs {
		out = append(out, Param{Kind: Bore, Index: i, Name: "width of " + r.ID, Prior: 1, Lower: 0.6, Upper: 1.6, Scale: 0.1})
	}
	return append(out, reckoned(s, rs)...)
}

// reckoned lists the places whose flows were written down more than once, and
// not speeds: a flow is a speed times an area, and the area may have been taken
// from the trade's size. Of one flow alone no more can be said than that it is
// wrong.
func reckoned(s *network.Spec, rs []Reading) []Param {
	var out []Param
	for i := range rs {
		r := &rs[i]
		same := func(o Reading) bool {
			return o.Quantity == Flow && o.Place == r.Place && o.Index == r.Index && o.Port == r.Port && o.Bound == Exact
		}
		if r.Quantity != Flow || r.Place != AtRun && r.Place != AtPort || !slices.ContainsFunc(rs[i+1:], same) {
			continue
		}
		p := Param{Kind: Reckoned, Index: r.Index, Port: r.Port, Prior: 1, Lower: 0.3, Upper: 3, Scale: 0.1}
		if r.Place == AtRun {
			p.Port, p.Name = -1, "flows reckoned in "+s.Runs[r.Index].ID
		} else {
			t := &s.Tools[r.Index]
			if p.Name = "flows reckoned at " + t.ID; len(t.Ports) > 1 {
				p.Name += " at " + t.Ports[r.Port].At // each port on its own
			}
		}
		if !slices.ContainsFunc(out, func(o Param) bool { return o.Name == p.Name && o.Port == p.Port }) {
			out = append(out, p)
		}
	}
	return out
}

// portAt is the tool with a port at a point, if any.
func portAt(s *network.Spec, point string) string {
	for _, t := range s.Tools {
		for _, p := range t.Ports {
			if p.At == point {
				return t.ID
			}
		}
	}
	return ""
}

// ofFan is the collector that a reading at one is about: the one it names, the
// one that the state names, or the first that runs.
func ofFan(s *network.Spec, r *Reading) int {
	name := cmp.Or(r.Fan, r.State.Collector)
	for i, c := range s.Collectors {
		if c.ID == name || name == "" && running(s, r.State, i) {
			return i
		}
	}
	return 0
}

// running reports whether a collector runs in a state: it is not off, and is the
// one in place at its point.
func running(s *network.Spec, st network.State, collector int) bool {
	at := s.Collectors[collector].At
	first := slices.IndexFunc(s.Collectors, func(c network.Collector) bool { return c.At == at })
	for i, c := range s.Collectors {
		if c.ID == st.Collector && c.At == at {
			first = i
		}
	}
	return first == collector && !slices.Contains(st.Off, s.Collectors[collector].ID)
}
