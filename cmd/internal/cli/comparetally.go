package cli

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"wyewright/network"
	"wyewright/network/units"
	"wyewright/optimize"
)

// worstOf is the worst ratio of what is there to what is asked, of whom and in which state.
type worstOf struct {
	ratio      float64
	who, state string
}

func (w *worstOf) note(ratio float64, who, state string) {
	if ratio < w.ratio {
		*w = worstOf{ratio, who, state}
	}
}

// tally is how an option does over all states.
type tally struct {
	// asked counts the tools of all states, served those that get their flow; met
	// counts the states in which everything holds.
	asked, served, met int
	// least is the least share of flow, slow the least share of transport
	// velocity, fast the worst above the ceiling; the counts are of those that
	// miss.
	least, slow, fast   worstOf
	short, slows, fasts int
	// backward and blown name runs and collectors with the air the wrong way.
	backward, blown []string
	// motor is the one loaded most: ratio is rating over load.
	motor  worstOf
	load   network.MotorVerdict
	motors bool
}

// count fills the tally of an option.
func (r *rival) count() {
	none := worstOf{ratio: math.Inf(1)}
	t := tally{least: none, slow: none, fast: none, motor: none}
	spec := r.n.Spec()
	for _, s := range r.states {
		if s.Verdict.Meets() {
			t.met++
		}
		for _, v := range s.Verdict.Tools {
			if t.asked++; network.Meets(v.Ratio) {
				t.served++
			} else {
				t.short++
			}
			t.least.note(v.Ratio, spec.Tools[v.Tool].ID, s.State.Name)
		}
		for _, d := range s.Verdict.Dust {
			if !network.Meets(d.Ratio) {
				t.slows++
			}
			t.slow.note(d.Ratio, spec.Runs[d.Run].ID, s.State.Name)
		}
		for _, d := range s.Verdict.Fast {
			t.fasts++
			t.fast.note(d.Ratio, spec.Runs[d.Run].ID, s.State.Name)
		}
		for _, run := range s.Verdict.Backward {
			t.backward = append(t.backward, spec.Runs[run].ID+" in "+s.State.Name)
		}
		for _, c := range s.Verdict.Blown {
			t.blown = append(t.blown, spec.Collectors[c].ID+" in "+s.State.Name)
		}
		t.power(s)
	}
	r.tally = t
}

// power notes the load of the motor in a state.
func (t *tally) power(s optimize.StateResult) {
	m := s.Verdict.Motor
	if t.motors = t.motors || m.Checked; !m.Checked || m.Load <= 0 {
		return
	}
	if ratio := float64(m.Rating / m.Load); ratio < t.motor.ratio {
		t.motor, t.load = worstOf{ratio, "", s.State.Name}, m
	}
}

// meets reports whether an option can be had and meets everything.
func (r *rival) meets() bool { return r.off == "" && allMeet(r.states) }

// misses says in words what an option misses, the worst of each kind. In brief it
// leaves out the states, and how often.
func (r *rival) misses(sys units.System, brief bool) []string {
	var out []string
	add := func(n int, state, format string, args ...any) {
		text := fmt.Sprintf(format, args...)
		if !brief && state != "" {
			text += fmt.Sprintf(" in %q", state)
		}
		if !brief && n > 1 {
			text += fmt.Sprintf(" (and %d more)", n-1)
		}
		out = append(out, text)
	}
	if r.short > 0 {
		add(r.short, r.least.state, "%s gets %s %% of its flow", r.least.who, percent(r.least.ratio))
	}
	if len(r.backward) > 0 {
		add(len(r.backward), "", "air runs backward in %s", r.backward[0])
	}
	if len(r.blown) > 0 {
		add(len(r.blown), "", "air is pulled backward through %s", r.blown[0])
	}
	if r.slows > 0 {
		add(r.slows, r.slow.state, "dust may settle in %s at %s %% of its transport velocity", r.slow.who, percent(r.slow.ratio))
	}
	if r.fasts > 0 {
		add(r.fasts, r.fast.state, "air in %s is above the ceiling", r.fast.who)
	}
	if r.load.Checked && !r.load.OK() {
		add(1, r.motor.state, "the motor is overloaded, %s of %s", r.load.Load.Text(sys), r.load.Rating.Text(sys))
	}
	return out
}

// verdict says in words how an option does.
func (r *rival) verdict(sys units.System) string {
	misses := "misses: " + strings.Join(r.misses(sys, false), "; ")
	switch {
	case r.off != "":
		return "cannot be had: " + r.off
	case r.meets():
		return "meets everything"
	case r.failed:
		return r.status + ": the plan that comes closest " + misses
	}
	return misses
}

// toolState is a tool that runs in a state.
type toolState struct{ state, tool string }

// toolStates are those of all options, in the order of the first that has them.
func (s *comparison) toolStates() []toolState {
	var out []toolState
	for _, r := range s.shown() {
		spec := r.n.Spec()
		for _, st := range r.states {
			for _, v := range st.Verdict.Tools {
				if x := (toolState{st.State.Name, spec.Tools[v.Tool].ID}); !slices.Contains(out, x) {
					out = append(out, x)
				}
			}
		}
	}
	return out
}

// tool is how a tool does in a state of an option, nil where it does not run.
func (r *rival) tool(x toolState) *network.ToolVerdict {
	spec := r.n.Spec()
	for i := range r.states {
		if r.states[i].State.Name != x.state {
			continue
		}
		for k, v := range r.states[i].Verdict.Tools {
			if spec.Tools[v.Tool].ID == x.tool {
				return &r.states[i].Verdict.Tools[k]
			}
		}
	}
	return nil
}

// shown are the options that can be had.
func (s *comparison) shown() []*rival {
	return slices.DeleteFunc(slices.Clone(s.rivals), func(r *rival) bool { return r.off != "" })
}

// some refuses a comparison in which nothing that was asked for can be had.
func (s *comparison) some() error {
	var why []string
	for _, r := range s.rivals {
		if r.off == "" && !r.asFound && !r.free {
			return nil
		}
		if r.off != "" {
			why = append(why, r.name+": "+r.off)
		}
	}
	return fail(Usage, errors.New("nothing of what is to be compared can be had: "+strings.Join(why, "; ")), "take sizes and families that are sold and have a price")
}

// finish counts how the options do.
func (s *comparison) finish() {
	for _, r := range s.shown() {
		r.count()
	}
}
