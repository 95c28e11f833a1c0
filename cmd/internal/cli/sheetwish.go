package cli

import (
	"math"
	"slices"

	"wyewright/network"
	"wyewright/network/units"
	"wyewright/optimize"
)

// readingWish is a reading that would be useful in a state.
type readingWish struct {
	state int
	// run is read, or the suction of a collector, an index into the
	// solution's, where run is −1.
	run, collector int
	order          int // from the collector outward
	// turn says when it has its turn for a line of the form: each place once,
	// then each a second time.
	turn int
}

// gaugeTurns is how many readings of a collector's suction go before a second
// round of the others: that gauge needs no ladder and no hole.
const gaugeTurns = 3

// readingWishes lists what is useful to read, for each state the suction, the
// trunk and one run in each branch, and the runs that cannot be drilled. Where
// all is shut the whole trunk is read, for leaks; else only what carries the
// air of a tool.
func readingWishes(n *network.Network, solved []optimize.StateResult) (out []readingWish, undrawn []string) {
	turns := map[[2]int]int{} // how often a place has been asked for
	add := func(w readingWish) {
		if w.run >= 0 && holeIn(n, w.run).straight == 0 {
			if name := n.Spec().Runs[w.run].ID; !slices.Contains(undrawn, name) {
				undrawn = append(undrawn, name)
			}
			return
		}
		key := [2]int{w.run, w.collector}
		w.turn = turns[key]
		if w.run < 0 {
			w.turn /= gaugeTurns
		}
		turns[key]++
		out = append(out, w)
	}
	runs := len(n.Spec().Runs)
	for i, s := range solved {
		for k := range s.Solution.Collectors {
			add(readingWish{state: i, run: -1, collector: s.Solution.Collectors[k].Collector, order: k})
		}
		trunks, drops := sheetRuns(n, s)
		for _, run := range trunks {
			add(readingWish{state: i, run: run, order: runs + run})
		}
		for _, run := range drops {
			add(readingWish{state: i, run: run, order: 2*runs + run})
		}
	}
	return out, undrawn
}

func (w *readingWish) hole(n *network.Network, sys units.System) sheetHole {
	if w.run < 0 {
		return tap(&n.Spec().Collectors[w.collector], sys)
	}
	h := holeIn(n, w.run)
	return h.describe(&n.Spec().Runs[w.run], sys)
}

func (w *readingWish) row(m *meter, n *network.Network, s *network.Solution) sheetRow {
	if w.run >= 0 {
		return m.speedRow(n, s, w.run)
	}
	k := slices.IndexFunc(s.Collectors, func(c network.CollectorResult) bool { return c.Collector == w.collector })
	return m.suctionRow(&s.Collectors[k])
}

// sheetRuns are the runs to read in a state: of the trunk those with the air of
// a tool, all where everything is shut (air that should not be there shows a
// leak); and one for every port of a running tool.
func sheetRuns(n *network.Network, s optimize.StateResult) (trunks, drops []int) {
	spec := n.Spec()
	moves := func(run int) bool { return math.Abs(float64(s.Solution.Runs[run].Fast)) >= float64(still) }
	for i := range spec.Runs {
		if trunk(n, i) && (allIsShut(&s.State) || s.Solution.Runs[i].Dust && moves(i)) {
			trunks = append(trunks, i)
		}
	}
	for _, name := range s.State.Running {
		k, _ := n.ToolIndex(name)
		for _, port := range spec.Tools[k].Ports {
			best := dropRun(n, port.At)
			if best >= 0 && moves(best) && !slices.Contains(drops, best) {
				drops = append(drops, best)
			}
		}
	}
	return trunks, drops
}

// trunk reports whether a run belongs to the trunk: the file calls it main, it
// ends at a collector, or the air of no tool or of several passes it.
func trunk(n *network.Network, run int) bool {
	spec := n.Spec()
	r := &spec.Runs[run]
	tools := 0
	for k := range spec.Tools {
		if n.ToolsUpstream(run, k) {
			tools++
		}
	}
	return r.Main || tools != 1 || slices.ContainsFunc(spec.Collectors, func(c network.Collector) bool { return c.At == r.To })
}

// dropRun is the run between a port and the trunk that is read best: the one
// with the longest straight pipe, counted in diameters; −1 where the port stands
// at the trunk itself.
func dropRun(n *network.Network, at string) int {
	spec := n.Spec()
	best, most := -1, math.Inf(-1)
	for range spec.Runs { // no way is longer
		i := slices.IndexFunc(spec.Runs, func(r network.Run) bool { return r.From == at })
		if i < 0 || trunk(n, i) {
			break
		}
		h := holeIn(n, i)
		if x := float64(h.straight / h.diameter); x > most {
			best, most = i, x
		}
		at = spec.Runs[i].To
	}
	return best
}
