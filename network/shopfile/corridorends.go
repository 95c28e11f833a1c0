package shopfile

import "slices"

// deadEnds warns of each corridor that no way from duct to duct can use: what
// hangs on one point only, however many corridors it takes.
func (d *decoder) deadEnds() {
	ducted := d.usedPoints()
	alive := make([]bool, len(d.ways))
	for i := range d.ways {
		alive[i] = true
	}
	for again := true; again; {
		again = false
		ends := map[string]int{}
		for i, c := range d.ways {
			if alive[i] {
				ends[c.From]++
				ends[c.To]++
			}
		}
		loose := func(p string) bool { return !ducted[p] && ends[p] < 2 }
		for i, c := range d.ways {
			if alive[i] && (loose(c.From) || loose(c.To)) {
				alive[i], again = false, true
			}
		}
	}
	for i, c := range d.ways {
		if !alive[i] || len(d.ductsFrom(c.From, alive, ducted)) < 2 {
			d.warn(c.name, "let it, or another corridor behind it, end at a point where duct is", "corridor %q leads nowhere", c.ID)
		}
	}
}

// ductsFrom are the points with duct that corridors join to a point, itself
// included.
func (d *decoder) ductsFrom(point string, alive []bool, ducted map[string]bool) map[string]bool {
	seen, found := map[string]bool{point: true}, map[string]bool{}
	for grown := true; grown; {
		grown = false
		for i, c := range d.ways {
			if alive[i] && seen[c.From] != seen[c.To] {
				seen[c.From], seen[c.To], grown = true, true, true
			}
		}
	}
	for p := range seen {
		if ducted[p] {
			found[p] = true
		}
	}
	return found
}

// routesAllowed warns where corridors and the permission to use them do not go
// together, and of a corridor in which no family on offer may run.
func (d *decoder) routesAllowed() {
	r := &d.file.Redesign
	switch {
	case len(d.ways) > 0 && !r.May.Routes:
		d.warn(d.ways[0].name, "add routes to redesign.may, or take the section out", "corridors are given, but no redesign may use them")
	case len(d.ways) == 0 && r.May.Routes:
		d.warn(d.mayNodes["routes"], "add the section corridors: the ways along which new duct may run",
			"the routes may change, but no corridor is given")
	}
	for _, c := range d.ways {
		if len(r.Families) > 0 && !slices.ContainsFunc(r.Families, func(f string) bool { return !slices.Contains(c.Not, f) }) {
			d.warn(c.name, "leave one of redesign.families out of not", "corridor %q: no family on offer may run there", c.ID)
		}
	}
}
