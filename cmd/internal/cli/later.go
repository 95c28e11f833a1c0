package cli

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"wyewright/cmd/internal/project"
	"wyewright/network"
	"wyewright/network/units"
	"wyewright/optimize"
	"wyewright/optimize/parts"
	"wyewright/optimize/price"
)

// asToday makes what was found the shop of today, where a tool comes later.
func (o *outcome) asToday() error {
	today, err := o.p.Today()
	if err != nil || today == o.p {
		return err
	}
	o.found, err = today.Problem()
	return err
}

// stateName is the name of a state, marked where it waits for a tool.
func (o *outcome) stateName(s *optimize.StateResult) string {
	if o.problem.Waits(&s.State) {
		return s.State.Name + " (later)"
	}
	return s.State.Name
}

// flowWas is the flow of a tool in a state before the redesign; false where there
// was none, because the tool is still to come.
func (o *outcome) flowWas(s *optimize.StateResult, tool string) (units.Flow, bool) {
	for _, was := range o.before {
		if was.State.Name != s.State.Name {
			continue
		}
		for _, tv := range was.Verdict.Tools {
			if o.found.Base.Spec().Tools[tv.Tool].ID == tool {
				return tv.Flow, true
			}
		}
	}
	return 0, false
}

// flowBefore is the same as text.
func (o *outcome) flowBefore(s *optimize.StateResult, tool string) string {
	if v, ok := o.flowWas(s, tool); ok {
		return number(v.In(o.sys), 0)
	}
	return "–"
}

// lines are those of the plan.
func (o *outcome) lines() []parts.Line { return o.problem.Lines(o.result.Best) }

// nowAndLater splits the planning cost where a tool comes later.
func (o *outcome) nowAndLater() []string {
	if len(o.problem.Later.Tools) == 0 {
		return nil
	}
	now, later := parts.NowAndLater(o.lines())
	a, _ := o.p.Builder.Cost(now)
	b, _ := o.p.Builder.Cost(later)
	return []string{
		fmt.Sprintf("now %s%s; later %s, when %s", o.p.Currency.Text(a), withCap(now), o.p.Currency.Text(b), o.comes()),
		"the search makes the sum of both least: the trunk is right for the time when it is there",
	}
}

// withCap says so where a cap is among what is bought now.
func withCap(now []parts.Line) string {
	if slices.ContainsFunc(now, func(l parts.Line) bool { return l.Item.Kind == price.Cap }) {
		return ", with a wye and a cap where room is kept"
	}
	return ""
}

// jsonLater says what comes later: the planning cost of now and of then, and the
// states that miss something until it comes.
type jsonLater struct {
	Tools  []string    `json:"tools"`
	Runs   []string    `json:"runs"`
	Now    price.Money `json:"now_minor"`
	Later  price.Money `json:"later_minor"`
	Capped []string    `json:"states_missed_until_then"`
}

// laterJSON is nil where nothing comes later.
func (o *outcome) laterJSON() *jsonLater {
	if len(o.problem.Later.Tools) == 0 {
		return nil
	}
	now, later := parts.NowAndLater(o.lines())
	out := &jsonLater{Tools: o.problem.Later.Tools, Runs: o.problem.Later.Runs, Capped: append([]string{}, o.capped...)}
	out.Now, _ = o.p.Builder.Cost(now)
	out.Later, _ = o.p.Builder.Cost(later)
	return out
}

// line says what of the cost is now and what later.
func (l *jsonLater) line(c price.Currency) string {
	return fmt.Sprintf("now %s; later %s, when %s", c.Text(l.Now), c.Text(l.Later), theyCome(l.Tools))
}

// comes says which tools come.
func (o *outcome) comes() string { return theyCome(o.problem.Later.Tools) }

func theyCome(tools []string) string {
	if len(tools) == 1 {
		return tools[0] + " comes"
	}
	return strings.Join(tools, " and ") + " come"
}

// billLater is the part of the bill that waits, as Markdown; empty where nothing
// does.
func (o *outcome) billLater() string {
	_, later := parts.NowAndLater(o.lines())
	if len(later) == 0 {
		return ""
	}
	var b strings.Builder
	fmt.Fprintf(&b, "\n## Of this only later, when %s\n\n", o.comes())
	for _, r := range o.p.Builder.Bill(later).Rows {
		switch r.Action {
		case parts.Buy:
			fmt.Fprintf(&b, "- %s: %s, %s\n", r.Item.String(), quantity(r.Gross, r.Unit, o.sys), o.p.Currency.Text(r.Total))
		case parts.Work:
			fmt.Fprintf(&b, "- %s: %s\n", r.Item.Family, quantity(r.Hours, "h", o.sys))
		}
	}
	for _, l := range o.nowAndLater() {
		fmt.Fprintf(&b, "\n%s.\n", strings.ToUpper(l[:1])+l[1:])
	}
	return b.String()
}

// heldNow checks that the new shop meets as much with caps on the wyes that wait
// as with the tools there and shut: a cap lets nothing through, a shut gate leaks.
func (o *outcome) heldNow(p *project.Project) error {
	if len(p.File.Later) == 0 {
		return nil
	}
	n, states := p.Network, p.File.Today().States
	spec := n.Spec()
	for k := range spec.Tools {
		for i := range spec.Tools[k].Ports {
			if slices.Contains(o.problem.Later.Tools, spec.Tools[k].ID) && spec.Tools[k].Ports[i].Gate != nil {
				n = n.With(network.SetGate{Tool: k, Port: i}) // behind the cap no air comes in
			}
		}
	}
	now, err := solveStates(context.Background(), n, project.Bound(states), project.Limits(p.File))
	if err != nil {
		return err
	}
	o.capped, o.cappedHow = nil, nil
	for _, s := range now {
		i := slices.IndexFunc(o.result.States, func(r optimize.StateResult) bool { return r.State.Name == s.State.Name })
		if i >= 0 && o.result.States[i].Verdict.Meets() && !s.Verdict.Meets() {
			o.capped = append(o.capped, s.State.Name)
			o.cappedHow = append(o.cappedHow, s.State.Name+lacks(n.Spec(), s.Verdict))
		}
	}
	return nil
}

// butCapped takes back a verdict where a state misses something until a tool comes.
func (o *outcome) butCapped() string {
	if len(o.capped) == 0 {
		return ""
	}
	return "But " + o.cappedLine() + ".\n"
}

// cappedLine says how the states of today do while the caps are on.
func (o *outcome) cappedLine() string {
	switch {
	case len(o.problem.Later.Tools) == 0:
		return ""
	case len(o.capped) > 0:
		return "until " + o.comes() + ", with the cap on, these states miss what you set: " + strings.Join(o.cappedHow, ", ")
	}
	return "until " + o.comes() + ", with the cap on, no other state falls short that does not here: each was solved so"
}

// lacks says by how much a state misses what was set, the worst flow or the
// slowest dust run, in brackets; "" where it is something else.
func lacks(s *network.Spec, v *network.Verdict) string {
	flow, dust := v.FlowRatio(), v.DustRatio()
	for i := range v.Tools {
		if t := &v.Tools[i]; flow <= dust && t.Ratio == flow && !network.Meets(flow) {
			return fmt.Sprintf(" (%s gets %s %% of its flow)", s.Tools[t.Tool].ID, percent(flow))
		}
	}
	for i := range v.Dust {
		if r := &v.Dust[i]; r.Ratio == dust && !network.Meets(dust) {
			return fmt.Sprintf(" (air in %s at %s %% of transport velocity)", s.Runs[r.Run].ID, percent(dust))
		}
	}
	return ""
}
