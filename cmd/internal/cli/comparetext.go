package cli

import (
	"fmt"
	"slices"
	"strings"

	"wyewright/cmd/internal/ui"
	"wyewright/network"
	"wyewright/network/units"
	"wyewright/optimize"
)

// grids are the tables of a comparison.
func (s *comparison) grids() []*grid {
	out := []*grid{s.summary(), s.money(), s.flows(), s.dust()}
	if g := s.opened(); g != nil {
		out = append(out, g)
	}
	return out
}

// summary has how each option does.
func (s *comparison) summary() *grid {
	g := &grid{title: "Side by side", cols: []ui.Column{ui.Word("option"), ui.Word("verdict"), ui.Word("tools served"), ui.Word("states met"),
		ui.Num("least flow", "%"), ui.Word("of, in"), ui.Num("slowest dust run", "%"), ui.Word("of, in")}}
	for _, r := range s.rivals {
		if r.off != "" {
			g.rows = append(g.rows, []string{r.head(), "cannot be had"})
			continue
		}
		word := "misses"
		if r.meets() {
			word = "meets"
		}
		g.rows = append(g.rows, []string{r.head(), word, fmt.Sprintf("%d of %d", r.served, r.asked), fmt.Sprintf("%d of %d", r.met, len(r.states)),
			percent(r.least.ratio), r.least.who + ", " + r.least.state, percent(r.slow.ratio), r.slow.who + ", " + r.slow.state})
	}
	g.note = "Tools served: over all states. The slowest dust run is in per cent of its transport velocity."
	return g
}

// money has what each option costs and draws.
func (s *comparison) money() *grid {
	g := &grid{title: "Cost and motor", cols: []ui.Column{ui.Word("option"), ui.Num("cost", ""), ui.Word("status"), ui.Word("motor at most"), ui.Word("not in the cost")}}
	for _, r := range s.shown() {
		motor := "not checked"
		if r.motors {
			motor = motorWord(r.load, s.sys)[len("motor "):] + " in " + r.motor.state
		}
		g.rows = append(g.rows, []string{r.head(), r.money(), r.searched(), motor, strings.Join(r.unpriced, "; ")})
	}
	g.note = "The cost is the planning cost of the change from the shop as found: parts, joints and work by the price book."
	if slices.ContainsFunc(s.shown(), func(r *rival) bool { return r.priced && len(r.unpriced) > 0 }) {
		g.note += " A + leaves something out."
	}
	return g
}

// mark stands behind a number that misses what was set.
const mark = " !"

// flows has the flow of every tool in every state.
func (s *comparison) flows() *grid {
	u := units.Flow(0).Unit(s.sys)
	g := &grid{title: "Flow per tool and state, " + u, cols: []ui.Column{ui.Word("state"), ui.Word("tool"), ui.Num("required", "")},
		note: "! short of what is required; – does not run there"}
	list := s.shown()
	for _, r := range list {
		g.cols = append(g.cols, ui.Num(r.head(), ""))
	}
	for _, x := range s.toolStates() {
		row := []string{x.state, x.tool, ""}
		for _, r := range list {
			v := r.tool(x)
			if v == nil {
				row = append(row, "–"+marked(true))
				continue
			}
			need := number(v.Required.In(s.sys), 0)
			text := number(v.Flow.In(s.sys), 0)
			if row[2] == "" {
				row[2] = need
			} else if row[2] != need {
				text += " of " + need
			}
			row = append(row, text+marked(network.Meets(v.Ratio)))
		}
		g.rows = append(g.rows, row)
	}
	return g
}

// marked is the mark of what misses, and room for it elsewhere.
func marked(meets bool) string {
	if meets {
		return strings.Repeat(" ", len(mark))
	}
	return mark
}

// dust has the slowest dust run of every state.
func (s *comparison) dust() *grid {
	g := s.byState("Slowest dust run per state, in per cent of its transport velocity", true, func(r *rival, st *optimize.StateResult) string {
		run, share := slowest(r.n, st.Verdict)
		return run + " " + share + marked(network.Meets(st.Verdict.DustRatio()))
	})
	g.note = "! below its transport velocity: dust may settle"
	return g
}

// opened has what stands open in every state besides the running tools, nil
// where that is nothing anywhere.
func (s *comparison) opened() *grid {
	any := false
	g := s.byState("Open as well", false, func(_ *rival, st *optimize.StateResult) string {
		text := settings(&st.State, "nothing")
		any = any || text != "nothing"
		return text
	})
	if !any {
		return nil
	}
	return g
}

// byState has a column for every option and a row for every state.
func (s *comparison) byState(title string, num bool, text func(*rival, *optimize.StateResult) string) *grid {
	g := &grid{title: title, cols: []ui.Column{ui.Word("state")}}
	list := s.shown()
	var states []string
	for _, r := range list {
		g.cols = append(g.cols, ui.Column{Head: r.head(), Number: num})
		for _, st := range r.states {
			if !slices.Contains(states, st.State.Name) {
				states = append(states, st.State.Name)
			}
		}
	}
	for _, name := range states {
		row := []string{name}
		for _, r := range list {
			k := slices.IndexFunc(r.states, func(st optimize.StateResult) bool { return st.State.Name == name })
			if k < 0 {
				row = append(row, "–"+marked(true))
				continue
			}
			row = append(row, text(r, &r.states[k]))
		}
		g.rows = append(g.rows, row)
	}
	return g
}

// printCompare prints a comparison for people.
func (a *app) printCompare(s *comparison) error {
	fmt.Fprintf(a.Out, "%s: %s side by side\n\n", s.p.File.Name, count(len(s.rivals), "option"))
	for _, r := range s.rivals {
		fmt.Fprintf(a.Out, "%s  %s\n", r.letter, r.name)
		for _, line := range r.lines(s.sys) {
			fmt.Fprintf(a.Out, "   %s\n", line)
		}
	}
	for _, g := range s.grids() {
		if err := g.write(a.Out); err != nil {
			return err
		}
	}
	if s.o.optimise {
		if err := s.plans().write(a.Out); err != nil {
			return err
		}
	}
	_, err := fmt.Fprintf(a.Out, "\nWhat the comparison shows\n  %s\n\nMind\n  %s\n", strings.Join(s.shows(), "\n  "), strings.Join(s.mind(), "\n  "))
	return err
}

// lines are what there is to say of an option by itself.
func (r *rival) lines(sys units.System) []string {
	out := []string{strings.Join(r.what, "; ")}
	if len(r.beyond) > 0 {
		out = append(out, "beyond what the file allows: "+strings.Join(r.beyond, "; "))
	}
	if out[0] == "" {
		out = out[1:]
	}
	return append(out, r.verdict(sys))
}
