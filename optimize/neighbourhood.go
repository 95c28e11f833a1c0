package optimize

import "slices"

const (
	// manyChoices is the number of open choices above which neighbourhoods are
	// searched before the whole.
	manyChoices = 60
	// window is the number of choices that are free at a time, quota the number
	// of nodes that they may take.
	window, windowQuota = 24, 200
)

// neighbourhoods makes the best plan lighter part by part (large neighbourhood
// search: Shaw 1998, CP98, LNCS 1520:417, from memory): the choices of about
// window runs that lie together are free, the rest stays as it is, and the same
// branch and bound finds the best of these plans. It goes on until no part
// yields anything. Small problems are left to the search of the whole.
func (x *search) neighbourhoods() {
	if x.best == nil || x.undecided() <= x.many || x.any {
		return
	}
	root, open := slices.Clone(x.dom), x.open
	order := x.together()
	for gained := true; gained && !x.halted(); {
		gained = false
		for from := 0; from < len(order) && !x.halted(); from += window / 2 {
			before := x.limit
			x.neighbourhood(root, order[from:min(from+window, len(order))])
			gained = gained || x.limit < before
		}
	}
	x.quota, x.open = 0, open
	copy(x.dom, root)
	x.install()
}

// undecided counts the choices that are open.
func (x *search) undecided() int {
	n := 0
	for _, d := range x.dom {
		if d&(d-1) != 0 {
			n++
		}
	}
	return n
}

// neighbourhood searches the plans that differ from the best in some choices.
func (x *search) neighbourhood(root []uint64, free []int) {
	for i := range x.dom {
		x.dom[i] = 1 << x.best.Pick[i]
	}
	for _, i := range free {
		x.dom[i] = root[i]
	}
	x.install()
	x.quota = x.stats.Nodes + windowQuota
	x.dive(0)
	x.quota = 0
}

// together orders the open choices so that those that lie together in the ducts
// come together: along the tree from the collector, leaks, gates and bleeds
// last.
func (x *search) together() []int {
	p := x.p
	into := map[int][]int{} // runs by the run they flow into, −1 for the collector
	for r := range p.Base.Spec().Runs {
		into[p.Base.Next(r)] = append(into[p.Base.Next(r)], r)
	}
	var out []int
	var visit func(r int)
	visit = func(r int) {
		if c := p.runChoice[r]; c >= 0 && x.dom[c]&(x.dom[c]-1) != 0 {
			out = append(out, c)
		}
		for _, k := range into[r] {
			visit(k)
		}
	}
	for _, r := range into[-1] {
		visit(r)
	}
	for i := range p.Choices {
		if p.Choices[i].Run < 0 && x.dom[i]&(x.dom[i]-1) != 0 {
			out = append(out, i)
		}
	}
	return out
}
