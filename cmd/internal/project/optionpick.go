package project

import (
	"context"
	"math"
	"slices"
	"strings"

	"wyewright/network"
	"wyewright/optimize"
	"wyewright/optimize/price"
)

// pick chooses the plan that makes what was settled. A run is made of its own
// family where that is sold in the size, else of the first that is and may be
// bought; where the joints of that are not sold, of another.
func (m *settler) pick() {
	p := m.out.Problem
	m.out.Pick, m.out.Sold = m.made(""), false
	for _, lead := range append([]string{""}, m.o.Families...) {
		pick := m.made(lead)
		if _, _, sold := p.Cost(pick); sold {
			m.out.Pick, m.out.Sold = pick, true
			break
		}
	}
	if !m.out.Sold {
		m.out.Unpriced = append(m.out.Unpriced, "the joint at "+strings.Join(p.Unsold(m.out.Pick), ", ")+", which is not sold or has no price")
	}
	if m.s.Size != "" {
		if m.s.Free {
			m.say("%s for %s", m.s.Size, strings.Join(m.s.Runs, ", "))
		} else {
			m.say("%s", strings.Join(m.named(), "; "))
		}
	}
}

// made is the plan with every settled run of the leading family where it can be.
func (m *settler) made(lead string) []int {
	p := m.out.Problem
	pick := make([]int, len(p.Choices))
	for i := range p.Choices {
		c := &p.Choices[i]
		if !c.Barred(0) {
			continue
		}
		families := m.o.Fix[c.ID].Families
		if lead != "" {
			families = append([]string{lead}, families...)
		}
		pick[i] = m.plain(c, families)
	}
	return pick
}

// plain is the first alternative that may be taken of the first family that has
// one, with the family's usual elbows.
func (m *settler) plain(c *optimize.Choice, families []string) int {
	any := -1
	for _, name := range families {
		f, ok := m.p.Catalog.Family(name)
		for a := range c.Alternatives {
			if c.Barred(a) {
				continue
			}
			last := &c.Alternatives[a].Pieces[len(c.Alternatives[a].Pieces)-1]
			if ok && last.Make.Family == name && !f.Long(&last.Make) {
				return a
			}
			if any < 0 {
				any = a
			}
		}
	}
	return max(any, 0)
}

// named lists the runs that were settled by what they are made of, those that
// are so already last.
func (m *settler) named() []string {
	p := m.out.Problem
	n := p.Network(m.out.Pick)
	var order, words, same []string
	runs := map[string][]string{}
	for _, id := range m.s.Runs {
		i, _ := n.RunIndex(id)
		if !changed(p, m.out.Pick, id) {
			same = append(same, id)
			continue
		}
		pieces := n.Spec().Runs[i].Pieces
		what := pieces[len(pieces)-1].Make.Family
		if runs[what] == nil {
			order = append(order, what)
		}
		runs[what] = append(runs[what], id)
	}
	for _, what := range order {
		words = append(words, m.s.Size+" "+what+" for "+strings.Join(runs[what], ", "))
	}
	switch len(same) {
	case 0:
	case 1:
		words = append(words, same[0]+" is "+m.s.Size+" already")
	default:
		words = append(words, strings.Join(same, ", ")+" are "+m.s.Size+" already")
	}
	return words
}

// changed reports whether a plan changes a run.
func changed(p *optimize.Problem, pick []int, run string) bool {
	for i := range p.Choices {
		if c := &p.Choices[i]; c.Kind == optimize.RunChoice && c.ID == run {
			return pick[i] > 0
		}
	}
	return false
}

// inlet builds the one bleed inlet that serves best: with which most states meet
// what was set, then with the best of the worst ratios, then the cheapest.
func (m *settler) inlet(ctx context.Context) error {
	p := m.out.Problem
	var best []int
	var label string
	most, worst, least := -1, math.Inf(-1), price.Money(0)
	for i := range p.Choices {
		c := &p.Choices[i]
		for a := 1; c.Kind == optimize.BleedChoice && a < len(c.Alternatives); a++ {
			pick := slices.Clone(m.out.Pick)
			pick[i] = a
			states, err := p.Try(ctx, pick)
			if err != nil {
				return err
			}
			met, ratio := served(states)
			cost := c.Alternatives[a].Cost
			if met > most || met == most && (ratio > worst || ratio == worst && cost < least) {
				best, most, worst, least = pick, met, ratio, cost
				label = c.Alternatives[a].Label + " at " + c.ID
			}
		}
	}
	if best == nil {
		return &optimize.NotOffered{Run: "bleed inlet", Reason: strings.Join(p.Dropped, "; ")}
	}
	m.out.Pick = best
	m.say("a %s, of those on offer the one that serves best", label)
	return nil
}

// served counts the states that meet everything, with the least ratio of all.
func served(states []optimize.StateResult) (met int, worst float64) {
	worst = math.Inf(1)
	for _, s := range states {
		if s.Verdict.Meets() {
			met++
		}
		worst = min(worst, network.OnGrid(min(s.Verdict.FlowRatio(), s.Verdict.DustRatio())))
	}
	return met, worst
}
