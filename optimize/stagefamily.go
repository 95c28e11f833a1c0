package optimize

// exactUnits is the number of parts up to which every shop on the way is tried
// (our choice: 4096 shops).
const exactUnits = 12

// shops lists the shops that may be stages, and reports whether those are all:
// with few parts every set of them, with many those that a growing and a
// shrinking of the plan, part by part, come by.
func (g *stager) shops() (all bool) {
	g.evals[g.whole()] = g.try(g.partial(g.whole())) // whatever the limits
	grown := g.walk()
	if len(g.units) > g.exact {
		g.family = grown
		return false
	}
	g.family = nil
	for set := range g.whole() + 1 {
		g.family = append(g.family, g.partial(set))
	}
	return true
}

// walk tries what comes of adding the part that gains most for its money, from
// the shop as found on, and of leaving out the one that is missed least, from
// the plan on. All that it tries comes back, the shop as found first.
func (g *stager) walk() []*partial {
	out := []*partial{g.partial(0)}
	seen := map[uint64]bool{0: true}
	note := func(set uint64) int64 {
		s := g.partial(set)
		if !seen[set] {
			seen[set] = true
			out = append(out, s)
		}
		return g.mostOf(s)
	}
	note(g.whole())
	up, down := uint64(0), g.whole()
	for range g.units {
		base := g.partial(up)
		up |= g.choose(up, func(u uint64) float64 {
			to := g.partial(up | u)
			cost, sold := g.cost(base, to)
			gain := note(up|u) - g.mostOf(base)
			if !sold || gain < 0 {
				return float64(min(gain, 0)) - 1
			}
			return float64(gain) / float64(cost+1)
		})
		down &^= g.choose(^down, func(u uint64) float64 { return float64(note(down &^ u)) })
	}
	return out
}

// choose finds the part, among those that are not in a set, with the highest
// value, the first of equals.
func (g *stager) choose(set uint64, value func(uint64) float64) uint64 {
	best, most := uint64(0), 0.0
	for u := range g.units {
		if bit := uint64(1) << u; set&bit == 0 {
			if v := value(bit); best == 0 || v > most {
				best, most = bit, v
			}
		}
	}
	return best
}

// mostOf is what a shop counts where nothing must be kept, below 0 where there
// is none.
func (g *stager) mostOf(s *partial) int64 {
	if s.set == 0 {
		return g.worth()
	}
	e := g.eval(s)
	if e == nil {
		return -1
	}
	sum := int64(0)
	for _, list := range e.states {
		most := int64(0)
		for _, o := range list {
			most = max(most, o.worth)
		}
		sum += most
	}
	return sum
}
