package cli

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"wyewright/network"
	"wyewright/plots"
)

// figure draws the options that can be had side by side.
func (s *comparison) figure() (*plots.Figure, error) {
	d := plots.CompareData{Title: s.p.File.Name + ": options side by side"}
	for _, x := range s.toolStates() {
		if !slices.Contains(d.Tools, x.tool) {
			d.Tools = append(d.Tools, x.tool)
		}
	}
	for _, r := range s.shown() {
		o := plots.CompareOption{Name: r.letter + " " + r.name, Meets: r.meets(), Verdict: "meets everything", Cost: r.money(),
			Slowest: share(r.slow.ratio), Run: r.slow.who, Note: r.beside()}
		if !o.Meets {
			o.Verdict = fmt.Sprintf("%d of %s", r.met, count(len(r.states), "state"))
		}
		for _, tool := range d.Tools {
			o.Shares = append(o.Shares, share(r.leastOf(tool)))
		}
		d.Options = append(d.Options, o)
	}
	return plots.CompareChart(d)
}

// beside names what an option misses beside flow and transport velocity.
func (r *rival) beside() string {
	var words []string
	if r.fasts > 0 {
		words = append(words, "too fast: "+r.fast.who)
	}
	if r.load.Checked && !r.load.OK() {
		words = append(words, "motor overloaded")
	}
	if len(r.backward)+len(r.blown) > 0 {
		words = append(words, "air backward")
	}
	return strings.Join(words, ", ")
}

// leastOf is the least share of flow of a tool over the states, infinite where
// it never runs.
func (r *rival) leastOf(tool string) float64 {
	least := math.Inf(1)
	for _, st := range r.states {
		for _, v := range st.Verdict.Tools {
			if r.n.Spec().Tools[v.Tool].ID == tool {
				least = min(least, v.Ratio)
			}
		}
	}
	return least
}

// share is a ratio as a picture shows it; one that holds on the grid is whole.
func share(ratio float64) plots.CompareShare {
	if math.IsInf(ratio, 1) {
		return plots.CompareShare{None: true}
	}
	return plots.CompareShare{Percent: max(0, 100*network.OnGrid(ratio))}
}
