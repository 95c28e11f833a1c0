package cli

import (
	"fmt"
	"slices"
	"strings"

	"wyewright/cmd/internal/project"
	"wyewright/cmd/internal/ui"
	"wyewright/network"
)

// plans has what each redesign around an option changes.
func (s *comparison) plans() *grid {
	g := &grid{title: "What each plan changes", cols: []ui.Column{ui.Word("option"), ui.Word("what"), ui.Word("from"), ui.Word("to")}}
	for _, r := range s.shown() {
		name := r.head()
		for _, c := range r.changes {
			g.rows = append(g.rows, []string{name, c.What, c.From, c.To})
			name = ""
		}
		if name != "" {
			g.rows = append(g.rows, []string{name, "nothing"})
		}
	}
	return g
}

// mind says how the figures came about and what they leave out.
func (s *comparison) mind() []string {
	var out []string
	add := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	if n := s.p.File.Redesign.May.Companions; s.p.Network.IsTree() {
		add("every state is solved with what serves it best of the gates and bleed inlets that may stand open with the tools (companions: %d), as redesign shows the shop as found", n)
	} else {
		add("every state is solved as the file has it: companions are tried only where the ducts form no loop")
	}
	if s.p.Open() && s.settles() {
		add("the ducts stay on their ways, and the collector is what the option says: routes and other collectors, which the file leaves open, are not searched here")
	}
	if s.o.optimise && s.p.File.Energy.Given {
		add("the file's energy is not reckoned with: each plan is the cheapest to buy")
	}
	if !s.o.optimise {
		add("nothing was searched now: each option is what it says and no more")
	}
	if slices.ContainsFunc(s.shown(), func(r *rival) bool { return len(r.beyond) > 0 }) {
		add("options beyond what the file allows are tried all the same; redesign will not choose them until the file does")
	}
	out = append(out, s.unlike()...)
	for _, r := range s.shown() {
		if r.p.Currency != s.p.Currency {
			add("the file of %s has prices in %s, which are not converted", r.label(), r.p.Currency.Code)
		}
	}
	out = append(out, s.p.Notes...)
	return append(out, "a verdict is about the flows and velocities that you set; it is no proof of clean air")
}

// settles reports whether any option settles something of the shop.
func (s *comparison) settles() bool {
	return slices.ContainsFunc(s.rivals, func(r *rival) bool { return r.path == "" && r.set == "" && !r.asFound })
}

// unlike says where options are held against other rules, tools or states.
func (s *comparison) unlike() []string {
	var out []string
	for _, r := range s.shown() {
		if r.p == s.p {
			continue
		}
		if a, b := project.Limits(r.p.File), project.Limits(s.p.File); a != b {
			out = append(out, r.label()+" is held against other rules, those of its own file: "+s.rules(&a)+", not "+s.rules(&b))
		}
		if a, b := names(r.p), names(s.p); !slices.Equal(a, b) {
			out = append(out, r.label()+" has other states, or other tools in them: compare where both have a figure")
		}
		if r.p.File.Units != s.p.File.Units {
			out = append(out, r.label()+" is written in other units; all figures are in those of the first file")
		}
	}
	return out
}

// rules are limits in words.
func (s *comparison) rules(l *network.Limits) string {
	words := []string{fmt.Sprintf("margin %s %%", number(100*float64(l.Margin), 1)), "transport velocity by dust"}
	if l.Transport > 0 {
		words[1] = "transport velocity " + l.Transport.Text(s.sys)
	}
	if l.Riser > 0 {
		words = append(words, fmt.Sprintf("risers %s %% more", number(100*float64(l.Riser), 1)))
	}
	if l.Ceiling > 0 {
		words = append(words, "ceiling "+l.Ceiling.Text(s.sys))
	}
	return strings.Join(words, ", ")
}

// names are the states of a shop and what runs in them.
func names(p *project.Project) []string {
	var out []string
	for _, st := range project.Bound(p.File.States) {
		out = append(out, st.Name+": "+strings.Join(st.Running, ", "))
	}
	return out
}
