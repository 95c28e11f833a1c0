package layout

// spanning solves by the cheapest spanning trees over the needed points and
// every subset of the free ones.
func (c *contraction) spanning(free []int) (chosen []int, ok bool) {
	least := int64(-1)
	inside := make([]bool, c.n)
	for set := range 1 << len(free) {
		copy(inside, c.need)
		inside[c.root] = true
		for i, v := range free {
			inside[v] = set>>i&1 == 1
		}
		var links []branch
		for i, j := range c.joints {
			if inside[j.from] && inside[j.to] {
				links = append(links, branch{j.from, j.to, j.cost, i})
			}
		}
		inside[c.root] = false
		tree, found := arborescence(inside, links)
		if !found {
			continue
		}
		cost := int64(0)
		for _, i := range tree {
			cost += c.joints[i].cost
		}
		if least < 0 || cost < least {
			least, chosen = cost, tree
		}
	}
	return chosen, least >= 0
}

// branch is a link of a spanning tree, toward the root.
type branch struct {
	from, to int
	cost     int64
	name     int
}

// arborescence names the links of the cheapest tree in which one link leaves
// every point of inside and all ways end at the one other point, the root. It
// is the method of Chu & Liu (1965, Scientia Sinica 14:1396–1400) and Edmonds
// (1967, J. Res. NBS 71B:233–240): take the cheapest link out of every point,
// and make one point of each ring.
func arborescence(inside []bool, links []branch) (names []int, ok bool) {
	best := make([]int, len(inside)) // index of a link + 1
	for i, l := range links {
		if inside[l.from] && l.from != l.to && (best[l.from] == 0 || l.cost < links[best[l.from]-1].cost) {
			best[l.from] = i + 1
		}
	}
	for v, in := range inside {
		if in && best[v] == 0 {
			return nil, false
		}
	}
	ring := findRing(inside, best, links)
	if ring == nil {
		for v, in := range inside {
			if in {
				names = append(names, links[best[v]-1].name)
			}
		}
		return names, true
	}
	// The ring becomes its first point. What leaves it replaces a link of it.
	onRing := make([]bool, len(inside))
	for _, v := range ring {
		onRing[v] = true
	}
	outer := append([]bool(nil), inside...)
	for _, v := range ring[1:] {
		outer[v] = false
	}
	var rest []branch
	for i, l := range links {
		b := branch{l.from, l.to, l.cost, i}
		if onRing[l.from] {
			b.from, b.cost = ring[0], l.cost-links[best[l.from]-1].cost
		}
		if onRing[l.to] {
			b.to = ring[0]
		}
		if b.from != b.to {
			rest = append(rest, b)
		}
	}
	picks, ok := arborescence(outer, rest)
	if !ok {
		return nil, false
	}
	left := -1 // the point of the ring that is left
	for _, i := range picks {
		names = append(names, links[i].name)
		if onRing[links[i].from] {
			left = links[i].from
		}
	}
	for _, v := range ring {
		if v != left {
			names = append(names, links[best[v]-1].name)
		}
	}
	return names, true
}

// findRing follows the best links and returns the points of a ring, nil if
// there is none.
func findRing(inside []bool, best []int, links []branch) []int {
	seen := make([]int, len(inside)) // in which walk
	for v, in := range inside {
		if !in || seen[v] > 0 {
			continue
		}
		u := v
		for inside[u] && seen[u] == 0 {
			seen[u] = v + 1
			u = links[best[u]-1].to
		}
		if !inside[u] || seen[u] != v+1 {
			continue
		}
		ring := []int{u}
		for w := links[best[u]-1].to; w != u; w = links[best[w]-1].to {
			ring = append(ring, w)
		}
		return ring
	}
	return nil
}
