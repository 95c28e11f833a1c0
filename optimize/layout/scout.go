package layout

// Scouting for a first tree.
const (
	scoutTries  = 3      // failed trial costs before the first scout
	scoutLabels = 100000 // of the first scout; each later one has four times as many
)

// scout looks for any tree at all, where trial costs have found none: the same
// search with a price of 1 an edge. Where costs do not matter, far fewer labels
// do. It reports whether it proved that there is no tree.
func (s *search) scout(tries int) bool {
	m := *s.m
	m.opts = make([][]choice, len(s.m.opts))
	for a, list := range s.m.opts {
		for _, c := range list {
			c.cost = 1
			m.opts[a] = append(m.opts[a], c)
		}
	}
	most := min(s.labelsLeft, scoutLabels<<min(2*(tries-scoutTries), 30))
	sub := &search{ctx: s.ctx, m: &m, labelsLeft: most, scouting: true}
	if s.maxNodes > 0 {
		sub.maxNodes = max(1, s.maxNodes-s.nodes)
	}
	sub.run()
	s.labelsLeft -= most - sub.labelsLeft
	s.nodes, s.labels, s.clashes = s.nodes+sub.nodes, s.labels+sub.labels, s.clashes+sub.clashes
	if sub.best == nil {
		return !sub.stopped
	}
	used := make([]bool, len(m.arcs))
	for a, x := range m.arcs {
		for _, pick := range sub.best {
			used[a] = used[a] || x.edge == pick.Edge && x.reverse == pick.Reverse
		}
	}
	s.size(used)
	return false
}
