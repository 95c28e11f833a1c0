package cli

import (
	"fmt"
	"slices"
	"strings"

	"wyewright/cmd/internal/project"
	"wyewright/network"
	"wyewright/network/catalog"
	"wyewright/network/units"
	"wyewright/optimize"
	"wyewright/optimize/price"
)

// label names an option in a sentence.
func (r *rival) label() string { return r.letter + " (" + r.name + ")" }

// labels joins the names of options.
func labels(list []*rival) string {
	var out []string
	for _, r := range list {
		out = append(out, r.label())
	}
	if n := len(out); n > 1 {
		return strings.Join(out[:n-1], ", ") + " and " + out[n-1]
	}
	return strings.Join(out, "")
}

// shows says in sentences what a comparison shows.
func (s *comparison) shows() []string {
	var met, rest []*rival
	for _, r := range s.shown() {
		if r.meets() {
			met = append(met, r)
		} else {
			rest = append(rest, r)
		}
	}
	var out []string
	switch {
	case len(met) == 0 && len(rest) > 0:
		out = append(out, "None of these meets everything you set. "+s.closest(rest))
	case len(met) == 1:
		out = append(out, "Only "+met[0].label()+" meets everything you set"+s.price(met[0])+".")
	case len(met) > 1:
		out = append(out, labels(met)+" meet everything you set. "+s.cheapest(met))
	}
	for _, r := range rest {
		out = append(out, r.failing()+strings.Join(r.misses(s.sys, true), "; ")+".")
	}
	for _, r := range s.rivals {
		if r.off != "" {
			out = append(out, r.label()+" cannot be had: "+r.off+".")
		}
	}
	return append(out, s.wider()...)
}

// failing begins a sentence about what an option misses.
func (r *rival) failing() string {
	around := "around " + r.label()
	if r.free {
		around = "that the file allows, " + r.label() + ","
	}
	switch {
	case !r.failed:
		return r.label() + " misses: "
	case r.status == optimize.Infeasible.String():
		return "No plan " + around + " meets everything; the closest misses: "
	}
	return "No plan " + around + " that meets everything was found in time; the closest misses: "
}

// closest says which option of those that miss something comes closest.
func (s *comparison) closest(list []*rival) string {
	best := slices.MinFunc(list, func(a, b *rival) int {
		if d := b.met*len(a.states) - a.met*len(b.states); d != 0 {
			return d
		}
		return int(1e6*(b.worst()-a.worst()) + 0.5)
	})
	text := fmt.Sprintf("%s comes closest: everything holds in %d of %s, and its worst is %s %% of what is asked.", best.label(), best.met,
		count(len(best.states), "state"), percent(best.worst()))
	if !s.o.optimise && s.p.Network.IsTree() {
		text += " Each is one change alone; --optimise finds the cheapest redesign around each."
	}
	return text
}

// worst is the least of the ratios of an option.
func (r *rival) worst() float64 {
	return network.OnGrid(min(r.least.ratio, r.slow.ratio, r.fast.ratio, r.motor.ratio, 9))
}

// price says what the only option that meets everything costs.
func (s *comparison) price(r *rival) string {
	if !r.whole() {
		return ""
	}
	return ", for " + r.p.Currency.Text(r.cost) + r.sure()
}

// whole reports whether an option has a price for all of it.
func (r *rival) whole() bool { return r.priced && len(r.unpriced) == 0 }

// sure is what a status that is no proof adds to a sum.
func (r *rival) sure() string {
	if r.status != optimize.Feasible.String() {
		return ""
	}
	if r.bound == 0 {
		return " (best found; no lower bound was proved)"
	}
	return fmt.Sprintf(" (best found; none around it costs less than %s)", r.p.Currency.Text(r.bound))
}

// cheapest says which of the options that meet everything is cheapest.
func (s *comparison) cheapest(met []*rival) string {
	var list, none []*rival
	for _, r := range met {
		if r.whole() && r.p.Currency == s.p.Currency {
			list = append(list, r)
		} else {
			none = append(none, r)
		}
	}
	if len(list) == 0 {
		return "None of them has a price for all of it."
	}
	slices.SortStableFunc(list, func(a, b *rival) int { return int(a.cost - b.cost) })
	first := list[0]
	text := fmt.Sprintf("The cheapest of them is %s, for %s%s", first.label(), s.p.Currency.Text(first.cost), first.sure())
	for _, r := range list[1:] {
		word := s.p.Currency.Text(r.cost-first.cost) + " more"
		if r.cost == first.cost {
			word = "the same"
		}
		text += "; " + r.label() + " costs " + word + r.sure()
	}
	if len(none) > 0 {
		text += "; of " + labels(none) + " no price for all of it can be set beside that"
	}
	if slices.ContainsFunc(list[1:], func(r *rival) bool { return r.status == optimize.Feasible.String() && r.bound < first.cost }) {
		text += ". The order is not proved: more time may find cheaper ones"
	}
	return text + "."
}

// wider says where a wider trunk is worse: it carries more air and carries it
// slower.
func (s *comparison) wider() []string {
	if s.o.optimise {
		return nil
	}
	var list []*rival
	for _, r := range s.shown() {
		if r.settled.Size != "" && r.settled.Family == "" && r.settled.Collector == "" && r.settled.Bleed == project.AnyBleed {
			list = append(list, r)
		}
	}
	bore := func(r *rival) units.Length { d, _ := catalog.ParseSize(r.settled.Size); return d }
	slices.SortStableFunc(list, func(a, b *rival) int { return int(1e6 * (bore(a) - bore(b))) })
	if len(list) < 2 {
		return nil
	}
	var chain []string
	top := 0
	for i, r := range list {
		chain = append(chain, fmt.Sprintf("%s: %s %% and %s %%", r.name, percent(r.least.ratio), percent(r.slow.ratio)))
		if r.slow.ratio > list[top].slow.ratio+1e-6 {
			top = i
		}
	}
	text := "Least share of flow and slowest dust run by width: " + strings.Join(chain, "; ") + "."
	last := list[len(list)-1]
	if top < len(list)-1 {
		why := "the air runs slower in the wider duct"
		if !slices.Contains(last.settled.Runs, last.slow.who) {
			why = "it takes air from " + last.slow.who
		}
		text += fmt.Sprintf(" Wider than %s is worse for dust: %s", list[top].name, why)
		if network.Meets(list[top].slow.ratio) && !network.Meets(last.slow.ratio) {
			text += ", and dust may settle"
		}
		text += "."
	}
	return []string{text}
}

// money is what an option costs, in words.
func (r *rival) money() string {
	switch {
	case !r.priced, r.cost == 0 && len(r.unpriced) > 0:
		return "not priced"
	case len(r.unpriced) > 0:
		return r.p.Currency.Text(r.cost) + " +"
	}
	return r.p.Currency.Text(r.cost)
}

// searched is the status of an option with what is proved of its cost.
func (r *rival) searched() string {
	if r.status == optimize.Feasible.String() {
		if r.bound == price.Money(0) {
			return r.status + ", no bound proved"
		}
		return fmt.Sprintf("%s, gap %.1f %%", r.status, 100*r.gap)
	}
	return r.status
}
