package optimize

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"wyewright/network"
	"wyewright/optimize/parts"
	"wyewright/optimize/price"
)

// AsFound judges the shop as it stands in every state, each with the allowed
// companions that serve it best.
func (p *Problem) AsFound(ctx context.Context) ([]StateResult, error) {
	return p.Try(ctx, make([]int, len(p.Choices)))
}

// Lines are everything that a plan buys, does and takes out; their planning
// cost is the plan's.
func (p *Problem) Lines(pl *Plan) []parts.Line {
	out := slices.Clone(p.fixed)
	for i, a := range pl.Pick {
		out = append(out, p.Choices[i].Alternatives[a].Lines...)
		for k := len(out) - len(p.Choices[i].Alternatives[a].Lines); k < len(out) && p.Choices[i].Later; k++ {
			out[k].Later = true
		}
	}
	for i := range p.joints {
		j := &p.joints[i]
		lines, _ := p.jointLines(j, at(pl.Pick, j.main), at(pl.Pick, j.branch), at(pl.Pick, j.common))
		out = append(out, lines...)
	}
	return out
}

// ChangeNote is one entry of the change list.
type ChangeNote struct {
	Kind           Kind
	What, From, To string
	// Why names what goes wrong without the change.
	Why string
	// Cost is that of the change itself, joints apart.
	Cost price.Money
}

// Changes lists what a plan changes, and why: each change is taken back alone
// and the worst thing that then goes wrong is named.
func (p *Problem) Changes(ctx context.Context, pl *Plan) ([]ChangeNote, error) {
	x, err := newSearch(ctx, p, nil)
	if err != nil {
		return nil, err
	}
	own, _ := x.misses(pl.Pick) // the solver settled it before
	out := p.Taken.changes()
	for i, a := range pl.Pick {
		c := &p.Choices[i]
		if a == 0 && !c.Build {
			continue
		}
		note := p.note(i, a)
		if c.Build {
			note.Why = "carries the air on its new way"
			if c.Later {
				note.From, note.Why = "not there yet", p.whyLater(c, a)
			}
			out = append(out, note)
			continue
		}
		pick := append([]int(nil), pl.Pick...)
		pick[i] = 0
		note.Why = x.why(pick, own)
		out = append(out, note)
	}
	return out, nil
}

// note says what an alternative of a choice changes, without a why.
func (p *Problem) note(i, a int) ChangeNote {
	c := &p.Choices[i]
	note := ChangeNote{Kind: c.Kind, What: c.ID, To: c.Alternatives[a].Label, Cost: c.Alternatives[a].Cost, From: c.Alternatives[0].Label}
	switch from := c.Alternatives[a].From; {
	case c.Build:
		note.From = "no duct"
	case from != "":
		note.From = from
	case note.From == leaveIt:
		note.From = "as it is"
	case c.Run >= 0:
		note.From = describe(p.Base.Spec().Runs[c.Run].Pieces)
	}
	return note
}

// describe says what a run is made of.
func describe(pieces []network.Piece) string {
	words := make([]string, len(pieces))
	for i, p := range pieces {
		words[i] = strings.TrimSpace(p.Size + " " + p.Make.Family)
	}
	return strings.Join(words, " + ")
}

// why names the worst miss of a plan from which one change is taken back, beyond
// what the plan itself misses: that is own.
func (x *search) why(pick []int, own []Shortfall) string {
	if _, _, sold := x.p.Cost(pick); !sold {
		return "its neighbours would not fit: no such joint is sold"
	}
	all, settled := x.misses(pick)
	if !settled {
		return "without it the network does not settle"
	}
	worst, text := 1.0, ""
	for _, m := range all {
		if m.Ratio < worst && beyond(m, own) {
			worst, text = m.Ratio, missed(m)
		}
	}
	switch {
	case text != "":
		return text
	case len(own) > 0:
		return "of little use alone: without it nothing falls short by more"
	}
	return "belongs to the cheapest whole: alone it could be left out at no gain"
}

// misses are what a plan misses; false where the network does not settle.
func (x *search) misses(pick []int) ([]Shortfall, bool) {
	states, err := x.states(pick, x.p.Network(pick))
	var out []Shortfall
	for _, st := range states {
		for _, m := range margins(x.p.Base.Spec(), st.Verdict, st.State.Name, 1) {
			if !network.Meets(m.Ratio) {
				out = append(out, m)
			}
		}
	}
	return out, err == nil
}

// beyond reports whether a miss is not among those of the plan itself, or clearly
// worse than there.
func beyond(m Shortfall, own []Shortfall) bool {
	for _, o := range own {
		if o.Rule == m.Rule && o.State == m.State && o.Tool == m.Tool && o.Run == m.Run {
			return m.Ratio < o.Ratio-littleGain
		}
	}
	return true
}

// missed says in words what goes wrong without a change.
func missed(m Shortfall) string {
	switch m.Rule {
	case TransportRule:
		return fmt.Sprintf("without it air in %s runs at %s %% of transport velocity in %q", m.Run, short(m.Ratio), m.State)
	case CeilingRule:
		return fmt.Sprintf("without it air in %s is above the ceiling in %q", m.Run, m.State)
	case DirectionRule:
		return fmt.Sprintf("without it air in %s runs backward in %q", m.Run, m.State)
	case MotorRule:
		return fmt.Sprintf("without it the motor is overloaded in %q", m.State)
	}
	return fmt.Sprintf("without it %s gets %s %% of its flow in %q", m.Tool, short(m.Ratio), m.State)
}

// littleGain is a share that no gauge shows (our choice).
const littleGain = 1e-3

// short is a ratio below 1 in per cent, never rounded up to 100.
func short(ratio float64) string {
	if p := 100 * ratio; p < 99 {
		return fmt.Sprintf("%.0f", p)
	}
	return fmt.Sprintf("%.1f", math.Floor(1000*ratio)/10)
}
